package rules

import (
	"cmp"
	"slices"

	"corerod/parts/source"
	"corerod/parts/stock"
	"corerod/parts/subject"
)

// Book is the packs in force together. It is not changed and may be used from several goroutines at once.
type Book struct {
	Packs []*Pack
	Rules []*Rule // of all packs, in order of name
}

// NewBook puts packs in force together. Two packs that give a rule or a figure of one name are a problem: which one is
// meant cannot be told.
func NewBook(packs ...*Pack) (*Book, source.Problems) {
	b := &Book{Packs: packs}
	var ps source.Problems
	for i, p := range packs {
		for _, earlier := range packs[:i] {
			ps = append(ps, clashes(earlier, p)...)
		}
		b.Rules = append(b.Rules, p.Rules...)
	}
	if len(ps) > 0 {
		return nil, ps.Sorted()
	}
	slices.SortStableFunc(b.Rules, func(a, b *Rule) int { return cmp.Compare(a.Name, b.Name) })
	return b, nil
}

// clashes lists what both packs give under one name.
func clashes(a, b *Pack) (ps source.Problems) {
	both := func(what, name string, there Origin) {
		ps = append(ps, source.Problem{File: there.File, Line: there.Line, Column: there.Column,
			Message: "packs `" + a.Name + "` and `" + b.Name + "` both give the " + what + " `" + name +
				"`; leave it in one of them, or put one pack in force"})
	}
	for _, name := range sortedKeys(b.Limits) {
		if a.Limits[name] != nil {
			both("limit", name, b.Limits[name].Origin)
		}
	}
	for _, name := range sortedKeys(b.Materials) {
		if a.Materials[name] != nil {
			both("material", name, b.Materials[name].Origin)
		}
	}
	for _, name := range sortedKeys(b.Curves) {
		if a.Curves[name] != nil {
			both("curve", name, b.Curves[name].Origin)
		}
	}
	for _, name := range sortedKeys(b.Presses) {
		if a.Presses[name] != nil {
			both("press", name, b.Presses[name].Origin)
		}
	}
	for _, r := range b.Rules {
		if slices.ContainsFunc(a.Rules, func(other *Rule) bool { return other.Name == r.Name }) {
			both("rule", r.Name, Origin{File: r.File, Line: r.Line, Column: r.Column})
		}
	}
	return ps
}

// Material is what a part file states of its material.
type Material struct {
	Name string // as the part file has it; "" where it states none
}

// Material looks a material up in the packs in force.
func (b *Book) Material(name string) (stock.Material, bool) {
	for _, p := range b.Packs {
		if m := p.Materials[name]; m != nil {
			return m.Material, true
		}
	}
	return stock.Material{}, false
}

// Curve looks a curve of pressure and green density up in the packs in force.
func (b *Book) Curve(name string) (stock.Curve, bool) {
	for _, p := range b.Packs {
		if c := p.Curves[name]; c != nil {
			return c.Curve, true
		}
	}
	return stock.Curve{}, false
}

// Presses are those of the packs in force, in order of name.
func (b *Book) Presses() (all []*Press) {
	for _, p := range b.Packs {
		for _, x := range p.Presses {
			all = append(all, x)
		}
	}
	slices.SortFunc(all, func(a, b *Press) int { return cmp.Compare(a.Name, b.Name) })
	return all
}

// Limit looks a limit up in the packs in force, and the pack that gives it.
func (b *Book) Limit(name string) (*Limit, *Pack) {
	for _, p := range b.Packs {
		if l := p.Limits[name]; l != nil {
			return l, p
		}
	}
	return nil, nil
}

// Case is one part to be judged.
type Case struct {
	Part     *subject.Part
	Material Material
	Unit     string // "mm" or "in": in which the part is drawn and texts give lengths
}

// Outcome is what the rules say of one part.
type Outcome struct {
	Findings []Finding // by name of the rule, then in the order of the part's subjects
	Faults   []Fault   // at most one for each rule, by name of the rule
	Account  []Judged  // of every rule, by name

	scene *scene
	met   []met
}

// met is a need that a subject meets.
type met struct {
	rule *Rule
	need *Need
	in   *bound
	cost int // steps that it took
}

// Meets tells whether a rule applied to a subject of a name, and the subject meets its needs.
func (out *Outcome) Meets(r *Rule, name string) bool {
	return slices.ContainsFunc(out.met, func(m met) bool {
		return m.rule == r && m.in.over.subject.Place().Name == name && m.need == &r.Needs[len(r.Needs)-1]
	})
}

// Finding is one need that a subject does not meet.
type Finding struct {
	Rule     *Rule
	Grade    Grade
	Over     subject.Subject // that the rule was judged on
	Subject  subject.Subject // the element in the first comparison, else Over
	Says     string
	Compared []Compared // what failed, as the rule reads from left to right; of a list each element that fails
	Sources  []Cited    // what grounds the finding: the rule's own, then those of the limits and tables read
}

// Fault is a pack's own failure while a part was judged. The rule is never taken as passed.
type Fault struct {
	Rule         *Rule
	Message      string
	File         string
	Line, Column int

	tooLong bool // the expression was stopped: others of the rule would be as expensive
}

// faulty turns a failure of an expression into a fault.
func (r *Rule) faulty(p *phrase, key string, err error) *Fault {
	o := p.origin(0)
	return &Fault{r, "rule `" + r.Name + "`, `" + key + "`: " + source.Plain(err.Error()), o.File, o.Line, o.Column, err == errTooLong}
}

// conditions are the texts of a rule's conditions.
func (r *Rule) conditions() (all []string) {
	if r.when != nil && r.When != "true" {
		all = append(all, r.When)
	}
	for _, n := range r.Needs {
		all = append(all, n.That)
	}
	return all
}

// Judge judges one part by every rule of the book.
func (b *Book) Judge(c Case) *Outcome {
	out := &Outcome{scene: b.scene(c)}
	for _, r := range b.Rules {
		out.judge(r)
	}
	return out
}

// judge judges every subject that the rule is over. Of several faults the first is kept.
func (out *Outcome) judge(r *Rule) {
	s, kind := out.scene, subject.KindNamed(r.Over)
	account := Judged{Rule: r, Subjects: len(s.of(kind))}
	var first *Fault
	keep := func(f *Fault) {
		if first == nil {
			first = f
		}
	}
	s.next()
	for _, o := range s.of(kind) {
		if first != nil && (first.tooLong || s.spent() != nil) {
			break
		}
		in := &bound{scene: s, over: o, limits: r.Pack.env().limits}
		applies, f := r.applies(in)
		keep(f)
		if !applies {
			continue
		}
		account.Applied++
		need, f := out.fails(r, in)
		keep(f)
		if need == nil {
			continue
		}
		account.Found++
		finding, f := r.finding(need, in)
		keep(f)
		out.Findings = append(out.Findings, finding)
	}
	if first != nil {
		out.Faults = append(out.Faults, *first)
	}
	account.explain(kind, first)
	out.Account = append(out.Account, account)
}

// applies tells whether a subject passes the rule's `when`.
func (r *Rule) applies(in *bound) (bool, *Fault) {
	if r.when == nil || r.When == "true" {
		return true, nil
	}
	ok, err := r.Pack.env().expression(r.When).holds(in)
	if err != nil {
		return false, r.faulty(r.when, "when", err)
	}
	return ok, nil
}

// fails returns the first need, worst grade first, that a subject does not meet, or nil. Those before it are met.
func (out *Outcome) fails(r *Rule, in *bound) (*Need, *Fault) {
	for i := range r.Needs {
		n, before := &r.Needs[i], in.scene.steps
		ok, err := r.Pack.env().expression(n.That).holds(in)
		if err != nil {
			return nil, r.faulty(&n.at, "that", err)
		}
		if !ok {
			return n, nil
		}
		out.met = append(out.met, met{r, n, in, in.scene.steps - before})
	}
	return nil, nil
}

// finding puts together what is said of a failed need.
func (r *Rule) finding(n *Need, in *bound) (Finding, *Fault) {
	f := Finding{Rule: r, Grade: n.Grade, Over: in.over.subject, Subject: in.over.subject, Sources: r.grounds(n)}
	leaves, err := r.decisive(n, in, false)
	if err != nil {
		return f, r.faulty(&n.at, "that", err)
	}
	if len(leaves) > 0 && leaves[0].element != nil {
		f.Subject = leaves[0].element
	}
	for _, l := range leaves {
		f.Compared = append(f.Compared, l.Compared)
	}
	says, fault := r.say(in)
	f.Says = says
	return f, fault
}
