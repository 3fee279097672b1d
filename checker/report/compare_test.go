package report

import (
	"bytes"
	"fmt"
	"io"
	"regexp"
	"strings"
	"testing"
	"unicode/utf8"

	"corerod/checker/compare"
	"corerod/checker/report/data"
	"corerod/checker/report/reporttest"
	"corerod/checker/report/words"
)

// formats are all that a comparison is written in.
var formats = map[string]func(io.Writer, *compare.Comparison, words.InForce) error{"text": Compare, "json": data.Compare,
	"markdown": CompareMarkdown}

func formatted(t *testing.T, format string, c *compare.Comparison, in words.InForce) string {
	t.Helper()
	var b bytes.Buffer
	if err := formats[format](&b, c, in); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// TestCompareSame: two runs give the same bytes, in every format.
func TestCompareSame(t *testing.T) {
	for format := range formats {
		first := ""
		for range 3 {
			c, in := reporttest.Compare(t, reporttest.Part(t, "crank-hub"), reporttest.Part(t, "feed-gear"))
			text := formatted(t, format, c, in)
			if first != "" && text != first {
				t.Errorf("%s differs:\n%s\n%s", format, first, text)
			}
			first = text
		}
	}
}

// TestCompareMarkdownLong: a page of very many findings is cut before 60,000 characters, says how many lines it leaves out,
// and still ends with what was in force and the caution; the text has all. Long texts are shortened.
func TestCompareMarkdownLong(t *testing.T) {
	var b strings.Builder
	b.WriteString("part: sieve\nunits: mm\ntitle: " + strings.Repeat("sieve | ", 500) +
		"\nbodies:\n  plate: {rectangle: {length: 320, width: 320, corner: 5}, from: 0, to: 16}\n")
	old := b.String()
	b.WriteString("cuts:\n")
	for i := range 240 {
		fmt.Fprintf(&b, "  hole-%d: {circle: {diameter: %g, at: [%d, %d]}}\n", i, 0.3+float64(i)/1000, i%15*20-140, i/15*20-150)
	}
	c, in := reporttest.Compare(t, old, b.String())
	if n := c.Count(compare.Gained); n < 200 {
		t.Fatalf("%d findings", n)
	}
	page, text := formatted(t, "markdown", c, in), formatted(t, "text", c, in)
	if n := utf8.RuneCountInString(page); n > 60_000 || n < 50_000 {
		t.Errorf("the page has %d characters", n)
	}
	cut := regexp.MustCompile(`\n(\d+) lines were left out here: the page would be longer than 60000 characters.`).FindStringSubmatch(page)
	if cut == nil || !strings.HasSuffix(page, "\n"+markdown(words.Caution)+"\n") || !strings.Contains(page, "In force: press-and-sinter") {
		t.Errorf("the page ends\n%s", page[len(page)-600:])
	}
	if n := strings.Count(text, "gained, "); n != c.Count(compare.Gained) {
		t.Errorf("the text has %d of %d findings", n, c.Count(compare.Gained))
	}
	if head, _, _ := strings.Cut(page, "\n"); len(head) > 3*mostCell+200 || !strings.HasSuffix(head, "...") {
		t.Errorf("the head is %s", head)
	}
}

// TestCompareWords: how values, shares and figures are worded.
func TestCompareWords(t *testing.T) {
	for share, want := range map[float64]string{0.5: "+50 %", -0.0123: "-1.2 %", 2.345: "+235 %", -0.000006: "-0.0006 %",
		1e-12: "+1e-10 %"} {
		if got := percent(share); got != want {
			t.Errorf("%g is %s, want %s", share, got, want)
		}
	}
	const part = "part: a\nunits: mm\nbodies:\n  a: {circle: {diameter: 20}, from: 0, to: 6}\n"
	for _, x := range []struct{ old, new, want string }{
		{"diameter: 20", "diameter: 20.000000001", "changed: bodies.a, line 4: circle.diameter from 20 to 20.000000001 mm\n"},
		{"diameter: 20", "diameter: 20.00001", "across  20 mm              20.00001 mm        +0.00005 %\n"},
		{"to: 6", "to: 6.5", "changed: bodies.a, line 4: `to` from 6 to 6.5 mm\n"},
		{"{diameter: 20}", "{diameter: 20, at: [1, -2]}", "circle.at added as [1, -2] mm\n"},
		{"circle: {diameter: 20}", "hexagon: {across_flats: 20}", "circle becomes hexagon; hexagon.across_flats added as 20 mm;\n"},
		{"bodies:", "title: a b\nbodies:", "title added as `a b`, line 3\n"},
	} {
		c, in := reporttest.Compare(t, part, strings.Replace(part, x.old, x.new, 1))
		if text := formatted(t, "text", c, in); !strings.Contains(text, x.want) {
			t.Errorf("%s: there is no %q in\n%s", x.new, x.want, text)
		}
	}
}
