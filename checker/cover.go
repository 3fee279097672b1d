package checker

import (
	"bytes"
	"cmp"
	"fmt"
	"math"
	"slices"

	"corerod/parts/form"
	"corerod/parts/subject"
	"corerod/rules"
)

// cover marks the findings of a part that a record is for, and finds the part's grade anew: conceded findings do not count.
func (c *Concessions) cover(r *PartReview) {
	if c == nil {
		return
	}
	for _, x := range c.Records {
		if x.Part != r.Part.Name || !x.OfFinding() {
			continue
		}
		i := slices.IndexFunc(r.Findings, x.isFor)
		switch {
		case x.File != "" && x.File != c.at(r.File):
			if i >= 0 && r.Findings[i].Concession == nil {
				r.Concessions = append(r.Concessions, &Conceded{Concession: x, State: Unused, Says: "it is for the file " + x.File})
			}
		case i < 0:
			r.Concessions = append(r.Concessions, &Conceded{Concession: x, State: Unused, Says: "the part has no such finding"})
		default:
			k := c.of(x, r, r.Findings[i], nil)
			r.Findings[i].Concession = k
			r.Concessions = append(r.Concessions, k)
		}
	}
	r.regrade()
}

// regrade finds the grade of a part from the findings that are not conceded.
func (r *PartReview) regrade() {
	r.Grade = ""
	for _, f := range r.Findings {
		if !f.Conceded() && (r.Grade == "" || f.Grade.Worse(r.Grade)) {
			r.Grade = f.Grade
		}
	}
}

// NeedsDoubled tells whether a record names no file: then it matters which parts share their names.
func (c *Concessions) NeedsDoubled() bool {
	return slices.ContainsFunc(c.Records, func(x *Concession) bool { return x.File == "" })
}

// Parts are the names of the parts that records are for.
func (c *Concessions) Parts() (all []string) {
	for _, x := range c.Records {
		all = append(all, x.Part)
	}
	return all
}

// Doubled reads which of some parts stand in two files with one name, drawing and revision.
func Doubled(files []File, names []string) func(part, drawing, revision string) bool {
	count := map[[3]string]int{}
	for _, f := range files {
		b, ps := f.read()
		if len(ps) > 0 || !slices.ContainsFunc(names, func(n string) bool { return bytes.Contains(b, []byte(n)) }) {
			continue
		}
		if p, _ := form.Parse(f.Name, b); p != nil {
			count[[3]string{p.Name, p.Drawing, p.Revision}]++
		}
	}
	return func(part, drawing, revision string) bool { return count[[3]string{part, drawing, revision}] > 1 }
}

func (c *Concessions) at(file string) string {
	if c.At == nil {
		return file
	}
	return c.At(file)
}

// Conceded tells whether a concession covers the finding, so that it does not count.
func (f *Finding) Conceded() bool { return f.Concession != nil && f.Concession.State == Covering }

// isFor tells whether a record is for a finding: it names what was judged, or one of those that failed.
func (x *Concession) isFor(f *Finding) bool {
	is := func(s subject.Subject) bool { return s.Kind().Name == x.Kind && s.Place().Name == x.Name }
	return f.Rule.Name == x.Rule && (is(f.Subject) || is(f.Over) || slices.ContainsFunc(f.Alike, func(g *rules.Finding) bool { return is(g.Subject) }) ||
		slices.ContainsFunc(f.Entries(), x.isEntry))
}

func (x *Concession) isEntry(c rules.Compared) bool {
	return c.Of != nil && c.Of.Kind == x.Kind && c.Of.Name == x.Name
}

// of says what became of the record for a finding. The names are those of features that were renamed since it was made.
func (c *Concessions) of(x *Concession, r *PartReview, f *Finding, d *redrawing) *Conceded {
	if k := c.ends(x, r.Part.Name, r.Part.Drawing, r.Part.Revision); k != nil {
		return k
	}
	if n := len(f.Places); n > x.Places {
		return &Conceded{Concession: x, State: Exceeded, Says: fmt.Sprintf("it stands at %d places, accepted were %d", n, x.Places)}
	}
	if says := x.exceeded(f, d); says != "" {
		return &Conceded{Concession: x, State: Exceeded, Says: says}
	}
	return &Conceded{Concession: x, State: Covering}
}

// ends says why a record is no longer for a part; nil where it is.
func (c *Concessions) ends(x *Concession, part, drawing, revision string) *Conceded {
	switch {
	case x.Until < c.today:
		return &Conceded{Concession: x, State: Expired, Says: "it ended on " + x.Until}
	case !c.Keeps && x.Drawing != "" && x.Drawing != drawing:
		return &Conceded{Concession: x, State: Revised, Says: fmt.Sprintf("it is for drawing %s", x.Drawing)}
	case !c.Keeps && x.Revision != "" && x.Revision != revision:
		return &Conceded{Concession: x, State: Revised, Says: fmt.Sprintf("it is for revision %s", x.Revision)}
	case x.File == "" && c.Doubled != nil && c.Doubled(part, drawing, revision):
		return &Conceded{Concession: x, State: Unused, Says: "two part files have this name, drawing and revision; give the record the `file` that it is for"}
	}
	return nil
}

// exceeded says in what a finding is further from its need than was accepted; "" where it is not.
func (x *Concession) exceeded(f *Finding, d *redrawing) string {
	type key struct{ of, to, measure string }
	failed := map[key][]*rules.Compared{}
	var order []key
	entries := f.Entries()
	for i := range entries {
		k := key{measure: entries[i].Measure}
		if entries[i].Of != nil && x.Listed {
			k.of = entries[i].Of.Name
			if to := entries[i].To; to != nil {
				k.to = to.Name
			}
		} else if says := x.ofOther(f, d); says != "" {
			return says
		}
		if failed[k] == nil {
			order = append(order, k)
		}
		failed[k] = append(failed[k], &entries[i])
	}
	for _, k := range order {
		if says := x.exceeds(failed[k], x.values(k.of, k.to, k.measure, d)); says != "" {
			return says
		}
	}
	if cross, ok := f.Subject.(*subject.Crossing); ok && x.Listed {
		return x.grown(cross)
	}
	return ""
}

// ofOther says that the record has values of something else than what was judged; "" where it has not.
func (x *Concession) ofOther(f *Finding, d *redrawing) string {
	for _, a := range x.Accepted {
		if a.Of != "" && !d.is(a.Of, x.Name) {
			return fmt.Sprintf("its values are of %s, and its subject is %s", a.Of, x.Name)
		}
	}
	return ""
}

// values are those that were accepted of a measure; of one element, or of two, where these are named.
func (x *Concession) values(of, to, measure string, d *redrawing) (all []any) {
	for _, a := range x.Accepted {
		if a.Measure == measure && (of == "" || d.is(a.Of, of)) && (to == "" || d.is(a.To, to)) {
			all = append(all, a.Value)
		}
	}
	return all
}

// is tells whether a subject that was named so is the one that has a name now.
func (d *redrawing) is(was, now string) bool {
	return was == now || d != nil && slices.Equal(d.words(was, true), d.words(now, false))
}

// exceeds says how measured values are further from their need than was accepted, in the need's own direction: the worst is held
// against the worst. "" where none is.
func (x *Concession) exceeds(failed []*rules.Compared, accepted []any) string {
	c := failed[0]
	switch {
	case len(accepted) == 0:
		return fmt.Sprintf("no value of %s was accepted", called(c))
	case len(failed) > len(accepted):
		return fmt.Sprintf("%s fails for %d, accepted was %d", called(c), len(failed), len(accepted))
	}
	slices.SortStableFunc(failed, func(a, b *rules.Compared) int { return cmp.Compare(lacking(b, c.Limit), lacking(a, c.Limit)) })
	slices.SortStableFunc(accepted, func(a, b any) int {
		p, q := *c, *c
		p.Value, q.Value = a, b
		return cmp.Compare(lacking(&q, c.Limit), lacking(&p, c.Limit))
	})
	for i, v := range failed {
		if !noFurther(v, accepted[i]) {
			return fmt.Sprintf("%s is %v, accepted was %v", called(v), v.Value, accepted[i])
		}
	}
	return ""
}

// called names what was measured, and of what where it is an element of a list.
func called(c *rules.Compared) string {
	if c.Of == nil {
		return c.Measure
	}
	if c.To == nil {
		return c.Measure + " of " + c.Of.Name
	}
	return c.Measure + " of " + c.Of.Name + " to " + c.To.Name
}

// lacking is how far a value is from the side on which it is needed, in the need's own direction.
func lacking(c *rules.Compared, limit any) float64 {
	v, number := c.Value.(float64)
	w, other := limit.(float64)
	if !number || !other {
		return 0
	}
	switch c.Needs {
	case ">=", ">":
		return w - v
	case "<=", "<":
		return v - w
	}
	return math.Abs(v - w)
}

// noFurther tells whether a measured value is no further from its need than one that was accepted.
func noFurther(c *rules.Compared, accepted any) bool {
	v, number := c.Value.(float64)
	w, other := accepted.(float64)
	if !number || !other {
		return fmt.Sprint(c.Value) == fmt.Sprint(accepted)
	}
	further := math.Abs(v - w)
	switch limit, ok := c.Limit.(float64); {
	case c.Needs == ">=" || c.Needs == ">":
		further = w - v
	case c.Needs == "<=" || c.Needs == "<":
		further = v - w
	case c.Needs == "==" && ok:
		further = math.Abs(v-limit) - math.Abs(w-limit)
	}
	return further <= noFurtherBy
}

// crossMeasures are what a record keeps of a feature across the axis: its size, which may not grow, and its direction and place.
var crossMeasures = []string{"width", "depth", "toward", "x", "y", "z_low", "z_high"}

// grown says how a feature across the axis is larger, turned or elsewhere than was accepted; "" where it is not.
func (x *Concession) grown(s *subject.Crossing) string {
	was := map[string]float64{}
	if kind := x.values("", "", "crossing.kind", nil); len(kind) > 0 && kind[0] != any(s.Form) {
		return fmt.Sprintf("it is a %s, accepted was a %v", s.Form, kind[0])
	}
	for _, name := range crossMeasures {
		v, known := subject.CrossingKind.Field(name).Number(s)
		if !known && len(x.values("", "", "crossing."+name, nil)) > 0 {
			return fmt.Sprintf("it has no crossing.%s, and one was accepted", name)
		}
		if !known {
			continue
		}
		accepted := x.values("", "", "crossing."+name, nil)
		w, number := 0.0, false
		if len(accepted) > 0 {
			w, number = accepted[0].(float64)
		}
		by := v - w
		switch was[name] = w; name {
		case "toward", "x", "y":
			by = math.Abs(by)
		case "z_low":
			continue // its middle counts: a smaller one has other ends
		case "z_high":
			v, w = (s.ZLow+s.ZHigh)/2, (was["z_low"]+w)/2
			by, name = math.Abs(v-w), "z"
		}
		switch {
		case !number:
			return fmt.Sprintf("no value of crossing.%s was accepted", name)
		case by > noFurtherBy:
			return fmt.Sprintf("crossing.%s is %v, accepted was %v", name, v, w)
		}
	}
	return ""
}

// follow lets the records of a part go on through a change that renames its features or moves its file, and marks what a record
// says may be made after pressing.
func (c *Concessions) follow(r *PartReview, was *EarlierPart, alone func() bool) {
	if c == nil {
		return
	}
	for i, f := range r.Findings {
		old := r.matched[i]
		if old == nil || f.Conceded() {
			continue
		}
		c.goesOn(r, was, f, old, alone)
		expired := f.Concession != nil && f.Concession.State == Expired // by the calendar, not by the change
		if old.Conceded && !f.Conceded() && !expired {
			f.Since = SinceWorse
		}
	}
	for i := range r.Restated {
		if s := &r.Restated[i]; s.feature != nil {
			s.Concession = c.machined(r, s.feature)
			s.Counts = s.Concession == nil || s.Concession.State != Covering
		}
	}
	r.regrade()
}

// goesOn finds the record of a finding under the names that it had.
func (c *Concessions) goesOn(r *PartReview, was *EarlierPart, f *Finding, old *EarlierFinding, alone func() bool) {
	for _, x := range c.Records {
		if x.Part != was.Part || !x.wasFor(old) || x.File != "" && x.File != c.at(was.File) || x.File != "" && was.File != r.File && !alone() {
			continue
		}
		if x.isFor(f) && (x.File == "" || x.File == c.at(r.File)) {
			continue // it was held against the finding as it is
		}
		k := c.of(x, r, f, r.redrawing)
		if k.State == Covering {
			next := *x
			next.Kind, next.Name, next.File = f.judged().Kind().Name, f.judged().Place().Name, c.at(r.File)
			next.Accepted, next.Listed = acceptedOf(f), true
			k.Next = &next
		}
		r.Concessions = slices.DeleteFunc(r.Concessions, func(y *Conceded) bool { return y.Concession == x })
		f.Concession = k
		r.Concessions = append(r.Concessions, k)
		return
	}
}

// wasFor tells whether a record is for a finding as it was.
func (x *Concession) wasFor(f *EarlierFinding) bool {
	is := func(s subject.Spot) bool { return s.Kind == x.Kind && s.Name == x.Name }
	return f.Rule == x.Rule && (f.Kind == x.Kind && f.Name == x.Name || slices.ContainsFunc(f.On, is) || slices.ContainsFunc(f.Compared, x.isEntry))
}

// machined is the record that a feature may be made after pressing; nil for none.
func (c *Concessions) machined(r *PartReview, d *form.Drawn) *Conceded {
	for _, x := range c.Records {
		if x.Rule != NewlyMachined || x.Part != r.Part.Name || x.Name != d.Name || x.File != "" && x.File != c.at(r.File) {
			continue
		}
		if k := c.ends(x, r.Part.Name, r.Part.Drawing, r.Part.Revision); k != nil {
			return k
		}
		if x.Shape != d.Digest() {
			return &Conceded{Concession: x, State: Exceeded, Says: "its shape is another than was agreed to"}
		}
		return &Conceded{Concession: x, State: Covering}
	}
	return nil
}

// gone is the record that a part may go; nil for none.
func (c *Concessions) gone(p *EarlierPart) *Conceded {
	if c == nil {
		return nil
	}
	for _, x := range c.Records {
		if x.Rule != PartGone || x.Part != p.Part || x.File != "" && x.File != c.at(p.File) {
			continue
		}
		if k := c.ends(x, p.Part, p.Drawing, p.Revision); k != nil {
			return k
		}
		if x.Shape != p.States.Shape {
			return &Conceded{Concession: x, State: Exceeded, Says: "the part is drawn otherwise than was agreed to"}
		}
		return &Conceded{Concession: x, State: Covering}
	}
	return nil
}
