package rules

import (
	"slices"

	"corerod/parts/source"
	"corerod/parts/subject"
)

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

	scene  *scene
	met    []met
	judged map[subject.Subject]bool // dimensions to which a rule applied
}

// Judged tells whether some rule applied to a dimension.
func (out *Outcome) Judged(d *subject.Dimension) bool { return out.judged[d] }

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
	Also     []*Finding // of other rules, on the same fault
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
	out := &Outcome{scene: b.scene(c), judged: map[subject.Subject]bool{}}
	for _, r := range b.Rules {
		out.judge(r)
	}
	out.join()
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
		if kind == subject.DimensionKind {
			out.judged[o.subject] = true
		}
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
