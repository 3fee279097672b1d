// Package prove tells whether the trials of a rule pack prove its rules: each trial is a part, drawn so that a rule finds something
// or so that it just does not, and is judged by that rule alone. Catalogue gives the rules with the trials that show them.
package prove

import (
	"fmt"
	"slices"
	"strings"

	"corerod/checker"
	"corerod/parts/form"
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
	Rows     int // rows of tables that were moved
	Figures  int // figures of materials that were moved
	Unproven source.Problems
	Failed   map[source.Problem]*Tried // of Unproven the trials that come out otherwise than they should
}

// Tried is one trial as it came out.
type Tried struct {
	Trial   *rules.Trial
	Rule    *rules.Rule      // nil where there is none of its name
	Derived *checker.Derived // nil where the part cannot be read
	Case    rules.Case
	Outcome *rules.Outcome
	Finds   rules.Grade // the worst; "" for none
	Applied bool
}

// Pack runs the trials of a pack. It is unproven where a trial comes out otherwise than the pack says, where a rule has
// no trial that finds it or none that it is nearly found in, and where a condition was never seen both true and false.
// With shift each figure that a rule reads, a limit, a row of a table or a figure of a material, is moved by its last digit
// both ways, and it is unproven where no trial notices.
func Pack(pack *rules.Pack, book *rules.Book, open func(name string) ([]byte, error), shift bool) *Proof {
	p := &Proof{Pack: pack, Failed: map[source.Problem]*Tried{}}
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
		if says := t.otherwise(); says != "" {
			p.say(t.Trial.Origin, "%s", says)
			p.Failed[p.Unproven[len(p.Unproven)-1]] = &t
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

// otherwise tells what a trial finds and should not, "" where it comes out as it should.
func (t *Tried) otherwise() string {
	if t.Finds != t.Trial.Finds {
		return fmt.Sprintf("the trial of %s finds %s, not %s as it should", t.Trial.Rule, gradeOrNone(t.Finds), gradeOrNone(t.Trial.Finds))
	}
	var found []string
	for i := range t.Outcome.Findings {
		f := &t.Outcome.Findings[i]
		if f.Grade != t.Finds {
			continue
		}
		for _, name := range foundOn(f) {
			if name == t.Trial.On {
				return ""
			}
			if q := source.Quote(name); !slices.Contains(found, q) {
				found = append(found, q)
			}
		}
	}
	if t.Trial.On == "" {
		return ""
	}
	return fmt.Sprintf("the trial of %s finds %s on %s, not on %s as it should", t.Trial.Rule, t.Finds, strings.Join(found, ", "),
		source.Quote(t.Trial.On))
}

// foundOn are the names of what a finding is of: what fails, each element of a list, and what was judged.
func foundOn(f *rules.Finding) []string {
	names := []string{f.Subject.Place().Name}
	for _, c := range f.Compared {
		if c.Of != nil {
			names = append(names, c.Of.Name)
		}
	}
	return append(names, f.Over.Place().Name)
}

// mostMeasured is the number of comparisons that are shown of a trial.
const mostMeasured = 3

// Measured are comparisons with what the rule measured in a trial: those of its findings, else those nearest to a limit.
func (t *Tried) Measured() (all []rules.Compared) {
	for _, f := range t.Outcome.Findings {
		all = append(all, f.Compared...)
	}
	if len(all) == 0 {
		for _, m := range t.Outcome.Narrowest(mostMeasured) {
			m.Compared.MissesBy = nil // it is met
			all = append(all, m.Compared)
		}
	}
	return all[:min(len(all), mostMeasured)]
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
		var names []string
		for _, r := range book.Rules {
			names = append(names, r.Name)
		}
		p.say(t.Origin, "there is no rule %s%s", source.Quote(t.Rule), source.Meant(t.Rule, names))
		return out
	}
	out.Rule = book.Rules[i]
	b, err := open(t.Part)
	if err != nil {
		p.say(t.Origin, "the part %s cannot be read: %s", source.Plain(t.Part), checker.Reason(err))
		return out
	}
	var changes []form.Change
	for _, s := range t.Set {
		changes = append(changes, form.Change{Name: s.Path, Value: s.Value})
	}
	part, ps, wrong := form.ParseWith(t.Part, b, changes)
	for i, says := range wrong {
		p.say(t.Set[i].Origin, "`set` has %s: %s", source.Quote(t.Set[i].Path), says)
	}
	if len(ps) == 0 && len(wrong) == 0 {
		out.Derived, ps = checker.Derive(part, book.With(t.Offers))
		if out.Rule.Over != subject.PowderKind.Name {
			p.unknownMaterial(t, part.Material.Name, book.With(t.Offers))
		}
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
	out.Case = out.Derived.Case()
	out.judge(book)
	for _, f := range out.Outcome.Faults {
		p.say(rules.Origin{File: f.File, Line: f.Line, Column: f.Column}, "%s", f.Message)
	}
	return out
}

// unknownMaterial tells of a material that the packs do not have: whatever a rule asks of it would be absent.
func (p *Proof) unknownMaterial(t *rules.Trial, name string, book *rules.Book) {
	if _, known := book.Material(name); known || name == "" {
		return
	}
	all := book.Materials()
	meant := "; give it in the trial's `materials`, or name one of the pack's"
	if near := source.Nearest(name, all); near != "" {
		meant = fmt.Sprintf("; did you mean `%s`?", near)
	}
	p.say(t.Origin, "the part %s is of the material %s, which the pack does not have%s", source.Plain(t.Part), source.Quote(name), meant)
}

// judge judges the trial by its rule alone.
func (t *Tried) judge(book *rules.Book) {
	t.Outcome = book.With(t.Trial.Offers).Alone(t.Rule.Name).Judge(t.Case)
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

// shift moves every figure that a rule reads, one at a time, and looks which trials notice. A limit or table that no rule
// reads is told of too.
func (p *Proof) shift(book *rules.Book) {
	unread := map[string]bool{}
	for _, m := range p.Pack.Movables() {
		var readers []string
		for _, r := range book.Rules {
			if m.ReadBy(r) {
				readers = append(readers, r.Name)
			}
		}
		switch {
		case len(readers) > 0:
			p.count(m)
			p.move(book, m, readers)
		case m.Table != "" && !unread[m.Table]:
			unread[m.Table] = true
			p.say(p.Pack.Tables[m.Table].Origin, "no rule reads the table %s", m.Table)
		case m.Limit != "" && stock.ToolFigureNamed(m.Limit) == nil:
			p.say(m.Origin, "no rule reads the limit %s", m.Limit)
		}
	}
}

// count counts a figure that is moved; a row of a table once, by its y.
func (p *Proof) count(m rules.Movable) {
	switch {
	case m.Limit != "":
		p.Limits++
	case m.Material != "":
		p.Figures++
	case m.Column == 1:
		p.Rows++
	}
}

// move moves a figure both ways.
func (p *Proof) move(book *rules.Book, m rules.Movable, readers []string) {
	for _, by := range []float64{m.By, -m.By} {
		if !p.notices(book.Moved(m, by), readers) {
			p.say(m.Origin, "no trial notices when %s is %g and not %g (%s)", m, subject.Snap(m.Value+by), m.Value,
				strings.Join(readers, ", "))
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
		if again.Finds != t.Finds || again.otherwise() != t.otherwise() || len(again.Outcome.Faults) > 0 {
			return true
		}
	}
	return false
}
