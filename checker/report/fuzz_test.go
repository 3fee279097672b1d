package report

import (
	"bytes"
	"strings"
	"testing"

	"corerod/checker/change"
	"corerod/checker/report/reporttest"
)

// FuzzReports: whatever a part's texts say, no report fails, pages and pictures have the elements that they have for a plain
// text, and no line of text begins with it.
func FuzzReports(f *testing.F) {
	f.Add("x")
	f.Add(reporttest.Hostile)
	f.Add("</svg><b>")
	f.Add("\u202e\x1b[31m")
	base := map[string]int{}
	f.Fuzz(func(t *testing.T, text string) {
		count := func(s string) map[string]int {
			part := strings.ReplaceAll(reporttest.HostilePart, reporttest.QuotedYAML(reporttest.Hostile), reporttest.QuotedYAML(s))
			r := reporttest.Reviewed(t, map[string]string{"a.yaml": part}, change.Options{})
			n := map[string]int{}
			for ending, write := range reviewFormats(r) {
				var b bytes.Buffer
				if err := write(&b); err != nil {
					t.Fatal(ending, err)
				}
				if ending == "html" || ending == "svg" {
					n[ending] = len(reporttest.Tags.FindAll(b.Bytes(), -1))
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
