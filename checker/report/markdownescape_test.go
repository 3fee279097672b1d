package report

import (
	"html"
	"math/rand/v2"
	"regexp"
	"strings"
	"testing"

	"corerod/parts/source"
)

// TestMarkdown: text as it stands in a Markdown page.
func TestMarkdown(t *testing.T) {
	for text, want := range map[string]string{
		"":                           "",
		"the wall is 0.6 mm thick.":  "the wall is 0.6 mm thick.",
		"+12 %, HM-0151":             `\+12 %, HM-0151`,
		"line 9 (cuts.pin)":          "line 9 \\(`cuts.pin`\\)",
		"parts/old.yaml":             "`parts/old.yaml`",
		"a_b *c* `d` \\":             "a\\_b \\*c\\* \\`d\\` \\\\",
		"@all #12 !7":                `\@&#8288;all \#&#8288;12 \!&#8288;7`,
		"fix gh-12, high-12":         "fix gh-&#8288;12, high-12",
		"http://evil.example":        "http:&#8288;`//evil.example`",
		"www.":                       "www&#8288;.",
		"x@evil.example":             "x\\@&#8288;`evil.example`",
		"![a](b) [c][d]":             `\!&#8288;\[a\]\(b\) \[c\]\[d\]`,
		"<b>x</b> <!-- y -->":        "&lt;b&gt;x&lt;/b&gt; &lt;\\!-- y --&gt;",
		"a|b":                        "a&#124;b",
		":warning: $x$":              `\:&#8288;warning: \$&#8288;x\$`,
		"1. one":                     `1\. one`,
		"2.5 mm":                     "2.5 mm",
		"- one":                      `\- one`,
		"    code":                   "&#32;&#32;&#32;&#32;code",
		"ends  ":                     "ends &#32;",
		"two\nlines\x1b[31m\u202e":   `two\\nlines\\x1b\[31m\\u202e`,
		"commit b41e6a8f4ab6, 12345": "commit `b41e6a8f4ab6`, 12345",
		"drawing 1004567":            "drawing 1004567",
	} {
		if got := markdown(text); got != want {
			t.Errorf("%q is written %q, want %q", text, got, want)
		}
	}
}

// live are what programs make links, mentions and pictures of, escaped or not, in text that is no code.
var live = regexp.MustCompile(`(?i)@\w|#\w|\bgh-\d|[a-z]://|www\.|[\pL\d]\.\pL|:[\w+-]+:|\b\d*[a-f][0-9a-f]{6,}\b|[!%~&^$]\w`)

// TestMarkdownHostile: over random texts of what has a meaning in Markdown, what is shown is the text itself, nothing in it
// is live, and no character is left that has a meaning.
func TestMarkdownHostile(t *testing.T) {
	bits := []string{"@", "user", "#", "12", "http://", "www.", "evil.com", "://", "`", "``", "|", "<b>", "<!--", "-->", "![x](",
		"](http://a.b)", "[a]", "*", "**", "_", "~~", "$", ":smile:",
		"&amp;", "&#64;", "\\", "\n", "    ", "- ", "1. ", "1)", " " +
			"", "a", "gh-12", "GH-3", "b41e6a8f4ab6", "user@evil.com", "mailto:", "[^1]", "---", "===", "+++", "# ", "> " +
			"", "{=html}", "é.com", ".", "=",
		"\"", "'", "!", "%", "^", "~", ":-", "<script>", "\u200b", "\u202e", "//", "owner/repo#1", "[x] "}
	rng := rand.New(rand.NewPCG(7, 7))
	for range 20_000 {
		var b strings.Builder
		for range 1 + rng.IntN(7) {
			b.WriteString(bits[rng.IntN(len(bits))])
		}
		text := b.String()
		page := markdown(text)
		shown, prose := read(t, page)
		if want := source.Plain(text); shown != want {
			t.Fatalf("%q is shown as %q, want %q", page, shown, want)
		}
		if x := live.FindString(prose); x != "" {
			t.Fatalf("%q of %q is live: %q", x, text, page)
		}
		if strings.ContainsAny(page, "<>|\n") || strings.HasPrefix(page, " ") || strings.HasSuffix(page, " ") {
			t.Fatalf("%q is written %q", text, page)
		}
	}
}

// read is what a page of one paragraph shows, by the rules of CommonMark for escapes, references and code, and the same
// with a dash for each piece of code. It fails where a character with a meaning stands by itself.
func read(t *testing.T, page string) (shown, prose string) {
	t.Helper()
	var s, p strings.Builder
	for rest := page; rest != ""; {
		switch c := rest[0]; {
		case c == '\\' && len(rest) > 1:
			s.WriteByte(rest[1])
			p.WriteByte(rest[1])
			rest = rest[2:]
		case c == '&':
			ref, after, _ := strings.Cut(rest, ";")
			text := html.UnescapeString(ref + ";")
			p.WriteString(text)
			s.WriteString(strings.TrimPrefix(text, "\u2060"))
			rest = after
		case c == '`':
			code, after, ok := strings.Cut(rest[1:], "`")
			if !ok || code == "" || strings.HasPrefix(after, "`") {
				t.Fatalf("code in %q does not end", page)
			}
			s.WriteString(code)
			p.WriteString("\u2014")
			rest = after
		case strings.IndexByte("*_{}[]()#!~$^=@", c) >= 0:
			t.Fatalf("%q stands by itself in %q", c, page)
		default:
			s.WriteByte(c)
			p.WriteByte(c)
			rest = rest[1:]
		}
	}
	return s.String(), p.String()
}
