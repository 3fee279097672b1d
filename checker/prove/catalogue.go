package prove

import (
	"slices"

	"corerod/parts/source"
	"corerod/parts/subject"
	"corerod/rules"
)

// Entry is one rule of a pack in full.
type Entry struct {
	Rule     *rules.Rule
	Limits   []*rules.Limit
	Tables   []*rules.Table
	Measures []Measure
	Fails    *Tried // its first trial that finds something, or nil
	Misses   *Tried // its first near miss, or nil
}

// Measure is a measure that a rule's conditions read.
type Measure struct {
	Kind  *subject.Kind
	Field *subject.Field
}

// Catalogue gives every rule of a pack in full, in order of name, with the trials that show it.
func Catalogue(pack *rules.Pack, p *Proof) (all []Entry) {
	for _, r := range pack.Rules {
		e := Entry{Rule: r, Measures: measures(r)}
		for _, l := range r.Limits() {
			e.Limits = append(e.Limits, pack.Limits[l])
		}
		for _, t := range r.Tables() {
			e.Tables = append(e.Tables, pack.Tables[t])
		}
		for i := range p.Trials {
			t := &p.Trials[i]
			switch {
			case t.Rule == nil || t.Rule.Name != r.Name || t.Outcome == nil:
			case t.Finds != "" && e.Fails == nil:
				e.Fails = t
			case t.Finds == "" && (e.Misses == nil || !e.Misses.Applied && t.Applied):
				e.Misses = t
			}
		}
		all = append(all, e)
	}
	return all
}

// read finds the measures in a condition: a kind's name, a point, a measure.
var read = source.Pattern(`\b([a-z]+)\.([a-z_]+)\b`)

// measures are those of the rule's subject and of the part that its conditions read, each once, in their order.
func measures(r *rules.Rule) (all []Measure) {
	texts := []string{r.When}
	for _, n := range r.Needs {
		texts = append(texts, n.That)
	}
	for _, text := range texts {
		for _, m := range read().FindAllStringSubmatch(text, -1) {
			k := subject.KindNamed(m[1])
			if k == nil || k.Field(m[2]) == nil || k.Field(m[2]).Type == subject.List {
				continue
			}
			x := Measure{k, k.Field(m[2])}
			if !slices.Contains(all, x) {
				all = append(all, x)
			}
		}
	}
	return all
}
