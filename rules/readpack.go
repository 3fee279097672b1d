package rules

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"corerod/parts/source"
	"corerod/parts/stock"
	"corerod/parts/subject"
)

// reading is one file of a pack while it is read.
type reading struct {
	source.Reader
	pack  *Pack
	units string // of figures that state none
}

// head reads what the pack as a whole states.
func (r *reading) head(root *source.Node) {
	p := r.pack
	if n := r.Require(root, "a pack", "pack"); n != nil {
		p.Name, _ = r.Name(n, "`pack`")
	}
	if n := r.Require(root, "a pack", "version"); n != nil {
		p.Version = r.version(n, "`version`")
	}
	if n := r.Require(root, "a pack", "title"); n != nil {
		p.Title = r.words(n, "`title`")
	}
	if n := root.At("units"); n != nil {
		if w, ok := r.Word(n, "`units`", subject.MM, unitInch); ok {
			r.units = w
		}
	}
	if n := root.At("builds_on"); n != nil {
		r.buildsOn(n, "`builds_on`")
	}
}

// body reads what any file of a pack can hold.
func (r *reading) body(root *source.Node) {
	r.changes(root)
	r.section(root, "sources", "a source", source.IsName, r.source)
	r.section(root, "limits", "a limit", isFigureName, r.limit)
	r.section(root, "tables", "a table", isFigureName, r.table)
	r.section(root, "materials", "a material", isStockName, r.material)
	r.section(root, "curves", "a curve", source.IsName, r.curve)
	r.section(root, "presses", "a press", isStockName, r.press)
	r.section(root, "rules", "a rule", source.IsName, r.rule)
	r.trials(root)
}

// section reads a map of named things, one by one.
func (r *reading) section(root *source.Node, key, what string, named func(string) bool, read func(name, of *source.Node)) {
	n := root.At(key)
	if n == nil || n.Null {
		return
	}
	if n.Shape != source.Map {
		r.Report(n, "`%s` needs names with values, not %s", key, n.Shape)
		r.pack.refused[key] = true
		return
	}
	for i, k := range n.Keys {
		switch {
		case !named(k.Value):
			r.Report(k, "%s is no name of %s: %s", source.Quote(k.Value), what, nameForm(key))
		case n.Items[i].Shape != source.Map:
			r.Report(n.Items[i], "%s needs keys with values, not %s", what, n.Items[i].Shape)
		default:
			before := len(r.Problems)
			read(k, n.Items[i])
			if len(r.Problems) == before {
				continue
			}
		}
		r.pack.refused[key+" "+strings.ToLower(k.Value)] = true
	}
}

// nameForm says how the names of a section are written.
func nameForm(section string) string {
	switch section {
	case "limits", "tables":
		return "a lower-case letter, then at most 63 lower-case letters, digits or underscores; CEL words are taken"
	case "materials", "presses":
		return "a letter, then at most 63 letters, digits or hyphens"
	}
	return "a lower-case letter, then at most 63 lower-case letters, digits or hyphens; CEL words are taken"
}

// celWords cannot name a limit or a table: CEL reads them as its own.
var celWords = []string{"as", "break", "const", "continue", "else", "false", "for", "function", "if", "import", "in", "let", "loop",
	"namespace", "null", "package", "return", "true", "var", "void", "while"}

// Letters and digits of names.
const (
	lower  = "abcdefghijklmnopqrstuvwxyz"
	upper  = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
	digits = "0123456789"
)

// named tells whether s begins with one of first, goes on with any of rest, and has at most 64 characters.
func named(s, first, rest string) bool {
	return s != "" && len(s) <= 64 && strings.ContainsRune(first, rune(s[0])) && strings.Trim(s, rest) == ""
}

// isFigureName tells whether s can name a limit or a table.
func isFigureName(s string) bool {
	return named(s, lower, lower+digits+"_") && !slices.Contains(celWords, s)
}

// words reads text that is printed: not empty, with nothing in it that could act on a terminal.
func (r *reading) words(n *source.Node, what string) string {
	s, ok := r.printable(n, what)
	if ok && strings.TrimSpace(s) == "" {
		r.Report(n, "%s is empty; it needs text", what)
	}
	return strings.Join(strings.Fields(s), " ")
}

// printable reads text and refuses characters that cannot be printed: control characters, written as escapes.
func (r *reading) printable(n *source.Node, what string) (string, bool) {
	s, ok := r.Text(n, what)
	if !ok {
		return "", false
	}
	for i, c := range []rune(s) {
		if c == '\n' || c == '\t' || unicode.IsPrint(c) {
			continue
		}
		at := *n
		at.Line, at.Column = n.Inside(i)
		r.Report(&at, "%s holds the character %s, which cannot be printed; leave it out", what, source.Quote(string(c)))
		return "", false
	}
	return s, true
}

// optional reads a text that may be left out.
func (r *reading) optional(of *source.Node, key string) string {
	if n := of.At(key); n != nil {
		return r.words(n, "`"+key+"`")
	}
	return ""
}

// isVersion tells whether s is three whole numbers of at most six digits, such as 1.0.0.
func isVersion(s string) bool {
	numbers := strings.Split(s, ".")
	for _, n := range numbers {
		if n == "" || len(n) > 6 || strings.Trim(n, digits) != "" {
			return false
		}
	}
	return len(numbers) == 3
}

// laterVersion tells whether version a comes after b.
func laterVersion(a, b string) bool {
	x, y := strings.Split(a, "."), strings.Split(b, ".")
	for i := range x {
		m, _ := strconv.Atoi(x[i])
		n, _ := strconv.Atoi(y[i])
		if m != n {
			return m > n
		}
	}
	return false
}

func (r *reading) version(n *source.Node, what string) string {
	s, ok := r.Text(n, what)
	if ok && !isVersion(s) {
		r.Report(n, "%s is %s; it must be three numbers with points, such as 1.0.0", what, source.Quote(s))
	}
	return s
}

// again reports a name that another file of the pack has given already.
func (r *reading) again(name *source.Node, what string, first Origin, taken bool) bool {
	if taken {
		r.Report(name, "%s `%s` is already given in %s, line %d; give it once", what, name.Value, source.Plain(first.File), first.Line)
	}
	return taken
}

func (r *reading) origin(n *source.Node) Origin {
	return Origin{r.File, n.Line, n.Column, r.pack.Name}
}

func (r *reading) source(name, of *source.Node) {
	first, taken := r.pack.Sources[name.Value]
	if r.again(name, "the source", first.Origin, taken) || !r.Map(of, "a source", forms().source.Known()...) {
		return
	}
	s := Source{By: r.optional(of, "by"), At: r.optional(of, "at"), Origin: r.origin(name)}
	if n := r.Require(of, "a source", "title"); n != nil {
		s.Title = r.words(n, "`title`")
	}
	r.pack.Sources[name.Value] = s
}

// ground reads the ground of a limit or table: its basis and source.
func (r *reading) ground(of *source.Node, what string) (basis stock.Basis, key string) {
	n := r.Require(of, what, "basis")
	if n != nil {
		w, _ := r.Word(n, "`basis`", stock.Bases...)
		basis = stock.Basis(w)
	}
	if s := of.At("source"); s != nil {
		key, _ = r.Text(s, "`source`")
	}
	if key == "" && (basis == stock.Published || basis == stock.Derived || basis == stock.Shop) {
		r.Report(n, "basis `%s` needs a `source`", basis)
	}
	return basis, key
}

// unit reads a unit, or takes the pack's where none is stated. It returns the unit that expressions see and the
// factor to it.
func (r *reading) unit(of *source.Node, key string) (string, float64) {
	unit := r.units
	if n := of.At(key); n != nil {
		unit, _ = r.Word(n, "`"+key+"`", figureUnits...)
	}
	if unit == unitInch {
		return subject.MM, inch
	}
	return unit, 1
}

func (r *reading) limit(name, of *source.Node) {
	first := r.pack.Limits[name.Value]
	if first != nil && r.again(name, "the limit", first.Origin, true) || !r.Map(of, "a limit", forms().limit.Known()...) {
		return
	}
	l := &Limit{Name: name.Value, Origin: r.origin(name)}
	var factor float64
	l.Unit, factor = r.unit(of, "unit")
	if n := r.Require(of, "a limit", "value"); n != nil {
		v, _ := r.Number(n, "`value`")
		l.Value = subject.Snap(v * factor)
		l.Shift = lastDigit(n.Value) * factor
	}
	if n := of.At("shift"); n != nil {
		l.Shift = r.positive(n, "`shift`", 1e6).Value * factor
	}
	l.Basis, l.Source = r.ground(of, "a limit")
	l.Note = r.optional(of, "note")
	r.toolFigure(l, of)
	if l.Basis == stock.Derived && l.Note == "" {
		r.Report(of.At("basis"), "basis `derived` needs a `note` that shows the sum")
	}
	r.pack.Limits[name.Value] = l
}

// lastDigit is one unit of the last digit of a written number.
func lastDigit(s string) float64 {
	mantissa, exponent, _ := strings.Cut(strings.ToLower(s), "e")
	_, decimals, _ := strings.Cut(mantissa, ".")
	e, _ := strconv.Atoi(exponent)
	return math.Pow10(e - len(decimals))
}

// toolFigure checks a limit that the layout of the tool reads by its name.
func (r *reading) toolFigure(l *Limit, of *source.Node) {
	t, value := stock.ToolFigureNamed(l.Name), of.At("value")
	switch {
	case t == nil || value == nil || l.Unit == "":
	case l.Unit != t.Unit:
		at := of.At("unit")
		if at == nil {
			at = value
		}
		r.Report(at, "`%s` is read for the layout of the tool, %s: it needs the unit %s, not %s", l.Name, t.What, t.Unit, l.Unit)
	case l.Value < t.Least || l.Value > t.Most:
		r.Report(value, "`%s` is %s; %s lies between %g and %g", l.Name, source.Quote(value.Value), t.What, t.Least, t.Most)
	}
}

func (r *reading) table(name, of *source.Node) {
	first := r.pack.Tables[name.Value]
	if first != nil && r.again(name, "the table", first.Origin, true) ||
		!r.Map(of, "a table", forms().table.Known()...) {
		return
	}
	t := &Table{Name: name.Value, Origin: r.origin(name)}
	for _, c := range []struct {
		key  string
		word *string
	}{{"x", &t.X}, {"y", &t.Y}} {
		if n := r.Require(of, "a table", c.key); n != nil {
			*c.word = r.words(n, "`"+c.key+"`")
		}
	}
	var xFactor, yFactor float64
	t.XUnit, xFactor = r.unit(of, "x_unit")
	t.YUnit, yFactor = r.unit(of, "unit")
	if n := r.Require(of, "a table", "between"); n != nil {
		w, _ := r.Word(n, "`between`", string(stock.NextRow), string(stock.PreviousRow), string(stock.Line))
		t.Between = stock.Between(w)
	}
	if n := r.Require(of, "a table", "rows"); n != nil {
		t.Rows, t.cells = r.rows(n, xFactor, yFactor)
	}
	t.Basis, t.Source = r.ground(of, "a table")
	t.Note = r.optional(of, "note")
	if len(t.Rows) > 0 {
		r.pack.Tables[name.Value] = t
	}
}

// rows reads the rows of a table, x rising.
func (r *reading) rows(n *source.Node, xFactor, yFactor float64) (rows [][2]float64, moves []cells) {
	items, ok := r.List(n, "`rows`")
	if ok && len(items) == 0 {
		r.Report(n, "`rows` is empty; a table needs at least one row [x, y]")
	}
	for _, item := range items {
		pair, ok := r.List(item, "a row")
		if !ok {
			continue
		}
		if len(pair) != 2 {
			r.Report(item, "a row has %d numbers; it needs two: [x, y]", len(pair))
			continue
		}
		x, ok1 := r.Number(pair[0], "x")
		y, ok2 := r.Number(pair[1], "y")
		row := [2]float64{subject.Snap(x * xFactor), subject.Snap(y * yFactor)}
		if last := len(rows) - 1; ok1 && ok2 && last >= 0 && row[0] <= rows[last][0] {
			r.Report(pair[0], "x is %s, not above the row before it; rows are written with x rising", source.Quote(pair[0].Value))
		}
		rows = append(rows, row)
		moves = append(moves, cells{[2]float64{lastDigit(pair[0].Value) * xFactor, lastDigit(pair[1].Value) * yFactor},
			[2]Origin{r.origin(pair[0]), r.origin(pair[1])}})
	}
	return rows, moves
}

// known reports sources that no file of the pack gives, once all files are read.
func (r *reading) known(root *source.Node) {
	keys := sortedKeys(r.pack.Sources)
	check := func(n *source.Node) {
		if n == nil || n.Shape != source.Scalar || n.Null {
			return
		}
		if _, ok := r.pack.Sources[n.Value]; !ok {
			if r.pack.isRefused("sources", n.Value) {
				return
			}
			r.Report(n, "unknown source %s%s", source.Quote(n.Value), suggestSource(n.Value, keys))
		}
	}
	for _, section := range []string{"limits", "tables", "materials", "curves", "presses"} {
		for _, of := range itemsOf(root.At(section)) {
			check(of.At("source"))
		}
	}
	for _, of := range itemsOf(root.At("rules")) {
		for _, n := range itemsOf(of.At("sources")) {
			check(n)
		}
	}
}

func suggestSource(key string, keys []string) string {
	if len(keys) == 0 {
		return fmt.Sprintf("; give `sources: {%s: {title: ...}}`", source.Plain(key))
	}
	return suggest(key, keys)
}

func itemsOf(n *source.Node) []*source.Node {
	if n == nil {
		return nil
	}
	return n.Items
}
