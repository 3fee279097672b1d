package reporttest

import (
	"encoding/json"
	"net/url"
	"regexp"
	"strings"
	"testing"
	"unicode"

	"corerod/parts/source"
)

// CheckQuiet fails where a text holds what acts on a terminal, or a number that is none.
func CheckQuiet(t *testing.T, what, text string) {
	t.Helper()
	if i := strings.IndexFunc(text, func(r rune) bool { return r != '\n' && !unicode.IsPrint(r) }); i >= 0 {
		t.Errorf("%s holds %.20q", what, text[i:])
	}
	if x := noNumber.FindString(text); x != "" {
		t.Errorf("%s holds %s", what, x)
	}
}

var noNumber = regexp.MustCompile(`[-+ "(]?(NaN|[+-]?Inf)\b`)

// HostilePart has in every text what could act on a medium that shows it.
var HostilePart = "part: hostile\ntitle: " + QuotedYAML(Hostile) + "\ndrawing: " + QuotedYAML(Hostile) + "\nrevision: " +
	QuotedYAML(Hostile) + "\nunits: mm\nmaterial: {name: " + QuotedYAML(Hostile) + ", density: 6.8}\n" +
	"bodies: {a: {circle: {diameter: 30}, from: 0, to: 8}}\ncuts: {b: {circle: {diameter: 28.9}}}\nsides: {thread: {thread: {size: " +
	QuotedYAML(Hostile) + ", inside: true}, in: b}}\n" +
	"marks: {m: {on: a.top, recessed: 0.1, box: [14.7, 0, 0.1, 0.1], text: " + QuotedYAML(Hostile) + "}}\n"

// Hostile is text that would be a script, a link, a mention, a table break, an escape or another order in some medium.
const Hostile = "</title></svg><script>alert(1)</script><img src=x onerror=alert(2)>\" ' onload=\"alert(3)\" &lt;b&gt; ]]> --> {{.}} %s " +
	"%n @everyone #1 | a | b |\n" +
	"![x](http://example.invalid/x.png) [y](javascript:alert(4)) <!-- ``` ~~~ \x1b[31m \x1b]8;;http://example.invalid\x07 \u202e \u2066 " +
	"\u200b \ufeff \u2028 \u0085 \\ * _ http://example.invalid/"

// QuotedYAML writes text as a double-quoted scalar with every character that is not plain as an escape.
func QuotedYAML(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range s {
		switch {
		case r == '"' || r == '\\':
			b.WriteString("\\" + string(r))
		case r < 0x20 || r > 0x7e:
			const digits = "0123456789abcdef"
			b.WriteString("\\u")
			for shift := 12; shift >= 0; shift -= 4 {
				b.WriteByte(digits[r>>shift&15])
			}
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}

// Tags are the elements of a page or picture.
var Tags = regexp.MustCompile(`<[^>]*>`)

// CheckMessages fails where a message of SARIF acts on what shows it, or a file is named by more than a path.
func CheckMessages(t *testing.T, b []byte) {
	t.Helper()
	var log any
	if err := json.Unmarshal(b, &log); err != nil {
		t.Fatal(err)
	}
	messages := 0
	var walk func(key string, v any)
	walk = func(key string, v any) {
		switch v := v.(type) {
		case map[string]any:
			for k, x := range v {
				if key != "insertedContent" && key != "properties" {
					walk(k, x)
				}
			}
		case []any:
			for _, x := range v {
				walk(key, x)
			}
		case string:
			switch key {
			case "text", "name":
				messages++
				without := strings.ReplaceAll(v, "\u2060", "")
				if x := Acting.FindString(v); x != "" || without != source.Plain(without) {
					t.Errorf("%q acts in %.200q", x, v)
				}
			case "uri":
				if u, err := url.Parse(v); err != nil || u.Host != "" || u.RawQuery != "" || u.Fragment != "" ||
					u.Scheme != "" && u.Scheme != "file" {
					t.Errorf("a file is named %s: %v", v, err)
				}
			}
		}
	}
	walk("", log)
	if messages < 100 {
		t.Errorf("%d messages", messages)
	}
}

// Acting is what a program that shows a message may act on.
var Acting = regexp.MustCompile(`(?i)\]\(|\]\[|\]:|!\[|@[\w\pL]|#[\w\pL]|<[!/?\pL]|[a-z]:[\w/]|www\.`)
