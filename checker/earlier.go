package checker

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"slices"
	"strings"

	"corerod/parts"
	"corerod/parts/source"
	"corerod/rules"
)

// Earlier is an earlier review to compare with.
type Earlier struct {
	From  string // the folder or file that it comes from
	Packs []EarlierPack
	Parts []EarlierPart
}

// EarlierPack is a pack that was in force.
type EarlierPack struct{ Name, SHA256 string }

// EarlierPart is a part as it was.
type EarlierPart struct {
	File, Part string
	States     States
	Findings   []EarlierFinding
}

// EarlierFinding is a finding as it was.
type EarlierFinding struct {
	ID, Rule, Kind, Name string
	Features             []string
	Grade                rules.Grade
	Places               int
	Compared             []rules.Compared
}

// States are what a part file declares that rules take as given.
type States struct {
	Material string   // its name; "" for none
	Density  float64  // g/cm3, 0 for none
	Quantity float64  // 0 for none
	Pressing string   //
	Sized    bool     //
	Seats    []string //
	Hold     []string //
	Later    []Later  // what is made after pressing
}

// Later is a feature made by machining or sizing, which most rules pass over.
type Later struct {
	By, Feature string
	Shape       string // a digest of what is drawn, in mm to 9 digits: it is another where the shape is
}

// StatesOf gives what a part declares.
func StatesOf(p *parts.Part) States {
	s := States{Material: p.Material.Name, Density: p.Material.Density, Quantity: p.Quantity, Pressing: p.Pressing, Sized: p.Sized, Seats: []string{}, Hold: append([]string{}, p.Hold...), Later: []Later{}}
	for _, x := range p.Seats {
		s.Seats = append(s.Seats, x.Feature+"."+x.Face.Face)
	}
	later := func(by, name string, shape ...any) {
		if by != "pressing" {
			s.Later = append(s.Later, Later{by, name, digest(shape)})
		}
	}
	for _, c := range p.Cuts {
		x := *c
		var draft parts.Draft
		if x.Draft != nil {
			draft = *x.Draft
		}
		x.Extent.Place, x.Repeat.Place, draft.Place = parts.Place{}, parts.Place{}, parts.Place{}
		later(x.MadeBy, x.Name, x.Profile, x.Extent, draft, x.Section, x.Repeat)
	}
	for _, x := range p.Sides {
		x.Place = parts.Place{}
		later(x.MadeBy, x.Name, x.In, x.Size, x)
	}
	for _, x := range p.Marks {
		x.Place, x.Repeat.Place, x.Text = parts.Place{}, parts.Place{}, ""
		later(x.MadeBy, x.Name, x.On.Feature, x)
	}
	slices.Sort(s.Hold)
	slices.SortFunc(s.Later, func(a, b Later) int { return cmp.Or(cmp.Compare(a.By, b.By), cmp.Compare(a.Feature, b.Feature)) })
	return s
}

// digest of what is drawn.
func digest(shape []any) string {
	h := sha256.New()
	for _, x := range shape {
		if name, ok := x.(string); ok {
			fmt.Fprintf(h, "%q\n", name)
		} else {
			fmt.Fprintf(h, "%T %+.9v\n", x, x) // to 9 digits, so that inches give the same
		}
	}
	return hex.EncodeToString(h.Sum(nil)[:8])
}

// EarlierOf turns a review into what a later one is compared with.
func EarlierOf(r *Review, from string) *Earlier {
	e := &Earlier{From: from}
	for _, p := range rules.InForce(r.Packs) {
		e.Packs = append(e.Packs, EarlierPack{p.Name, p.Digest})
	}
	for _, p := range r.Parts {
		x := EarlierPart{File: p.File, Part: p.Part.Name, States: StatesOf(p.Part)}
		for _, f := range p.Findings {
			c := f.Subject.Place()
			x.Findings = append(x.Findings, EarlierFinding{f.ID, f.Rule.Name, f.Subject.Kind().Name, c.Name, c.Features, f.Grade, max(1, len(f.Places)), f.Compared})
		}
		e.Parts = append(e.Parts, x)
	}
	return e
}

// Since is what became of a finding since an earlier review.
type Since string

// What may have become of it; "" where there is no earlier review.
const (
	SinceNew   Since = "new"
	SinceWorse Since = "worsened"
	SinceSame  Since = "unchanged"
)

// Against is a review's comparison with an earlier one.
type Against struct {
	From        string
	PacksDiffer bool
	Gone        []EarlierPart // parts that are there no more
	Parts       int           // that it has
}

// Restated is a statement of a part file that is another than before. One that counts takes something out of the rules' sight.
type Restated struct {
	What, From, To string
	Counts         bool
}

// CompareWith marks each finding of a review as new, worsened or unchanged since an earlier one, lists what is cleared and gone,
// and finds the status anew: only new and worsened findings count.
func (r *Review) CompareWith(e *Earlier, moved func(file string) string) {
	a := &Against{From: e.From, Parts: len(e.Parts)}
	var packs []EarlierPack
	for _, p := range rules.InForce(r.Packs) {
		packs = append(packs, EarlierPack{p.Name, p.Digest})
	}
	a.PacksDiffer = !slices.Equal(packs, e.Packs)
	taken := make([]bool, len(e.Parts))
	for i, at := range e.pair(r.Parts, moved) {
		if p := r.Parts[i]; at >= 0 {
			taken[at] = true
			p.since(&e.Parts[at])
		} else {
			p.since(&EarlierPart{States: StatesOf(p.Part)})
		}
	}
	for i, was := range taken {
		unread := func(u string) bool { return moved(u) == e.Parts[i].File }
		if !was && !slices.ContainsFunc(r.Unread, func(u source.Problem) bool { return unread(u.File) }) {
			a.Gone = append(a.Gone, e.Parts[i])
		}
	}
	r.Against = a
	r.Status = r.status()
}

// pair finds each part among the earlier ones: by its name and place, by its name, by its place. -1 for none.
func (e *Earlier) pair(parts []*PartReview, moved func(string) string) []int {
	there := make([]string, len(parts))
	for i, p := range parts {
		there[i] = moved(p.File)
	}
	named := func(i, k int) bool { return parts[i].Part.Name == e.Parts[k].Part }
	placed := func(i, k int) bool { return there[i] == e.Parts[k].File }
	return pairs(len(parts), len(e.Parts), func(i, k int) bool { return named(i, k) && placed(i, k) }, named, placed)
}

// pairs finds for each of n things one of m others, each of which is taken once: for all of them by the first likeness, for
// those that are left by the next. -1 for none.
func pairs(n, m int, likenesses ...func(i, k int) bool) []int {
	of, taken := make([]int, n), make([]bool, m)
	for i := range of {
		of[i] = -1
	}
	for _, like := range likenesses {
		for i := range of {
			for k := 0; of[i] < 0 && k < m; k++ {
				if !taken[k] && like(i, k) {
					of[i], taken[k] = k, true
				}
			}
		}
	}
	return of
}

// pair finds each finding of a part among those that it had, of the same rule: by its id, by its subject's kind and name, by
// its features. -1 for none.
func (was *EarlierPart) pair(findings []*Finding) []int {
	of := func(is func(f *Finding, x *EarlierFinding) bool) func(i, k int) bool {
		return func(i, k int) bool {
			f, x := findings[i], &was.Findings[k]
			return f.Rule.Name == x.Rule && is(f, x)
		}
	}
	return pairs(len(findings), len(was.Findings),
		of(func(f *Finding, x *EarlierFinding) bool { return f.ID == x.ID }),
		of(func(f *Finding, x *EarlierFinding) bool {
			return f.Subject.Kind().Name == x.Kind && f.Subject.Place().Name == x.Name
		}),
		of(func(f *Finding, x *EarlierFinding) bool { return slices.Equal(f.Subject.Place().Features, x.Features) }))
}

// since compares a part with what it was.
func (p *PartReview) since(was *EarlierPart) {
	taken := make([]bool, len(was.Findings))
	for k, i := range was.pair(p.Findings) {
		f := p.Findings[k]
		switch {
		case i < 0:
			f.Since = SinceNew
		case f.worseThan(&was.Findings[i]):
			f.Since = SinceWorse
		default:
			f.Since = SinceSame
		}
		if i >= 0 {
			taken[i] = true
		}
	}
	for i, x := range was.Findings {
		if !taken[i] {
			p.Cleared = append(p.Cleared, x)
		}
	}
	p.Restated = restated(was.States, StatesOf(p.Part))
}

// worseThan tells whether a finding is of a worse grade than before, misses by more, or stands at more places.
func (f *Finding) worseThan(was *EarlierFinding) bool {
	now, _ := missing(&f.Finding)
	before, _ := missing(&rules.Finding{Compared: was.Compared})
	return f.Grade.Worse(was.Grade) || f.Grade == was.Grade && (now > before+1e-9 || len(f.Places) > max(1, was.Places))
}

// restated lists what two versions of a part declare differently.
func restated(was, is States) (all []Restated) {
	say := func(what string, a, b any, counts bool) {
		if x, y := fmt.Sprint(a), fmt.Sprint(b); x != y {
			all = append(all, Restated{what, x, y, counts})
		}
	}
	say("material", cmp.Or(was.Material, "none"), cmp.Or(is.Material, "none"), false)
	say("density", orNone(was.Density, "g/cm3"), orNone(is.Density, "g/cm3"), false)
	say("quantity", orNone(was.Quantity, "a year"), orNone(is.Quantity, "a year"), false)
	say("pressing", was.Pressing, is.Pressing, false)
	say("sized", was.Sized, is.Sized, false)
	say("seats", list(was.Seats), list(is.Seats), false)
	say("hold", list(was.Hold), list(is.Hold), false)
	for _, x := range is.Later {
		i := slices.IndexFunc(was.Later, func(y Later) bool { return y.By == x.By && y.Feature == x.Feature })
		switch made := x.By + " " + x.Feature; {
		case i < 0:
			all = append(all, Restated{"made after pressing", "", made, true})
		case was.Later[i].Shape != x.Shape:
			all = append(all, Restated{"the shape of what is made after pressing", "", made, true})
		}
	}
	return all
}

func orNone(v float64, unit string) string {
	if v == 0 {
		return "none"
	}
	return fmt.Sprintf("%g %s", v, unit)
}

func list(names []string) string {
	if len(names) == 0 {
		return "none"
	}
	return strings.Join(names, ", ")
}

// counts tells whether a part has something that counts for the status, from a grade on.
func (p *PartReview) counts(from rules.Grade, against bool) bool {
	if !against {
		return p.Grade != "" && !from.Worse(p.Grade)
	}
	if slices.ContainsFunc(p.Restated, func(s Restated) bool { return s.Counts }) {
		return true
	}
	return slices.ContainsFunc(p.Findings, func(f *Finding) bool {
		return f.Since != SinceSame && !f.Conceded() && !from.Worse(f.Grade)
	})
}
