package report

import (
	"bytes"
	"strings"
	"testing"

	"corerod/checker/change"
)

// FuzzEarlier: whatever an earlier review holds, it is read or refused, and as a lot it is joined or refused.
func FuzzEarlier(f *testing.F) {
	for _, seed := range []string{"", "null", "[]", "{}", `{"corerod":{"version":"1","format":1},"parts":[]}`, `{"corerod":{"version":"1","format":1},"parts":[{"findings":[{"grade":"stop","compared":[{"value":1e9}]}]}]}`,
		`{"corerod":{"version":"1","format":1},"parts":[],"lot":{"lot":1,"lots":1}}`, strings.Repeat("[", 2000)} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		e, err := ReadEarlier("x.json", b)
		if (e == nil) == (err == nil) {
			t.Fatal(e, err)
		}
		if out, _, err := Join([]Lot{{Name: "x.json", JSON: b}}); err == nil {
			if again, err := ReadEarlier("y.json", out); err != nil || len(again.Parts) != len(e.Parts) {
				t.Fatalf("joined it is %q: %v", out, err)
			}
		}
	})
}

// FuzzReports: whatever a part's texts say, no report fails, pages and pictures have the elements that they have for a plain
// text, and no line of text begins with it.
func FuzzReports(f *testing.F) {
	f.Add("x")
	f.Add(hostile)
	f.Add("</svg><b>")
	f.Add("\u202e\x1b[31m")
	base := map[string]int{}
	f.Fuzz(func(t *testing.T, text string) {
		count := func(s string) map[string]int {
			part := strings.ReplaceAll(hostilePart, quotedYAML(hostile), quotedYAML(s))
			r := reviewed(t, map[string]string{"a.yaml": part}, change.Options{})
			n := map[string]int{}
			for ending, write := range reviewFormats(r) {
				var b bytes.Buffer
				if err := write(&b); err != nil {
					t.Fatal(ending, err)
				}
				if ending == "html" || ending == "svg" {
					n[ending] = len(tags.FindAll(b.Bytes(), -1))
				}
			}
			return n
		}
		if strings.TrimSpace(text) == "" || len(text) > 2000 {
			return
		}
		if len(base) == 0 {
			base = count("x")
		}
		for ending, n := range count(text) {
			if n != base[ending] {
				t.Errorf("%q: %s has %d elements, not %d", text, ending, n, base[ending])
			}
		}
	})
}
