package concession

import (
	"bytes"
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"corerod/checker"
	"corerod/parts/form"
	"corerod/parts/subject"
	"corerod/rules"
)

// Cover is the step of a review that marks the findings of a part that a record is for, by the concessions that hold for the part,
// and finds its grade anew: conceded findings do not count.
func Cover(_ context.Context, r *checker.PartReview, _ []byte) {
	c := r.Force.Concede
	if c == nil {
		return
	}
	for _, x := range c.Records {
		if x.Part != r.Part.Name || !x.OfFinding() {
			continue
		}
		i := slices.IndexFunc(r.Findings, func(f *checker.Finding) bool { return isFor(x, f) })
		switch {
		case x.File != "" && x.File != pathOf(c, r.File):
			if i >= 0 && r.Findings[i].Concession == nil {
				r.Concessions = append(r.Concessions, &checker.Conceded{Concession: x, State: checker.Unused,
					Says: "it is for the file " + x.File})
			}
		case i < 0:
			r.Concessions = append(r.Concessions, &checker.Conceded{Concession: x, State: checker.Unused,
				Says: "the part has no such finding"})
		default:
			k := stateOf(c, x, r, r.Findings[i], nil)
			r.Findings[i].Concession = k
			r.Concessions = append(r.Concessions, k)
		}
	}
	r.Regrade()
}

// NeedsDoubled tells whether a record names no file: then it matters which parts share their names.
func NeedsDoubled(c *checker.Concessions) bool {
	return slices.ContainsFunc(c.Records, func(x *checker.Concession) bool { return x.File == "" })
}

// Parts are the names of the parts that records are for.
func Parts(c *checker.Concessions) (all []string) {
	for _, x := range c.Records {
		all = append(all, x.Part)
	}
	return all
}

// Doubled reads which of some parts stand in two files with one name, drawing and revision.
func Doubled(files []checker.File, names []string) func(part, drawing, revision string) bool {
	count := map[[3]string]int{}
	for _, f := range files {
		b, ps := f.Read()
		if len(ps) > 0 || !slices.ContainsFunc(names, func(n string) bool { return bytes.Contains(b, []byte(n)) }) {
			continue
		}
		if p, _ := form.Parse(f.Name, b); p != nil {
			count[[3]string{p.Name, p.Drawing, p.Revision}]++
		}
	}
	return func(part, drawing, revision string) bool { return count[[3]string{part, drawing, revision}] > 1 }
}

// pathOf is the path of a part file as records have it.
func pathOf(c *checker.Concessions, file string) string {
	if c.At == nil {
		return file
	}
	return c.At(file)
}

// isFor tells whether a record is for a finding: it names what was judged, or one of those that failed.
func isFor(x *checker.Concession, f *checker.Finding) bool {
	is := func(s subject.Subject) bool { return s.Kind().Name == x.Kind && s.Place().Name == x.Name }
	return f.Rule.Name == x.Rule && (is(f.Subject) || is(f.Over) ||
		slices.ContainsFunc(f.Alike, func(g *rules.Finding) bool { return is(g.Subject) }) ||
		slices.ContainsFunc(f.Entries(), func(e rules.Compared) bool { return isEntry(x, e) }))
}

// isEntry tells whether a record is for the element that a comparison is of.
func isEntry(x *checker.Concession, c rules.Compared) bool {
	return c.Of != nil && c.Of.Kind == x.Kind && c.Of.Name == x.Name
}

// stateOf says what became of the record for a finding. The names are those of features that were renamed since it was made.
func stateOf(c *checker.Concessions, x *checker.Concession, r *checker.PartReview, f *checker.Finding, names renames) *checker.Conceded {
	if k := ended(c, x, r.Part.Name, r.Part.Drawing, r.Part.Revision); k != nil {
		return k
	}
	if n := len(f.Places); n > x.Places {
		return &checker.Conceded{Concession: x, State: checker.Exceeded,
			Says: fmt.Sprintf("it stands at %d places, accepted were %d", n, x.Places)}
	}
	if says := exceeded(x, f, names); says != "" {
		return &checker.Conceded{Concession: x, State: checker.Exceeded, Says: says}
	}
	return &checker.Conceded{Concession: x, State: checker.Covering}
}

// ended says why a record is no longer for a part; nil where it is.
func ended(c *checker.Concessions, x *checker.Concession, part, drawing, revision string) *checker.Conceded {
	switch {
	case x.Until < c.Today:
		return &checker.Conceded{Concession: x, State: checker.Expired, Says: "it ended on " + x.Until}
	case !c.Keeps && x.Drawing != "" && x.Drawing != drawing:
		return &checker.Conceded{Concession: x, State: checker.Revised, Says: fmt.Sprintf("it is for drawing %s", x.Drawing)}
	case !c.Keeps && x.Revision != "" && x.Revision != revision:
		return &checker.Conceded{Concession: x, State: checker.Revised, Says: fmt.Sprintf("it is for revision %s", x.Revision)}
	case x.File == "" && c.Doubled != nil && c.Doubled(part, drawing, revision):
		return &checker.Conceded{Concession: x, State: checker.Unused,
			Says: "two part files have this name, drawing and revision; give the record the `file` that it is for"}
	}
	return nil
}

// exceeded says in what a finding is further from its need than was accepted; "" where it is not.
func exceeded(x *checker.Concession, f *checker.Finding, names renames) string {
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
		} else if says := ofOther(x, names); says != "" {
			return says
		}
		if failed[k] == nil {
			order = append(order, k)
		}
		failed[k] = append(failed[k], &entries[i])
	}
	for _, k := range order {
		if says := exceeds(failed[k], values(x, k.of, k.to, k.measure, names)); says != "" {
			return says
		}
	}
	if cross, ok := f.Subject.(*subject.Crossing); ok && x.Listed {
		return grown(x, cross)
	}
	return ""
}

// ofOther says that the record has values of something else than what was judged; "" where it has not.
func ofOther(x *checker.Concession, names renames) string {
	for _, a := range x.Accepted {
		if a.Of != "" && !names.is(a.Of, x.Name) {
			return fmt.Sprintf("its values are of %s, and its subject is %s", a.Of, x.Name)
		}
	}
	return ""
}

// values are those that were accepted of a measure; of one element, or of two, where these are named.
func values(x *checker.Concession, of, to, measure string, names renames) (all []any) {
	for _, a := range x.Accepted {
		if a.Measure == measure && (of == "" || names.is(a.Of, of)) && (to == "" || names.is(a.To, to)) {
			all = append(all, a.Value)
		}
	}
	return all
}

// renames are the names that features had before, with those that they have now; nil where names are the same by every letter.
type renames map[string]string

// is tells whether a subject that was named so is the one that has a name now.
func (names renames) is(was, now string) bool {
	return was == now || names != nil && slices.Equal(names.words(was), renames{}.words(now))
}

// words are those of a subject's name, with features as they are called now, in alphabetical order: a name lists its features so.
func (names renames) words(name string) []string {
	words := checker.NameWords(name)
	for i, w := range words {
		if to, ok := names[w]; ok {
			words[i] = to
		}
	}
	slices.Sort(words)
	return words
}

// exceeds says how measured values are further from their need than was accepted, in the need's own direction: the worst is held
// against the worst. "" where none is.
func exceeds(failed []*rules.Compared, accepted []any) string {
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

// lacking is by how much a value is worse than a limit or another value, in the need's own direction.
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
	further := lacking(c, w)
	if limit, ok := c.Limit.(float64); ok && c.Needs == "==" {
		further = math.Abs(v-limit) - math.Abs(w-limit)
	}
	return further <= noFurtherBy
}

// crossMeasures are what a record keeps of a feature across the axis: its size, which may not grow, and its direction and place.
var crossMeasures = []string{"width", "depth", "toward", "x", "y", "z_low", "z_high"}

// grown says how a feature across the axis is larger, turned or elsewhere than was accepted; "" where it is not.
func grown(x *checker.Concession, s *subject.Crossing) string {
	was := map[string]float64{}
	if kind := values(x, "", "", "crossing.kind", nil); len(kind) > 0 && kind[0] != any(s.Form) {
		return fmt.Sprintf("it is a %s, accepted was a %v", s.Form, kind[0])
	}
	for _, name := range crossMeasures {
		v, known := subject.CrossingKind.Field(name).Number(s)
		if !known && len(values(x, "", "", "crossing."+name, nil)) > 0 {
			return fmt.Sprintf("it has no crossing.%s, and one was accepted", name)
		}
		if !known {
			continue
		}
		accepted := values(x, "", "", "crossing."+name, nil)
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
