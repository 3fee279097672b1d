package rules

import (
	"strings"
	"testing"
)

// TestOperands cuts both sides of the comparison at the mark ^ out of an expression.
func TestOperands(t *testing.T) {
	for _, c := range []struct{ text, left, right string }{
		{"a ^>= b", "a", "b"},
		{"(a) ^>= ((b + 1))", "a", "b + 1"},
		{"(a + 1) * (b) ^<= c", "(a + 1) * (b)", "c"},
		{"x && a.b /\n  c ^< d || y", "a.b / c", "d"},
		{"!(a ^== b)", "a", "b"},
		{"!a ^== b", "!a", "b"},
		{"p ? a ^< 1 : b", "a", "1"},
		{"f(a, b ^< c, d)", "b", "c"},
		{"a < b ^== c", "a < b", "c"},
		{"a ^== b == c", "a", "b"},
		{"m ^in [1, 2]", "m", "[1, 2]"},
		{"l.all(x, x.y ^> l[0] + 1.5)", "x.y", "l[0] + 1.5"},
		{"'a && (' + b ^!= \"c\\\"d\"", "'a && (' + b", `"c\"d"`},
		{"a // x && y\n ^> b // z", "a", "b"},
		{"1.5 ^< é.b", "1.5", "é.b"},
	} {
		text := []rune(strings.Replace(c.text, "^", "", 1))
		left, right := operands(text, len([]rune(c.text[:strings.Index(c.text, "^")])))
		if left != c.left || right != c.right {
			t.Errorf("%s: %q and %q, want %q and %q", c.text, left, right, c.left, c.right)
		}
	}
}

// TestClause cuts the operand of logical operators around the mark ^ out of an expression.
func TestClause(t *testing.T) {
	for _, c := range []struct{ text, clause string }{
		{"a && b^.c || d", "b.c"},
		{"!b^.c", "b.c"},
		{"!(b^.c)", "b.c"},
		{"x && has^(a.b) && y", "has(a.b)"},
		{"l.exists_one^(w, w.a && w.b) || c", "l.exists_one(w, w.a && w.b)"},
		{"^a", "a"},
		{"p ? a^.b : c", "a.b"},
	} {
		text := []rune(strings.Replace(c.text, "^", "", 1))
		if got := clause(text, len([]rune(c.text[:strings.Index(c.text, "^")]))); got != c.clause {
			t.Errorf("%s: %q, want %q", c.text, got, c.clause)
		}
	}
}
