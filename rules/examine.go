package rules

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"
	"unicode"

	"corerod/parts/source"
	"corerod/parts/subject"

	"github.com/google/cel-go/common/ast"
	"github.com/google/cel-go/common/operators"
	"github.com/google/cel-go/common/types"
)

// sort is what the examination knows of an expression's value: the shape of a subject or of a list's subjects, or
// the field that a value was read from.
type sort struct {
	shape *shape
	list  bool
	field *field
	unit  string // of a number, or of a list's numbers
}

// facts are the paths of optional measures known to be present, and the lists known to hold something: see filled.
type facts map[string]bool

// with returns the facts with others added.
func (f facts) with(others facts) facts {
	if len(others) == 0 {
		return f
	}
	all := maps.Clone(f)
	if all == nil {
		all = facts{}
	}
	maps.Copy(all, others)
	return all
}

// examiner looks at one parsed expression of a rule: names, absent measures, divisors, and what may not stand in it.
type examiner struct {
	*expression
	over   *shape
	inText bool // a text may index lists and print numbers
	loops  map[string]sort
	faults []fault
	given  facts // where a divisor is looked at
	silent bool  // it reads a figure that the pack's problems name already
}

// examine returns what is wrong with an expression where it is used, and the type of its value if nothing is.
func (x *expression) examine(over *shape, inText bool, known facts) ([]fault, *types.Type) {
	if x.tree == nil {
		return x.faults, nil
	}
	e := examiner{expression: x, over: over, inText: inText, loops: map[string]sort{}}
	e.look(x.tree.Expr(), known)
	slices.SortStableFunc(e.faults, func(a, b fault) int { return cmp.Compare(a.at, b.at) })
	if len(e.faults) > 0 || e.silent {
		return e.faults, nil
	}
	if len(x.faults) > 0 {
		return x.faults, nil
	}
	return nil, x.tree.GetType(x.tree.Expr().ID())
}

func (e *examiner) fault(at int, format string, args ...any) {
	e.faults = append(e.faults, fault{at, fmt.Sprintf(format, args...)})
}

// look examines one expression, given which optional measures are present, and says what it is.
func (e *examiner) look(x ast.Expr, known facts) sort {
	switch x.Kind() {
	case ast.LiteralKind:
		e.literal(x)
	case ast.IdentKind:
		return e.name(x)
	case ast.SelectKind:
		return e.read(x, known)
	case ast.CallKind:
		return e.call(x, known)
	case ast.ComprehensionKind:
		return e.loop(x, known)
	case ast.ListKind:
		for _, item := range x.AsList().Elements() {
			if found := e.look(item, known); found.shape != nil {
				e.fault(e.offset(item.ID()), "a list that is written out holds no subjects; ask each of them by itself")
			}
		}
		e.sameUnit(x, x.AsList().Elements())
	case ast.MapKind, ast.StructKind:
		e.fault(e.offset(x.ID()), "`{ }` values are not available in expressions")
	}
	return sort{}
}

func (e *examiner) literal(x ast.Expr) {
	at := e.offset(x.ID())
	switch v := x.AsLiteral().(type) {
	case types.Double:
		if !readable(v) {
			e.fault(at, "the number is out of range")
		}
	case types.String, types.Bool:
	case types.Null:
		e.fault(at, "`null` is not available: ask with has() whether a measure is present")
	case types.Uint:
		e.fault(at, "write the number without `u`: expressions have one kind of number")
	default:
		e.fault(at, "only numbers, text, true and false can be written in an expression")
	}
}

// name looks up a variable.
func (e *examiner) name(x ast.Expr) sort {
	name := x.AsIdent()
	if s, ok := e.loops[name]; ok {
		return s
	}
	s, known := e.env.shapes[name]
	if known && (name == e.over.variable || name == "part" || name == "material" || name == "limits") {
		return sort{shape: s}
	}
	at := e.offset(x.ID())
	if known {
		e.fault(at, "`%s` is not bound here: the rule is over `%s`; all of that kind are in `part.%s`", name, e.over.variable,
			subject.KindNamed(name).List)
		return sort{}
	}
	if word := strings.ToLower(name); word == "true" || word == "false" {
		e.fault(at, "unknown name `%s`; did you mean `%s`?", name, word)
		return sort{}
	}
	candidates := append(slices.Sorted(maps.Keys(e.loops)), e.over.variable)
	for _, always := range []string{"part", "material", "limits"} {
		if always != e.over.variable {
			candidates = append(candidates, always)
		}
	}
	e.fault(at, "unknown name `%s`%s", source.Plain(name), suggest(name, candidates))
	return sort{}
}

// suggest ends a message on an unknown word: with the nearest known one, or with all of them.
func suggest(word string, candidates []string) string {
	if near := source.Nearest(word, candidates); near != "" {
		return fmt.Sprintf("; did you mean `%s`?", near)
	}
	if len(candidates) == 0 {
		return "; none is known"
	}
	const most = 24
	more := ""
	if len(candidates) > most {
		candidates, more = candidates[:most], ", ..."
	}
	return "; known are `" + strings.Join(candidates, "`, `") + "`" + more
}

// read looks up a field.
func (e *examiner) read(x ast.Expr, known facts) sort {
	s := x.AsSelect()
	of := e.look(s.Operand(), known)
	at := e.fieldAt(x)
	switch {
	case of.shape == nil && of.field == nil:
		return sort{}
	case of.list || of.shape == nil:
		if of.list {
			e.fault(at, "`%s` is a list; ask its elements, as in `%s.all(x, x.%s ...)`", dotted(s.Operand()), dotted(s.Operand()),
				source.Plain(s.FieldName()))
		} else {
			e.fault(at, "`%s` cannot be read here: %s has no measures", source.Plain(s.FieldName()), source.Quote(dotted(s.Operand())))
		}
		return sort{}
	}
	f, ok := of.shape.fields[s.FieldName()]
	if !ok && of.shape.variable == "limits" && e.env.pack.isRefused("limits", s.FieldName()) {
		e.silent = true
		return sort{}
	}
	if !ok {
		what := "measure `" + of.shape.variable + "."
		if of.shape.variable == "limits" {
			what = "limit `"
		}
		e.fault(at, "unknown %s%s`%s", what, source.Plain(s.FieldName()), suggest(s.FieldName(), of.shape.names()))
		return sort{}
	}
	p := dotted(x)
	switch shown := cmp.Or(p, of.shape.variable+"."+f.name); {
	case s.IsTestOnly() && !f.optional:
		instead := ""
		if f.typ == subject.Text && f.words == nil {
			instead = fmt.Sprintf("; where the file does not state it, it is empty: `%s == \"\"`", shown)
		}
		e.fault(at, "`%s` is always present; leave `has( )` out%s", shown, instead)
	case f.optional && !s.IsTestOnly() && (p == "" || !known[p]):
		e.fault(at, "`%s` may be absent; ask first: `has(%s) && ...`, here or in `when`", shown, shown)
	}
	if f.of != nil {
		return sort{shape: f.of, list: true, field: f}
	}
	return sort{field: f}
}

// fieldAt is the first letter of the field that a selection reads.
func (e *examiner) fieldAt(x ast.Expr) int {
	id := x.ID()
	if call, ok := e.tree.SourceInfo().GetMacroCall(id); ok && len(call.AsCall().Args()) == 1 {
		id = call.AsCall().Args()[0].ID()
	}
	at := e.offset(id)
	for at < len(e.text) && (e.text[at] == '.' || e.text[at] == ' ' || e.text[at] == '\n' || e.text[at] == '\t') {
		at++
	}
	return at
}

// loop examines a comprehension. What it gives is known for filter alone: subjects of its list.
func (e *examiner) loop(x ast.Expr, known facts) sort {
	l, ok := asLoop(e.tree, x)
	if !ok {
		e.fault(e.offset(x.ID()), "this comprehension is not available; known are all, exists, exists_one, filter, sum, least and greatest")
		return sort{}
	}
	list := e.look(l.list, known)
	found := len(e.faults)
	if taken := e.taken(l.variable); taken != "" {
		e.fault(e.offset(l.at), "`%s` already names %s; choose another name", source.Plain(l.variable), taken)
		return sort{}
	}
	e.loops[l.variable] = sort{shape: list.shape, unit: e.scope().unit(l.list)}
	e.look(l.condition, known.without(l.variable).with(e.chosen(l)))
	delete(e.loops, l.variable)
	if (l.macro == "least" || l.macro == "greatest") && !known[filled(e.tree, l.list)] && len(e.faults) == found {
		e.fault(e.nameAt(e.offset(x.ID()), l.macro), "`%s` has no value where the list is empty; ask first: "+
			"`size(%s) > 0 && ...`, here or in `when`", l.macro, source.Plain(e.listText(l)))
	}
	if l.macro == operators.Filter {
		return list
	}
	return sort{}
}

// chosen are the facts on a comprehension's variable that filter has made sure of for its list.
func (e *examiner) chosen(l loop) facts {
	all := facts{}
	for f, ok := asLoop(e.tree, l.list); ok && f.macro == operators.Filter; f, ok = asLoop(e.tree, f.list) {
		for p := range present(e.tree, f.condition, true) {
			if name, ok := strings.CutPrefix(p, f.variable+"."); ok {
				all[l.variable+"."+name] = true
			}
		}
	}
	return all
}

// listText is the list of a function over a list as its author wrote it.
func (e *examiner) listText(l loop) string {
	all := tokens(e.text)
	open := slices.IndexFunc(all, func(t token) bool { return t.from >= e.nameAt(e.offset(l.id), l.macro) && t.word == "(" })
	if open < 0 {
		return "list"
	}
	return between(e.text, all, open+1, reach(all, open, 1, []string{","}))
}

// without leaves out the facts that speak of one variable.
func (f facts) without(variable string) facts {
	rest := facts{}
	for p := range f {
		words := strings.FieldsFunc(p, func(r rune) bool { return r != '_' && !unicode.IsLetter(r) && !unicode.IsDigit(r) })
		if !slices.Contains(words, variable) {
			rest[p] = true
		}
	}
	return rest
}

// taken says what a comprehension's variable would hide, or "".
func (e *examiner) taken(name string) string {
	if _, ok := e.loops[name]; ok {
		return "the variable of the comprehension around it"
	}
	if s, ok := e.env.shapes[name]; ok {
		if subject.KindNamed(s.variable) != nil {
			return "a kind of subject"
		}
		return "the " + name
	}
	if slices.Contains(callable, name) {
		return "a function"
	}
	return ""
}
