package data

import (
	"math/rand/v2"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"corerod/checker/report/reporttest"
	"corerod/parts/source"
)

// TestSarifURI: names of files as references, which give the name again.
func TestSarifURI(t *testing.T) {
	for name, want := range map[string]string{
		"parts/a.yaml":           "parts/a.yaml",
		"./parts//a.yaml":        "parts/a.yaml",
		"../a.yaml":              "../a.yaml",
		"standard input":         "standard%20input",
		"/srv/a b.yaml":          "file:///srv/a%20b.yaml",
		"//host/a.yaml":          "file:///host/a.yaml",
		"C:/parts/a.yaml":        "file:///C:/parts/a.yaml",
		"c:a.yaml":               "c%3Aa.yaml",
		"javascript:alert(1)":    "javascript%3Aalert%281%29",
		"?:/a":                   "%3F%3A/a",
		"a?b#c%20.yaml":          "a%3Fb%23c%2520.yaml",
		"é日.yaml":                "%C3%A9%E6%97%A5.yaml",
		"a\\b\n\x1b\u202e\xff":   "a%5Cb%0A%1B%E2%80%AE%FF",
		"<b>&\"'`|@user[x](y)!*": "%3Cb%3E%26%22%27%60%7C%40user%5Bx%5D%28y%29%21%2A",
	} {
		got := sarifURI(name)
		if got != want {
			t.Errorf("%q is %s, want %s", name, got, want)
		}
		u, err := url.Parse(got)
		if err != nil || u.Host != "" || u.RawQuery != "" || u.Fragment != "" || u.Scheme != "" && u.Scheme != "file" {
			t.Errorf("%q is %s: %v", name, got, err)
		}
	}
}

// TestSarifText: text as it stands in a message.
func TestSarifText(t *testing.T) {
	for text, want := range map[string]string{
		"the wall is 0.6 mm thick: line 9 (cuts.pin.at[0])": "the wall is 0.6 mm thick: line 9 (cuts.pin.at[0])",
		"table(\"bore_ratio\", hole.width)":                 "table(\"bore_ratio\", hole.width)",
		"{of: [a, b], radius: 0.2}":                         "{{of: [a, b], radius: 0.2}}",
		"{0} of {1}":                                        "{{0}} of {{1}}",
		"[a](b)[c][d]":                                      "[a]\u2060(b)[c]\u2060[d]",
		"![a]":                                              "!\u2060[a]",
		"@all #12 x@y.z":                                    "@\u2060all #\u206012 x@\u2060y.z",
		"http://a <!-- <b> www.a":                           "http:\u2060//a <\u2060!-- <\u2060b> www\u2060.a",
		"two\nlines\x1b[31m\u202e":                          `two\nlines\x1b[31m\u202e`,
	} {
		if got := sarifText(text); got != want {
			t.Errorf("%q is written %q, want %q", text, got, want)
		}
	}
}

// TestSarifTextHostile: over random texts of what has a meaning somewhere, nothing acts, and without what was put between and
// the doubled braces it is the text.
func TestSarifTextHostile(t *testing.T) {
	bits := []string{"@", "user", "#", "12", "http://", "www.", "evil.com", "<b>", "<!--", "-->", "![x](", "](http://a.b)", "[a]", "[", "]",
		"(", ":", ":smile:", "{0}", "{", "}", "\n", " ", "a", "mailto:", "//", "[x]: y",
		"\u202e", "\u2060", "\\", "javascript:alert(1)", "é", "|", "*"}
	rng := rand.New(rand.NewPCG(7, 9))
	for range 20_000 {
		var b strings.Builder
		for range 1 + rng.IntN(7) {
			b.WriteString(bits[rng.IntN(len(bits))])
		}
		got := sarifText(b.String())
		if x := reporttest.Acting.FindString(got); x != "" {
			t.Fatalf("%q acts in %q", x, got)
		}
		if regexp.MustCompile(`(^|[^{])(\{\{)*\{([^{]|$)`).MatchString(got) {
			t.Fatalf("a brace stands alone in %q", got)
		}
		shown := strings.NewReplacer("\u2060", "", "{{", "{", "}}", "}").Replace(got)
		if want := source.Plain(b.String()); shown != want {
			t.Fatalf("%q is shown as %q", want, shown)
		}
	}
}
