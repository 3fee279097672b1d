package source

import (
	"fmt"
	"math/rand"
	"strings"
	"testing"

	"gopkg.in/yaml.v3"
)

// scalars calls f for every value of a tree that is one value.
func scalars(n *Node, f func(*Node)) {
	if n.Shape == Scalar {
		f(n)
	}
	for _, item := range n.Items {
		scalars(item, f)
	}
}

const styles = `# café
plain: a >= b && bad01 < 2
"éé": a >= b && bad02 < 2
lines: a >= b &&
  bad03 < 2
single: 'name == ''x'' && bad04 < 2'
double: "name == \"x\" && \u0061 < 2 && bad05 < 2"
double-lines: "a >= b &&
  a < 3 && \
  bad06 < 2"
double-blank: "a >= b &&

    bad07 < 2"
literal: |
  a >= b &&
    bad08 < 2
literal-header: |2-

  a >= b &&
   bad09 < 2
folded: >-
  a >= b &&
  a < 2 &&

  bad10 < 2
folded-deep: >
  a >= b &&
    a < 3 &&
  bad11 < 2
kept: |+ # the lines below stay
  bad12 < 2

flow: {one: "é && bad13 < 2", two: a >= b && bad14 < 2}
list: [bad15 < 2, 'é bad16 < 2']
single-lines: 'a &&

  é bad17
  < 2'
last: >+
  a
  bad18 < 2
`

func TestInside(t *testing.T) {
	for name, text := range map[string]string{
		"lf": styles, "crlf": strings.ReplaceAll(styles, "\n", "\r\n"), "mark": "\ufeff" + styles, "no last line end": strings.TrimRight(styles, "\n"),
	} {
		root, ps := Parse("f.yaml", []byte(text))
		if len(ps) > 0 {
			t.Fatal(name, ps)
		}
		lines, seen := strings.Split(strings.TrimPrefix(text, "\ufeff"), "\n"), 0
		scalars(root, func(n *Node) {
			before, _, ok := strings.Cut(n.Value, "bad")
			if !ok {
				return
			}
			seen++
			at := len([]rune(before))
			word := string([]rune(n.Value)[at : at+5])
			line, column := n.Inside(at)
			if got := string([]rune(lines[line-1])[column-1:]); !strings.HasPrefix(got, word) {
				t.Errorf("%s: %s is placed at line %d, column %d: %q", name, word, line, column, got)
			}
		})
		if seen != 18 {
			t.Errorf("%s: %d values looked at", name, seen)
		}
	}
}

// TestInsideEnds names the places of the first rune and of the end of a value.
func TestInsideEnds(t *testing.T) {
	for _, c := range []struct {
		text, first, end string
	}{
		{"k: abc", "1:4", "1:7"},
		{"k: 'abc'", "1:5", "1:8"},
		{"k: \"a\\tc\"", "1:5", "1:9"},
		{"k: |-\n  abc\nz: 1", "2:3", "2:6"},
		{"k: >-\n  abc\n  def\nz: 1", "2:3", "3:6"},
		{"k: ''", "1:5", "1:5"},
	} {
		root, ps := Parse("f.yaml", []byte(c.text))
		if len(ps) > 0 {
			t.Fatal(ps)
		}
		n := root.At("k")
		place := func(i int) string {
			line, column := n.Inside(i)
			return fmt.Sprintf("%d:%d", line, column)
		}
		if got := place(0); got != c.first {
			t.Errorf("%q begins at %s, want %s", c.text, got, c.first)
		}
		if got := place(len([]rune(n.Value))); got != c.end {
			t.Errorf("%q ends at %s, want %s", c.text, got, c.end)
		}
	}
}

// TestInsideOutside falls back to the node's own place where there is nothing to point at.
func TestInsideOutside(t *testing.T) {
	root, _ := Parse("f.yaml", []byte("k:\n  - 1\n  - é\n"))
	for _, c := range []struct {
		node *Node
		i    int
	}{{root.At("k"), 0}, {root.At("k").Items[0], 7}, {root.At("k").Items[1], -1}} {
		if line, column := c.node.Inside(c.i); line != c.node.Line || column != c.node.Column {
			t.Errorf("rune %d of the value in line %d is placed at %d:%d", c.i, c.node.Line, line, column)
		}
	}
}

// TestInsideRandom writes random text in every style and finds each visible rune where the file has it.
func TestInsideRandom(t *testing.T) {
	words := []string{"a", ">=", "b", "&&", "é", "名", "'x'", `"q"`, "(", ")", "1.5", "#no", "x:y", `\\`, "\t"}
	gaps := []string{"\n", "\n\n", "\n  ", "  ", " ", " ", " ", " "}
	kinds := []yaml.Style{0, yaml.DoubleQuotedStyle, yaml.SingleQuotedStyle, yaml.LiteralStyle, yaml.FoldedStyle}
	r := rand.New(rand.NewSource(1))
	placed, fallen := 0, 0
	for range 6000 {
		var b strings.Builder
		for range 1 + r.Intn(12) {
			b.WriteString(words[r.Intn(len(words))] + gaps[r.Intn(len(gaps))])
		}
		out, err := yaml.Marshal(&yaml.Node{Kind: yaml.MappingNode, Content: []*yaml.Node{
			{Kind: yaml.ScalarNode, Value: "k"}, {Kind: yaml.ScalarNode, Tag: "!!str", Value: b.String(), Style: kinds[r.Intn(len(kinds))]}}})
		if err != nil {
			continue
		}
		root, ps := Parse("f.yaml", out)
		if len(ps) > 0 {
			continue // the library writes some text that it cannot read
		}
		n := root.At("k")
		if n.places() == nil {
			fallen++
			continue
		}
		placed++
		lines := strings.Split(string(out), "\n")
		for i, c := range []rune(n.Value) {
			line, column := n.Inside(i)
			if strings.ContainsRune(" \n\t", c) {
				continue
			}
			if got := []rune(lines[line-1])[column-1]; got != c && got != '\\' {
				t.Fatalf("rune %d, %q, of %q is placed at %d:%d of\n%s", i, c, n.Value, line, column, out)
			}
		}
	}
	if placed < 5000 || fallen > 0 {
		t.Errorf("%d placed, %d not", placed, fallen)
	}
}
