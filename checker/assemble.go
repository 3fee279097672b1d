package checker

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"slices"
	"strings"

	"corerod/parts"
	"corerod/parts/blank"
	"corerod/parts/source"
	"corerod/parts/subject"
	"corerod/rules"
)

// narrowest is the number of narrowly met limits that a report names.
const narrowest = 5

// Assemble puts places, ids and the grade to what the rules found on a part; the problems are faults of packs.
func Assemble(d *Derived, out *rules.Outcome) (*PartReview, source.Problems) {
	p := d.Part
	r := &PartReview{File: p.File, Part: p, Subject: d.Subject, Layout: d.Layout}
	for _, j := range out.Account {
		if j.Counts() {
			r.Applied++
		} else {
			r.NotApplicable++
		}
	}
	for i := range out.Findings {
		f := &Finding{Finding: out.Findings[i]}
		f.At, f.Related = places(p, f.Subject)
		f.ID = identity(p, &f.Finding)
		f.Places = slices.Clone(f.Subject.Place().Places)
		if g := slices.IndexFunc(r.Findings, f.Groups); g >= 0 {
			r.Findings[g].join(f)
			continue
		}
		r.Findings = append(r.Findings, f)
		if r.Grade == "" || f.Grade.Worse(r.Grade) {
			r.Grade = f.Grade
		}
	}
	slices.SortStableFunc(r.Findings, ByPlace)
	var faults source.Problems
	for _, f := range out.Faults {
		faults = append(faults, source.Problem{File: f.File, Line: f.Line, Column: f.Column,
			Message: fmt.Sprintf("%s (judged on %s; it is not taken as passed)", f.Message, p.File)})
	}
	return r, faults
}

// places returns where the features of a subject stand: the one declared last, then the others.
func places(p *parts.Part, s subject.Subject) (at parts.Place, related []parts.Place) {
	switch s.Kind() {
	case subject.PartKind:
		return p.Place, nil
	case subject.PowderKind:
		return p.Material.Place, nil
	}
	var all []parts.Place
	if s.Kind() == subject.DimensionKind {
		for i := range p.Dimensions {
			if d := &p.Dimensions[i]; d.Name == s.Place().Name {
				return d.Place, nil
			}
		}
	}
	for _, name := range s.Place().Features {
		if pl, ok := p.PlaceOf(name); ok {
			all = append(all, pl)
		}
	}
	if len(all) == 0 {
		return p.Place, nil
	}
	slices.SortStableFunc(all, func(a, b parts.Place) int {
		return cmp.Or(cmp.Compare(a.Line, b.Line), cmp.Compare(a.Column, b.Column))
	})
	return all[len(all)-1], all[:len(all)-1]
}

// identity is a fingerprint of part, rule, subject and features: the same finding keeps it when lines move.
func identity(p *parts.Part, f *rules.Finding) string {
	h := sha256.New()
	for _, t := range append([]string{p.Name, f.Rule.Name, f.Subject.Kind().Name, f.Subject.Place().Name}, f.Subject.Place().Features...) {
		fmt.Fprintf(h, "%d:%s;", len(t), t)
	}
	return hex.EncodeToString(h.Sum(nil)[:8])
}

// notJudged are the dimensions that no rule in force applies to, and what is not known of the powder.
func notJudged(d *Derived, out *rules.Outcome) (all []NotJudged) {
	for _, x := range d.Subject.Dimensions {
		if out.Judged(x) {
			continue
		}
		at, _ := places(d.Part, x)
		why := "no rule in force reads this " + x.Form
		if x.MadeBy != "pressing" {
			why = "it is made by " + x.MadeBy + " after sintering"
		}
		all = append(all, NotJudged{x.Name, why, at})
	}
	for _, u := range d.Layout.Unknown {
		what, why, _ := strings.Cut(u, " not known: ")
		what = strings.TrimSuffix(strings.TrimSuffix(what, " is"), " are")
		at := d.Part.Material.Place
		if d.Part.Material.Name == "" && d.Part.Material.Density == 0 {
			at = d.Part.Place
		}
		all = append(all, NotJudged{what, why, at})
	}
	return all
}

// unblended names the blends that volume and drawings do not show everywhere.
func unblended(d *Derived) (ns []Note) {
	for i := range d.Part.Blends {
		if b := &d.Part.Blends[i]; slices.Contains(d.Layout.Unblended(), b.Name) {
			const says = "the blend %s is left out of volume, mass and drawings where a slope comes to its corner"
			ns = append(ns, Note{fmt.Sprintf(says, b.Name), "part", d.Part.Name, b.Place})
		}
	}
	return ns
}

// notes name the operations after pressing, and what the part file asks that no pack answers.
func notes(p *parts.Part, book *rules.Book) (ns []Note) {
	for _, c := range p.Cuts {
		if c.MadeBy != "pressing" {
			ns = append(ns, Note{fmt.Sprintf("%s is cut by %s after sintering; the pressed shape is judged without it", c.Name, c.MadeBy),
				"cut", c.Name, c.Place})
		}
	}
	for _, b := range p.Bodies {
		for _, k := range []struct {
			face string
			off  float64
		}{{"top", b.Stock.Top}, {"bottom", b.Stock.Bottom}} {
			if k.off > 0 {
				const form = "%s stands out by %.4g mm at its %s, which is ground off after sintering; the pressed shape is judged with it"
				says := fmt.Sprintf(form, b.Name, k.off, k.face)
				ns = append(ns, Note{says, "body", b.Name, b.Place})
			}
		}
	}
	for i := range p.Sides {
		if s := &p.Sides[i]; s.MadeBy != "pressing" {
			ns = append(ns,
				Note{fmt.Sprintf("%s, a %s across the axis, is made by %s after sintering", s.Name, s.Kind, s.MadeBy), "crossing",
					s.Name, s.Place})
		}
	}
	for i := range p.Marks {
		if m := &p.Marks[i]; m.MadeBy != "pressing" {
			ns = append(ns, Note{fmt.Sprintf("%s, a mark, is made by %s after sintering", m.Name, m.MadeBy), "mark", m.Name, m.Place})
		}
	}
	for _, f := range p.Features() {
		if blank.Mitres(p, f) {
			kind := "body"
			if slices.Contains(p.Cuts, f) {
				kind = "cut"
			}
			const says = "the draft of %s takes a corner radius away before its narrow end; the corner is sharp from there on"
			ns = append(ns, Note{fmt.Sprintf(says, f.Name), kind, f.Name, f.Place})
		}
	}
	if len(p.Edges)+len(p.Marks) > 0 {
		says := "volume and mass count edges and marks, a mark as its whole box; walls, columns and punches are measured without them"
		ns = append(ns, Note{says, "part", p.Name, p.Place})
	}
	if m := p.Material; m.Name != "" {
		if _, known := book.Material(m.Name); known {
			return ns
		}
		ns = append(ns, Note{fmt.Sprintf("no pack in force has the material %s: pressure, force and density spread are not known", m.Name),
			"part", p.Name, m.Place})
	}
	return ns
}
