package main

import (
	"bytes"
	"go/ast"
	"go/token"
	"strconv"
	"strings"
)

// instead are the operators that stand in for one: the other side of a comparison, and the same without or with equality.
var instead = map[token.Token][]string{
	token.LSS: {">=", "<="}, token.LEQ: {">", "<"}, token.GTR: {"<=", ">="}, token.GEQ: {"<", ">"},
	token.EQL: {"!="}, token.NEQ: {"=="}, token.LAND: {"||"}, token.LOR: {"&&"},
}

// operator changes a comparison or a junction.
func (f *finder) operator(b *ast.BinaryExpr) {
	for _, by := range instead[b.Op] {
		f.replace(b.OpPos, len(b.Op.String()), by)
	}
}

// literal shifts a number: a whole one by one, a decimal one by a tenth, and a tolerance, which is below a thousandth, by a
// thousand times.
func (f *finder) literal(b *ast.BasicLit) {
	if by := shifted(b.Value, b.Value); b.Kind == token.INT || b.Kind == token.FLOAT {
		f.replace(b.Pos(), len(b.Value), by)
	}
}

// constant shifts a named number where it is used.
func (f *finder) constant(n *ast.Ident) {
	if value, ok := f.constants[n.Name]; ok && f.function != "-" {
		f.replace(n.Pos(), len(n.Name), shifted(n.Name, value))
	}
}

// shifted is a number, or the name of one, with its value shifted.
func shifted(says, value string) string {
	if whole, err := strconv.ParseInt(value, 0, 64); err == nil {
		if says == value {
			return strconv.FormatInt(whole+1, 10)
		}
		return "(" + says + " + 1)"
	}
	v, err := strconv.ParseFloat(strings.ReplaceAll(value, "_", ""), 64)
	switch {
	case err == nil && v == 0:
		return "1.0"
	case err == nil && v < 1e-3:
		return "(" + says + " * 1000)"
	}
	return "(" + says + " * 1.1)"
}

// body empties what is done under a condition.
func (f *finder) body(n *ast.IfStmt) {
	if len(n.Body.List) > 1 {
		f.drop(n.Body.List[0].Pos(), n.Body.List[len(n.Body.List)-1].End(), "empty: "+f.around(n.Pos()))
	}
}

// statements drops statements of a list one by one: assignments, calls, steps, and early ends.
func (f *finder) statements(list []ast.Stmt) {
	for _, s := range list {
		switch s := s.(type) {
		case *ast.AssignStmt:
			if s.Tok == token.DEFINE {
				continue // what it declares would be missing
			}
		case *ast.ExprStmt, *ast.IncDecStmt, *ast.ReturnStmt, *ast.BranchStmt, *ast.DeferStmt:
		default:
			continue
		}
		f.drop(s.Pos(), s.End(), "drop: "+f.around(s.Pos()))
	}
}

// around is the line at a place, without the space at its ends.
func (f *finder) around(at token.Pos) string {
	from, to := f.lineOf(f.offset(at))
	return strings.TrimSpace(string(f.text[from:to]))
}

// offset is a place in the bytes of the file.
func (f *finder) offset(at token.Pos) int { return f.places.Position(at).Offset }

// lineOf is where the line of a byte starts and ends.
func (f *finder) lineOf(at int) (from, to int) {
	from = bytes.LastIndexByte(f.text[:at], '\n') + 1
	to = len(f.text)
	if n := bytes.IndexByte(f.text[at:], '\n'); n >= 0 {
		to = at + n
	}
	return from, to
}

// replace adds the mutant with other words at a place of one line.
func (f *finder) replace(at token.Pos, length int, by string) {
	i := f.offset(at)
	from, to := f.lineOf(i)
	was := strings.TrimSpace(string(f.text[from:to]))
	is := strings.TrimSpace(string(f.text[from:i]) + by + string(f.text[i+length:to]))
	f.add(at, i, i+length, by, was+" => "+is)
}

// drop adds the mutant without what stands between two places, told with the line before it. The lines stay, so that messages
// name the right ones.
func (f *finder) drop(from, to token.Pos, says string) {
	i, j := f.offset(from), f.offset(to)
	if f.seen[[2]int{i, j}] {
		return
	}
	f.seen[[2]int{i, j}] = true
	f.add(from, i, j, strings.Repeat("\n", bytes.Count(f.text[i:j], []byte("\n"))), says)
	start, _ := f.lineOf(i)
	before, _ := f.lineOf(max(start-1, 0))
	f.all[len(f.all)-1].after = " after: " + strings.TrimSpace(string(f.text[before:start]))
}

func (f *finder) add(at token.Pos, from, to int, by, change string) {
	f.all = append(f.all, mutant{file: f.file, function: f.function, line: f.places.Position(at).Line, change: change, from: from,
		to: to, by: by})
}

// text is a file with the change made.
func (m *mutant) text(was []byte) []byte {
	return append(append(append([]byte{}, was[:m.from]...), m.by...), was[m.to:]...)
}
