package rules

import (
	"fmt"
	"slices"

	"corerod/parts/source"
	"corerod/parts/subject"

	"github.com/google/cel-go/common/ast"
	"github.com/google/cel-go/common/operators"
)

// scope is what the units of an expression's parts are worked out in, at the place that is looked at.
func (e *examiner) scope() *scope {
	return &scope{e.expression, e.loops}
}

// units checks that an operator or function is not given numbers of different units.
func (e *examiner) units(x ast.Expr) {
	c := x.AsCall()
	args := c.Args()
	switch c.FunctionName() {
	case operators.Less, operators.LessEquals, operators.Greater, operators.GreaterEquals, operators.Equals, operators.NotEquals,
		operators.Add, operators.Subtract, "least", "greatest":
		e.sameUnit(x, args)
	case operators.In:
		if len(args) == 2 {
			for _, item := range alternatives(args[1]) {
				if !e.sameUnit(x, []ast.Expr{args[0], item}) {
					return
				}
			}
		}
	case "table", "within":
		e.tableUnit(c)
	case "grade_width":
		for i, want := range [2]string{subject.MM, subject.Count} {
			if u := e.scope().unit(args[i]); u != "" && u != want {
				e.fault(e.nameAt(e.offset(x.ID()), "grade_width"), "`grade_width` takes a size in mm and a grade, not %s", u)
			}
		}
	case "from_inch":
		if u := e.scope().common(args); u != "" && u != subject.Ratio && u != subject.Count {
			e.fault(e.nameAt(e.offset(x.ID()), "from_inch"),
				"`from_inch` takes a figure in inches, not one in %s; leave `from_inch` out", u)
		}
	default:
		if slices.Contains(printing, c.FunctionName()) {
			e.printedUnit(c, e.offset(x.ID()))
		}
	}
}

// printedUnit checks that a unit function prints a number of its unit. Ratios are printed as counts are, plainly.
func (e *examiner) printedUnit(c ast.CallExpr, at int) {
	name, u := c.FunctionName(), e.scope().common(c.Args())
	want := name
	if name == "length" {
		want = subject.MM
	}
	if u == "" || u == want || u == subject.Ratio && name == subject.Count {
		return
	}
	right := ""
	for _, f := range printing {
		if f == u || u == subject.Ratio && f == subject.Count {
			right = fmt.Sprintf("; print it by `%s( )`", f)
		}
	}
	e.fault(e.nameAt(at, name), "`%s` prints a number in %s, and %s is in %s%s", name, want, e.called(c.Args()[0]), u, right)
}

// tableUnit checks the unit of what a table is looked up with.
func (e *examiner) tableUnit(c ast.CallExpr) {
	if len(c.Args()) != 2 {
		return
	}
	name, _ := textLiteral(c.Args()[0])
	t, u := e.env.pack.Tables[name], e.scope().unit(c.Args()[1])
	if t == nil || u == "" || u == t.XUnit {
		return
	}
	at := e.start(e.offset(c.Args()[1].ID()))
	e.fault(at, "the table `%s` is looked up with %s in %s, not with a number in %s%s", name, source.Quote(t.X), t.XUnit, u,
		e.inUnit(c.Args()[1], t.XUnit))
}

// sameUnit reports, at the operator or function, numbers of which two have known, different units.
func (e *examiner) sameUnit(x ast.Expr, args []ast.Expr) bool {
	s, first, unit := e.scope(), ast.Expr(nil), ""
	for _, a := range args {
		u := s.unit(a)
		switch {
		case unit == "":
			first, unit = a, u
		case u != "" && u != unit:
			at := e.offset(x.ID())
			if x.Kind() == ast.CallKind && slices.Contains(callable, x.AsCall().FunctionName()) {
				at = e.nameAt(at, x.AsCall().FunctionName())
			}
			e.fault(at, "%s and %s have different units, %s and %s%s", e.called(first), e.called(a), unit, u,
				e.suggestUnit(first, a, unit, u))
			return false
		}
	}
	return true
}

// called names a number in a message: a measure or limit by its path.
func (e *examiner) called(x ast.Expr) string {
	if p := dotted(x); p != "" {
		return "`" + p + "`"
	}
	if x.Kind() == ast.ListKind {
		return "the list"
	}
	return "the calculated number"
}

// suggestUnit ends a message on two numbers of different units: with what one of them could be instead.
func (e *examiner) suggestUnit(a, b ast.Expr, unitA, unitB string) string {
	if m := e.inUnit(b, unitA); m != "" {
		return m
	}
	if m := e.inUnit(a, unitB); m != "" {
		return m
	}
	return fmt.Sprintf("; both must be in %s or both in %s", unitA, unitB)
}

// inUnit suggests a number of the same shape that has a unit, or "".
func (e *examiner) inUnit(x ast.Expr, unit string) string {
	if x.Kind() != ast.SelectKind {
		return ""
	}
	of := e.scope().shapeOf(x.AsSelect().Operand())
	if of == nil {
		return ""
	}
	var names []string
	for _, name := range of.names() {
		if f := of.fields[name]; f.typ == subject.Number && f.unit == unit && f.of == nil &&
			!slices.Contains([]string{"x", "y", "z_low", "z_high"}, name) {
			names = append(names, name)
		}
	}
	if len(names) == 0 {
		return ""
	}
	name := source.Nearest(x.AsSelect().FieldName(), names)
	if name == "" {
		name = names[0]
	}
	return fmt.Sprintf("; in %s there is `%s.%s`", unit, dotted(x.AsSelect().Operand()), name)
}

// words checks what a measure with listed words is compared with: texts that it can have, measures that share one.
func (e *examiner) words(args []ast.Expr) {
	if len(args) != 2 {
		return
	}
	for _, a := range alternatives(args[0]) {
		for _, b := range alternatives(args[1]) {
			f, g := e.wordsOf(a), e.wordsOf(b)
			switch {
			case f != nil && g != nil:
				e.disjoint(b, f, g)
			case f != nil:
				e.word(f, b)
			case g != nil:
				e.word(g, a)
			}
		}
	}
}

// wordsOf is the measure with listed words that an expression reads, or nil.
func (e *examiner) wordsOf(x ast.Expr) *field {
	if x.Kind() != ast.SelectKind || x.AsSelect().IsTestOnly() {
		return nil
	}
	if f := e.fieldOf(x); f != nil && f.typ == subject.Text && f.words != nil {
		return f
	}
	return nil
}

// word reports a text that a measure never is.
func (e *examiner) word(f *field, x ast.Expr) {
	if word, ok := textLiteral(x); ok && !slices.Contains(f.words, word) {
		e.fault(e.offset(x.ID()), "`%s` is never %s%s", f.name, source.Quote(word), suggest(word, f.words))
	}
}

// disjoint reports two measures that have no word in common.
func (e *examiner) disjoint(at ast.Expr, a, b *field) {
	if !slices.ContainsFunc(a.words, func(w string) bool { return slices.Contains(b.words, w) }) {
		e.fault(e.start(e.offset(at.ID())), "`%s` and `%s` have no word in common%s", a.name, b.name, suggest("", a.words))
	}
}

// alternatives lists what an expression can give: the items of a list or of lists joined, both results of `?:`, else
// itself.
func alternatives(x ast.Expr) (all []ast.Expr) {
	switch {
	case x.Kind() == ast.ListKind:
		for _, item := range x.AsList().Elements() {
			all = append(all, alternatives(item)...)
		}
		return all
	case isCall(x, operators.Conditional):
		return append(alternatives(x.AsCall().Args()[1]), alternatives(x.AsCall().Args()[2])...)
	case isCall(x, operators.Add) && slices.ContainsFunc(chain(x, operators.Add),
		func(a ast.Expr) bool { return a.Kind() == ast.ListKind }):
		return append(alternatives(x.AsCall().Args()[0]), alternatives(x.AsCall().Args()[1])...)
	}
	return []ast.Expr{x}
}
