package checker

import (
	"fmt"
	"slices"
	"strings"

	"corerod/parts"
	"corerod/parts/source"
	"corerod/parts/stock"
	"corerod/parts/subject"
	"corerod/rules"
)

// Proof tells whether a pack's trials prove its rules.
type Proof struct {
	Pack     *rules.Pack
	Trials   []Tried
	Rules    int // of the pack itself
	Clauses  int // conditions that can come out either way
	Limits   int // limits that were moved, under shift
	Unproven source.Problems
}

// Tried is one trial as it came out.
type Tried struct {
	Trial   *rules.Trial
	Rule    *rules.Rule // nil where there is none of its name
	Derived *Derived    // nil where the part cannot be read
	Case    rules.Case
	Outcome *rules.Outcome
	Finds   rules.Grade // the worst; "" for none
	Applied bool
}

// Prove runs the trials of a pack. It is unproven where a trial comes out otherwise than the pack says, where a rule has
// no trial that finds it or none that it is nearly found in, and where a condition was never seen both true and false.
// With shift each limit that a rule reads is moved by its last digit both ways, and it is unproven where no trial notices.
func Prove(pack *rules.Pack, book *rules.Book, open func(name string) ([]byte, error), shift bool) *Proof {
	p := &Proof{Pack: pack}
	watched := map[string]*rules.Watched{}
	for _, r := range book.Rules {
		if r.From == pack {
			p.Rules++
			watched[r.Name] = r.Watch()
		}
	}
	for i := range pack.Trials {
		t := p.try(&pack.Trials[i], book, open)
		p.Trials = append(p.Trials, t)
		if t.Outcome == nil {
			continue
		}
		if w := watched[t.Rule.Name]; w != nil {
			w.Show(book, t.Case)
		}
		if t.Finds != t.Trial.Finds {
			p.say(t.Trial.Origin, "the trial of %s finds %s, not %s as it should", t.Trial.Rule, gradeOrNone(t.Finds), gradeOrNone(t.Trial.Finds))
		}
	}
	for _, r := range book.Rules {
		if w := watched[r.Name]; w != nil {
			p.rule(r, w)
		}
	}
	if shift {
		p.shift(book)
	}
	p.Unproven = p.Unproven.Sorted()
	return p
}

func gradeOrNone(g rules.Grade) string {
	if g == "" {
		return "none"
	}
	return string(g)
}

func (p *Proof) say(at rules.Origin, format string, args ...any) {
	p.Unproven = append(p.Unproven, source.Problem{File: at.File, Line: at.Line, Column: at.Column, Message: fmt.Sprintf(format, args...)})
}

// try judges a trial's part by its rule.
func (p *Proof) try(t *rules.Trial, book *rules.Book, open func(string) ([]byte, error)) Tried {
	out := Tried{Trial: t}
	i := slices.IndexFunc(book.Rules, func(r *rules.Rule) bool { return r.Name == t.Rule })
	if i < 0 {
		p.say(t.Origin, "there is no rule %s", source.Quote(t.Rule))
		return out
	}
	out.Rule = book.Rules[i]
	b, err := open(t.Part)
	if err != nil {
		p.say(t.Origin, "the part %s cannot be read: %s", source.Plain(t.Part), reason(err))
		return out
	}
	var changes []parts.Change
	for _, s := range t.Set {
		changes = append(changes, parts.Change{Path: s.Path, Value: s.Value})
	}
	part, ps, wrong := parts.ParseWith(t.Part, b, changes)
	for i, says := range wrong {
		p.say(t.Set[i].Origin, "`set` has %s: %s", source.Quote(t.Set[i].Path), says)
	}
	if len(ps) == 0 && len(wrong) == 0 {
		out.Derived, ps = Derive(part, book.With(t.Offers))
	}
	for _, problem := range ps {
		if len(t.Set) > 0 { // its line may be that of a value that is set
			p.say(t.Origin, "the part %s cannot be read as it is set: %s", source.Plain(t.Part), problem.Message)
			continue
		}
		p.say(t.Origin, "the part %s cannot be read: line %d: %s", source.Plain(t.Part), problem.Line, problem.Message)
	}
	if out.Derived == nil {
		return out
	}
	out.Case = caseOf(out.Derived)
	out.judge(book)
	for _, f := range out.Outcome.Faults {
		p.say(rules.Origin{File: f.File, Line: f.Line, Column: f.Column}, "%s", f.Message)
	}
	return out
}

// Review is the trial's part as its rule alone judges it.
func (t *Tried) Review() *PartReview {
	r, _ := assemble(t.Derived.Part, t.Derived.Subject, t.Outcome) // faults were told as the trial was tried
	r.Layout = t.Derived.Layout
	return r
}

// judge judges the trial by its rule alone.
func (t *Tried) judge(book *rules.Book) {
	t.Outcome = book.Alone(t.Rule.Name).Judge(t.Case)
	t.Finds = worst(t.Outcome)
	t.Applied = t.Outcome.Account[0].Applied > 0
}

// worst is the worst grade that was found; "" for none.
func worst(out *rules.Outcome) (g rules.Grade) {
	for _, f := range out.Findings {
		if g == "" || f.Grade.Worse(g) {
			g = f.Grade
		}
	}
	return g
}

// rule tells what its trials leave open of one rule.
func (p *Proof) rule(r *rules.Rule, w *rules.Watched) {
	at := rules.Origin{File: r.File, Line: r.Line, Column: r.Column}
	finds, misses, asks := false, false, len(w.Clauses) > 0
	for _, c := range w.Clauses {
		asks = asks && c.Always
	}
	for _, t := range p.Trials {
		if t.Rule == r {
			finds = finds || t.Finds != ""
			misses = misses || t.Finds == "" && (t.Applied || asks)
		}
	}
	if !finds {
		p.say(at, "the rule %s has no trial that finds something", r.Name)
	}
	if !misses {
		p.say(at, "the rule %s has no near miss: no trial to which it applies finds nothing", r.Name)
	}
	p.Clauses += len(w.Clauses)
	for _, c := range w.Clauses {
		switch {
		case !c.True && !c.False:
			p.say(c.Origin, "the rule %s: no trial comes to `%s`", r.Name, c.Text)
		case !c.True:
			p.say(c.Origin, "the rule %s: `%s` was never seen true", r.Name, c.Text)
		case !c.False:
			p.say(c.Origin, "the rule %s: `%s` was never seen false", r.Name, c.Text)
		}
	}
}

// shift moves every limit that a rule of the pack reads, one at a time, and looks which of its trials notice.
func (p *Proof) shift(book *rules.Book) {
	names := make([]string, 0, len(p.Pack.Limits))
	for name := range p.Pack.Limits {
		names = append(names, name)
	}
	slices.Sort(names)
	for _, name := range names {
		l := p.Pack.Limits[name]
		if l.Origin.Pack != p.Pack.Name {
			continue
		}
		var readers []string
		for _, r := range book.Rules {
			if r.Reads(name) {
				readers = append(readers, r.Name)
			}
		}
		if len(readers) == 0 {
			if stock.ToolFigureNamed(name) == nil {
				p.say(l.Origin, "no rule reads the limit %s", name)
			}
			continue
		}
		p.Limits++
		for _, by := range []float64{l.Shift, -l.Shift} {
			if !p.notices(book.Shifted(name, by), readers) {
				p.say(l.Origin, "no trial notices when the limit %s is %g and not %g (%s)", name, subject.Snap(l.Value+by), l.Value, strings.Join(readers, ", "))
			}
		}
	}
}

// notices tells whether a trial of some rules comes out otherwise by a book.
func (p *Proof) notices(book *rules.Book, names []string) bool {
	for _, t := range p.Trials {
		if t.Outcome == nil || !slices.Contains(names, t.Rule.Name) {
			continue
		}
		again := t
		again.judge(book)
		if again.Finds != t.Finds || len(again.Outcome.Faults) > 0 {
			return true
		}
	}
	return false
}
