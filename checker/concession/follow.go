package concession

import (
	"slices"

	"corerod/checker"
	"corerod/parts/form"
	"corerod/parts/source"
	"corerod/parts/subject"
	"corerod/rules"
)

// Follow lets records go on through the changes that a comparison with an earlier review found, which rename features or move
// files; marks what a record says may be made after pressing, and the parts that may go; and finds the status anew.
func Follow(r *checker.Review) {
	for _, p := range r.Parts {
		if p.Was == nil || p.Force.Concede == nil {
			continue
		}
		r.Graded[p.Grade]--
		follow(p.Force.Concede, p, p.Was, func() bool { return alone(r, p, p.Was) })
		r.Graded[p.Grade]++
	}
	for i := range r.Against.Gone {
		g := &r.Against.Gone[i]
		g.Concession = goneBy(r, g.EarlierPart)
	}
	r.Conclude()
}

// follow lets the records of a part go on, and marks what may be made after pressing.
func follow(c *checker.Concessions, r *checker.PartReview, was *checker.EarlierPart, alone func() bool) {
	for _, f := range r.Findings {
		old := f.Was
		if old == nil || f.Conceded() {
			continue
		}
		goesOn(c, r, was, f, old, alone)
		expired := f.Concession != nil && f.Concession.State == checker.Expired // by the calendar, not by the change
		if old.Conceded && !f.Conceded() && !expired {
			f.Since = checker.SinceWorse
		}
	}
	for i := range r.Restated {
		if s := &r.Restated[i]; s.Feature != nil {
			s.Concession = machined(c, r, s.Feature)
			s.Counts = s.Concession == nil || s.Concession.State != checker.Covering
		}
	}
	r.Regrade()
}

// goesOn finds the record of a finding under the names that it had.
func goesOn(c *checker.Concessions, r *checker.PartReview, was *checker.EarlierPart, f *checker.Finding, old *checker.EarlierFinding,
	alone func() bool) {
	for _, x := range c.Records {
		if x.Part != was.Part || !wasFor(x, old) || x.File != "" && x.File != pathOf(c, was.File) ||
			x.File != "" && was.File != r.File && !alone() {
			continue
		}
		if isFor(x, f) && (x.File == "" || x.File == pathOf(c, r.File)) {
			continue // it was held against the finding as it is
		}
		k := stateOf(c, x, r, f, renamed(was, r))
		if k.State == checker.Covering {
			next := *x
			next.Kind, next.Name, next.File = judged(f).Kind().Name, judged(f).Place().Name, pathOf(c, r.File)
			next.Accepted, next.Listed = acceptedOf(f), true
			k.Next = &next
		}
		r.Concessions = slices.DeleteFunc(r.Concessions, func(y *checker.Conceded) bool { return y.Concession == x })
		f.Concession = k
		r.Concessions = append(r.Concessions, k)
		return
	}
}

// renamed are the features of a part that have another name than before.
func renamed(was *checker.EarlierPart, is *checker.PartReview) renames {
	names, _ := form.Renames(was.States.Drawn, is.States.Drawn)
	if names == nil {
		return renames{}
	}
	return names
}

// wasFor tells whether a record is for a finding as it was.
func wasFor(x *checker.Concession, f *checker.EarlierFinding) bool {
	is := func(s subject.Spot) bool { return s.Kind == x.Kind && s.Name == x.Name }
	return f.Rule == x.Rule && (f.Kind == x.Kind && f.Name == x.Name || slices.ContainsFunc(f.On, is) ||
		slices.ContainsFunc(f.Compared, func(e rules.Compared) bool { return isEntry(x, e) }))
}

// machined is the record that a feature may be made after pressing; nil for none.
func machined(c *checker.Concessions, r *checker.PartReview, d *form.Drawn) *checker.Conceded {
	for _, x := range c.Records {
		if x.Rule != checker.NewlyMachined || x.Part != r.Part.Name || x.Name != d.Name || x.File != "" && x.File != pathOf(c, r.File) {
			continue
		}
		if k := ended(c, x, r.Part.Name, r.Part.Drawing, r.Part.Revision); k != nil {
			return k
		}
		if x.Shape != d.Digest() {
			return &checker.Conceded{Concession: x, State: checker.Exceeded, Says: "its shape is another than was agreed to"}
		}
		return &checker.Conceded{Concession: x, State: checker.Covering}
	}
	return nil
}

// gone is the record that a part may go; nil for none.
func gone(c *checker.Concessions, p *checker.EarlierPart) *checker.Conceded {
	if c == nil {
		return nil
	}
	for _, x := range c.Records {
		if x.Rule != checker.PartGone || x.Part != p.Part || x.File != "" && x.File != pathOf(c, p.File) {
			continue
		}
		if k := ended(c, x, p.Part, p.Drawing, p.Revision); k != nil {
			return k
		}
		if x.Shape != p.States.Shape {
			return &checker.Conceded{Concession: x, State: checker.Exceeded, Says: "the part is drawn otherwise than was agreed to"}
		}
		return &checker.Conceded{Concession: x, State: checker.Covering}
	}
	return nil
}

// goneBy is the record that a part may go, of any force; nil for none. The file that a record names is where the part stood.
func goneBy(r *checker.Review, p *checker.EarlierPart) (k *checker.Conceded) {
	for _, f := range r.Forces {
		if x := gone(f.Concede, p); x != nil && (k == nil || x.State == checker.Covering) {
			k = x
		}
	}
	return k
}

// alone tells whether a part that stood elsewhere is the only one that goes on from there: nothing else has taken its place, and
// no other new part has its name and drawing.
func alone(r *checker.Review, p *checker.PartReview, was *checker.EarlierPart) bool {
	for _, q := range r.Parts {
		if q != p && (q.File == was.File || q.Part.Name == was.Part && q.Part.Drawing == was.Drawing) {
			return false
		}
	}
	return !slices.ContainsFunc(r.Unread, func(u source.Problem) bool { return u.File == was.File })
}
