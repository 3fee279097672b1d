package report

import (
	"bytes"
	"encoding/json"
	"errors"
	"net/url"
	"regexp"
	"strings"
	"testing"
	"unicode"

	"corerod/checker/change"
	"corerod/checker/compare"
	"corerod/parts/source"
)

// hostilePart has in every text what could act on a medium that shows it.
var hostilePart = "part: hostile\ntitle: " + quotedYAML(hostile) + "\ndrawing: " + quotedYAML(hostile) + "\nrevision: " + quotedYAML(hostile) + "\nunits: mm\nmaterial: {name: " + quotedYAML(hostile) + ", density: 6.8}\n" +
	"bodies: {a: {circle: {diameter: 30}, from: 0, to: 8}}\ncuts: {b: {circle: {diameter: 28.9}}}\nsides: {thread: {thread: {size: " + quotedYAML(hostile) + ", inside: true}, in: b}}\n" +
	"marks: {m: {on: a.top, recessed: 0.1, box: [14.7, 0, 0.1, 0.1], text: " + quotedYAML(hostile) + "}}\n"

// hostile is text that would be a script, a link, a mention, a table break, an escape or another order in some medium.
const hostile = "</title></svg><script>alert(1)</script><img src=x onerror=alert(2)>\" ' onload=\"alert(3)\" &lt;b&gt; ]]> --> {{.}} %s %n @everyone #1 | a | b |\n" +
	"![x](http://example.invalid/x.png) [y](javascript:alert(4)) <!-- ``` ~~~ \x1b[31m \x1b]8;;http://example.invalid\x07 \u202e \u2066 \u200b \ufeff \u2028 \u0085 \\ * _ http://example.invalid/"

// quotedYAML writes text as a double-quoted scalar with every character that is not plain as an escape.
func quotedYAML(s string) string {
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

// tags are the elements of a page or picture.
var tags = regexp.MustCompile(`<[^>]*>`)

// hostileNames are names of files that would act on a medium that shows them.
var hostileNames = []string{"<b>&\"'`|@x.yaml", "javascript:alert(1)\n@everyone #1 | ![x](http://example.invalid/x.png) <!-- \x1b[31m\u202e {0}.yaml", "//example.invalid/?a=1#b.yaml"}

// TestHostile: hostile texts and names of files, and long ones, stay text in every format: no element, link, mention,
// control or bidirectional character comes of them, and no line of text begins with them.
func TestHostile(t *testing.T) {
	long := strings.Replace(hostilePart, "title: ", "title: \""+strings.Repeat("x<!--", 12000)+"\"\n#", 1)
	long = strings.Replace(long, "size: \"", "size: \""+strings.Repeat("@all ", 13000), 1)
	for i, text := range []string{hostilePart, long, hostilePart} {
		r := reviewed(t, map[string]string{hostileNames[i]: text}, change.Options{Changes: 3})
		before := reviewed(t, map[string]string{hostileNames[i]: strings.Replace(text, ", density: 6.8", "", 1), "gone" + hostileNames[i]: hostilePart}, change.Options{})
		before.Parts[0].Part.Material.Name += "2"
		compare.WithEarlier(r, compare.EarlierOf(before, hostile))
		for ending, write := range reviewFormats(r) {
			var b bytes.Buffer
			if err := write(&b); err != nil {
				t.Fatal(err)
			}
			for _, c := range b.String() {
				if c != '\n' && (unicode.IsControl(c) || unicode.Is(unicode.Cf, c) || c == 0x2028 || c == 0x2029) {
					t.Errorf("%s holds %U", ending, c)
					break
				}
			}
			switch ending {
			case "html", "svg":
				for _, tag := range tags.FindAllString(b.String(), -1) {
					if strings.Contains(tag, "script") || strings.Contains(tag, "onerror") || strings.Contains(tag, "onload") || strings.Contains(tag, "<img") || strings.Contains(tag, "<b>") {
						t.Errorf("%s has the element %.60s", ending, tag)
					}
				}
				if ending == "svg" {
					readSVG(t, b.Bytes())
				}
			case "md":
				inertPage(t, b.String())
			case "sarif":
				inertMessages(t, b.Bytes())
			case "txt":
				for line := range strings.Lines(b.String()) {
					if strings.HasPrefix(line, "<") {
						t.Errorf("a line begins with text of the file: %.60s", line)
					}
				}
			}
		}
	}
}

// inertMessages fails where a message of SARIF acts on what shows it, or a file is named by more than a path.
func inertMessages(t *testing.T, b []byte) {
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
				without := strings.ReplaceAll(v, wordJoiner, "")
				if x := acting.FindString(v); x != "" || without != source.Plain(without) {
					t.Errorf("%q acts in %.200q", x, v)
				}
			case "uri":
				if u, err := url.Parse(v); err != nil || u.Host != "" || u.RawQuery != "" || u.Fragment != "" || u.Scheme != "" && u.Scheme != "file" {
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

// TestSheetSince: a sheet says of each finding what became of it since an earlier review, what is cleared and changed, and what
// is gone; the front page what is gone.
func TestSheetSince(t *testing.T) {
	const text = "part: plate\nunits: mm\nbodies: {plate: {rectangle: {length: 30, width: 20, corner: 3}, from: 0, to: 6}}\ncuts: {eye: {circle: {diameter: 8, at: [10.6, 0]}}}\n"
	parts := map[string]string{"plate.yaml": text}
	r := reviewed(t, parts, change.Options{})
	parts["slab.yaml"] = strings.Replace(text, "part: plate", "part: slab", 1)
	parts["plate.yaml"] = strings.Replace(text, "10.6", "10.4", 1) + "quantity: 900\n"
	compare.WithEarlier(r, compare.EarlierOf(reviewed(t, parts, change.Options{}), "before"))
	var sheet, front bytes.Buffer
	if err := errors.Join(Sheet(&sheet, r, r.Parts[0]), Front(&front, r)); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{", worsened</span>", "Since before: ", "Changed: quantity from 900 a year to none.", "the part slab of slab.yaml."} {
		if !strings.Contains(sheet.String(), want) {
			t.Errorf("the sheet does not say %q", want)
		}
	}
	if !strings.Contains(front.String(), "the part slab of slab.yaml.") {
		t.Error("the front page does not say what is gone")
	}
}
