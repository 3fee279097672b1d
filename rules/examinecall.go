package rules

import (
	"math"
	"slices"
	"strings"

	"corerod/parts/source"
	"corerod/parts/subject"

	"github.com/google/cel-go/common/ast"
	"github.com/google/cel-go/common/operators"
	"github.com/google/cel-go/common/types"
)

// callable lists the functions of conditions and texts, macros included.
var callable = []string{"abs", "all", "contains", "distance", "endsWith", "exists", "exists_one", "filter", "from_inch", "grade_width",
	"greatest", "has", "least", "round", "size", "startsWith", "sum", "table", "within"}

// ofText are the functions that stand behind a text.
var ofText = []string{"startsWith", "endsWith", "contains"}

// macros are those of them that stand behind a list; they are calls only where they are written wrongly.
var macros = []string{"all", "exists", "exists_one", "filter"}

// built lists the operators that expressions have.
var built = []string{operators.LogicalAnd, operators.LogicalOr, operators.LogicalNot, operators.Conditional, operators.Equals,
	operators.NotEquals, operators.In, operators.Less, operators.LessEquals, operators.Greater, operators.GreaterEquals,
	operators.Add, operators.Subtract, operators.Multiply, operators.Divide, operators.Negate, operators.Index}

// call examines an operator or function and its arguments.
func (e *examiner) call(x ast.Expr, known facts) sort {
	c := x.AsCall()
	name := c.FunctionName()
	switch {
	case name == operators.LogicalAnd:
		e.look(c.Args()[0], known)
		e.look(c.Args()[1], known.with(present(e.tree, c.Args()[0], true)))
		return sort{}
	case name == operators.LogicalOr:
		e.look(c.Args()[0], known)
		e.look(c.Args()[1], known.with(present(e.tree, c.Args()[0], false)))
		return sort{}
	case name == operators.Conditional:
		e.look(c.Args()[0], known)
		yes := e.look(c.Args()[1], known.with(present(e.tree, c.Args()[0], true)))
		e.look(c.Args()[2], known.with(present(e.tree, c.Args()[0], false)))
		e.sameUnit(x, c.Args()[1:])
		return yes
	case !e.available(x):
		return sort{}
	}
	var sorts []sort
	found := len(e.faults)
	for _, a := range parts(e.tree, x) {
		sorts = append(sorts, e.look(a, known))
	}
	e.units(x)
	switch name {
	case "distance":
		e.outlines(c, sorts)
	case operators.Equals, operators.NotEquals, operators.In:
		e.words(c.Args())
		e.alike(x)
	case operators.Less, operators.LessEquals, operators.Greater, operators.GreaterEquals:
		e.alike(x)
	case operators.Divide:
		e.given = known
		if len(e.faults) == found && !e.silent && e.sign(c.Args()[1]) == 0 {
			e.fault(e.offset(x.ID()),
				"the divisor may be 0; divide by measures that are always above zero, limits and numbers other than 0, "+
					"or write a product%s",
				e.sizeGuard(c.Args()[1]))
		}
	case operators.Index:
		if len(sorts) > 0 {
			return sort{shape: sorts[0].shape}
		}
	case operators.Add:
		if len(sorts) > 0 && sorts[0].list {
			return sorts[0]
		}
	}
	return sort{}
}

// outlines checks that a distance is measured between subjects that have an outline in plan.
func (e *examiner) outlines(c ast.CallExpr, sorts []sort) {
	m := implication{pack: e.env.pack, a: e.tree, b: e.tree, names: map[string]string{}}
	if len(c.Args()) == 2 && len(sorts) == 2 && sorts[0].shape != nil && m.same(c.Args()[0], c.Args()[1]) {
		e.fault(e.start(e.offset(c.Args()[1].ID())), "`distance` measures from a subject to itself here; name another one")
		return
	}
	for i, a := range c.Args() {
		if i >= len(sorts) || len(c.Args()) != 2 || e.silent {
			return
		}
		at := e.start(e.offset(a.ID()))
		switch s := sorts[i]; {
		case s.shape == nil && s.field == nil && a.Kind() == ast.IdentKind: // an unknown name, told of
		case s.list:
			e.fault(at,
				"`distance` measures between two subjects, and %s is a list; ask its elements, as in `%s.all(x, distance(x, ...) >= ...)`",
				e.called(a), firstOf(dotted(a), "list"))
		case s.shape == nil:
			e.fault(at, "`distance` measures between two subjects, and %s is none", e.called(a))
		case !s.shape.outlined:
			e.fault(at, "a %s has no outline in plan to measure from; `distance` measures between %s", s.shape.variable,
				strings.Join(outlinedKinds(), ", "))
		}
	}
}

// outlinedKinds are the kinds of subjects that a distance can be measured from.
func outlinedKinds() (all []string) {
	for _, k := range subject.Kinds() {
		if k.Outline != "" {
			all = append(all, k.List)
		}
	}
	return all
}

// alike reports a comparison of a measure with itself.
func (e *examiner) alike(x ast.Expr) {
	m := implication{pack: e.env.pack, a: e.tree, b: e.tree, names: map[string]string{}}
	if args := x.AsCall().Args(); len(args) == 2 && m.same(args[0], args[1]) &&
		mentions(e.tree, x, func(name string) bool { return name != "limits" }) {
		e.fault(e.offset(x.ID()), "both sides of `%s` are the same", strings.Trim(x.AsCall().FunctionName(), "_@"))
	}
}

// present lists the optional measures that are there, and the lists that hold something, when a condition has a given
// outcome.
func present(tree *ast.AST, x ast.Expr, outcome bool) facts {
	if x.Kind() == ast.SelectKind && x.AsSelect().IsTestOnly() && outcome {
		return facts{dotted(x): true}
	}
	if x.Kind() != ast.CallKind {
		return filledWhen(tree, x, outcome)
	}
	c := x.AsCall()
	switch {
	case c.FunctionName() == operators.LogicalNot:
		return present(tree, c.Args()[0], !outcome)
	case c.FunctionName() == operators.LogicalAnd && outcome, c.FunctionName() == operators.LogicalOr && !outcome:
		return present(tree, c.Args()[0], outcome).with(present(tree, c.Args()[1], outcome))
	}
	return filledWhen(tree, x, outcome)
}

// wholeIndex tells whether an index that is written out is a whole number from 0; others show when they are used.
func wholeIndex(x ast.Expr) bool {
	if isCall(x, operators.Negate) {
		return false
	}
	if x.Kind() != ast.LiteralKind {
		return true
	}
	v, ok := x.AsLiteral().(types.Double)
	return ok && v >= 0 && float64(v) == math.Trunc(float64(v))
}

// available tells whether a function or operator may stand where it does. In one piece: a list of cases of which the first
// that holds words the fault, so that their order is what a reader looks for.
func (e *examiner) available(x ast.Expr) bool {
	c, at := x.AsCall(), e.offset(x.ID())
	name := c.FunctionName()
	switch {
	case name == operators.Index && e.inText && !wholeIndex(c.Args()[1]):
		e.fault(e.offset(c.Args()[1].ID()), "`[ ]` takes a whole number from 0")
		return false
	case name == operators.Index && dotted(c.Args()[0]) == "limits":
		key, _ := textLiteral(c.Args()[1])
		e.fault(at, "a limit is read with a point: `limits.%s`", source.Plain(firstOf(key, "wall_least")))
	case name == operators.Index && !e.inText:
		e.fault(at, "`[ ]` may reach past the list; it stands only in `says`")
	case slices.Contains(built, name):
		return true
	case name == "%_" || strings.HasPrefix(name, "_"):
		e.fault(at, "the operator `%s` is not available", strings.Trim(name, "_"))
	case slices.Contains(printing, name) && !c.IsMemberFunction():
		if e.inText {
			return true
		}
		e.fault(e.nameAt(at, name), "`%s` prints a number; it stands only in `says`%s", name, sizeInstead(name))
	case slices.Contains(macros, name):
		e.fault(e.nameAt(at, name), "`%s` stands behind its list and names each element, as in `part.walls.%s(w, w.web)`", name, name)
	case isOverList(name) && (c.IsMemberFunction() || name == "sum"):
		e.fault(e.nameAt(at, name), "`%s` takes a list, a name for each element and a number of it, as in `%s(part.holes, h, h.width)`",
			name, name)
	case slices.Contains(ofText, name) && !c.IsMemberFunction():
		e.fault(e.nameAt(at, name), "`%s` stands behind its text, as in `hole.name.%s(\"pin\")`", name, name)
	case name == "size" && len(c.Args()) < 2 || c.IsMemberFunction() == slices.Contains(ofText, name) && slices.Contains(callable, name):
		return e.tableNamed(x)
	case name == "size" && !c.IsMemberFunction():
		e.fault(e.nameAt(at, name), "`size` takes one list; for some of its elements write `size(list.filter(x, condition))`")
	case slices.Contains(callable, name):
		e.fault(e.nameAt(at, name), "`%s` is called with all that it takes in brackets, as in `%s(x)`, not behind a point", name, name)
	case instead[strings.ToLower(name)] != "" && !c.IsMemberFunction():
		e.fault(e.nameAt(at, name), "`%s` cannot stand here; write `%s`", source.Plain(name), instead[strings.ToLower(name)])
	case adviceOn(name) != "":
		e.fault(e.nameAt(at, name), "unknown function `%s`; write %s", source.Plain(name), adviceOn(name))
	case elsewhere[strings.ToLower(name)] != "":
		e.fault(e.nameAt(at, name), "unknown function `%s`; did you mean `%s`?", source.Plain(name), elsewhere[strings.ToLower(name)])
	default:
		candidates := callable
		if e.inText {
			candidates = slices.Sorted(slices.Values(slices.Concat(callable, printing)))
		}
		e.fault(e.nameAt(at, name), "unknown function `%s`%s", source.Plain(name), suggest(name, candidates))
	}
	return false
}

// nameAt is the first letter of the name of a function whose bracket, or name, stands at a rune.
func (e *expression) nameAt(at int, name string) int {
	letters := []rune(name)
	for from := at; from >= 0 && from > at-len(letters)-8; from-- {
		if slices.Equal(e.text[from:min(from+len(letters), len(e.text))], letters) {
			return from
		}
	}
	return at
}

// tableNamed checks the name of a table.
func (e *examiner) tableNamed(x ast.Expr) bool {
	c := x.AsCall()
	if c.FunctionName() != "table" && c.FunctionName() != "within" || len(c.Args()) == 0 {
		return true
	}
	at := e.start(e.offset(c.Args()[0].ID()))
	name, ok := textLiteral(c.Args()[0])
	if !ok {
		e.fault(at, "the name of a table is written out, in quotes")
		return false
	}
	_, ok = e.env.pack.Tables[name]
	switch {
	case !ok && e.env.pack.isRefused("tables", name):
		e.silent = true
		return false
	case !ok:
		e.fault(at, "unknown table %s%s", source.Quote(name), suggest(name, sortedKeys(e.env.pack.Tables)))
		return false
	}
	return true
}

// sortedKeys lists the keys of a map in order.
func sortedKeys[V any](m map[string]V) []string {
	all := make([]string, 0, len(m))
	for k := range m {
		all = append(all, k)
	}
	slices.Sort(all)
	return all
}

// sizeInstead says how elements are counted, of functions that elsewhere count them.
func sizeInstead(name string) string {
	if name == "length" || name == "count" {
		return "; how many elements a list has is `size(list)`"
	}
	return ""
}
