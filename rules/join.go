package rules

import (
	"slices"

	"corerod/parts/subject"
)

// join makes one finding of those that are one fault: of two rules, one of which names the other, in one place. It is that of the worse
// grade, else that of the rule that is named; the others stand beside it.
func (out *Outcome) join() {
	into := make([]int, len(out.Findings)) // by finding: the one that it is told with
	for i := range into {
		into[i] = i
	}
	root := func(i int) int {
		for into[i] != i {
			i = into[i]
		}
		return i
	}
	for i := range out.Findings {
		f := &out.Findings[i]
		for _, name := range f.Rule.With {
			j := slices.IndexFunc(out.Findings, func(g Finding) bool { return g.Rule.Name == name && g.on(f) })
			if j < 0 {
				continue
			}
			a, b := root(i), root(j)
			if out.Findings[a].Grade.Worse(out.Findings[b].Grade) {
				a, b = b, a
			}
			into[a] = b
			break
		}
	}
	if !joined(into) {
		return
	}
	old := out.Findings
	out.Findings = nil
	at := map[int]int{}
	for i := range old {
		if into[i] == i {
			at[i] = len(out.Findings)
			out.Findings = append(out.Findings, old[i])
		}
	}
	for i := range old {
		if into[i] == i {
			continue
		}
		f := &out.Findings[at[root(i)]]
		f.Also = append(f.Also, &old[i])
		for _, s := range old[i].Sources {
			if !slices.Contains(f.Sources, s) {
				f.Sources = append(slices.Clip(f.Sources), s)
			}
		}
	}
}

// joined tells whether a finding is told with another.
func joined(into []int) bool {
	for i, j := range into {
		if i != j {
			return true
		}
	}
	return false
}

// on tells whether two findings are in one place: of one kind on one subject, columns over one punch; else on a feature in common, or one
// on the part.
func (f *Finding) on(g *Finding) bool {
	if c, ok := f.Over.(*subject.Column); ok {
		if d, ok := g.Over.(*subject.Column); ok {
			return c.Punch == d.Punch
		}
	}
	if f.Over.Kind() == g.Over.Kind() {
		return f.Over == g.Over
	}
	a, b := f.Over.Place().Features, g.Over.Place().Features
	if len(a) == 0 || len(b) == 0 {
		return true
	}
	return slices.ContainsFunc(a, func(name string) bool { return slices.Contains(b, name) })
}
