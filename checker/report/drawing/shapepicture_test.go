package drawing

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"corerod/checker"
	"corerod/checker/change"
	"corerod/checker/report/reporttest"
)

// example is a part of a page: its name and its file.
var example = regexp.MustCompile("(?s)```yaml\n(part: ([a-z0-9-]+)\n.*?)```\n(\n!\\[[^\n]*\n)?")

// TestGeneratedShapePictures: docs/shapes has a picture of each part of docs/shapes.md, and the page shows it. COREROD_UPDATE=1 writes both.
func TestGeneratedShapePictures(t *testing.T) {
	docs := filepath.Join(reporttest.Root(t), "docs")
	page := filepath.Join(docs, "shapes.md")
	b, err := os.ReadFile(page)
	if err != nil {
		t.Fatal(err)
	}
	want := map[string]string{}
	text := example.ReplaceAllStringFunc(string(b), func(block string) string {
		m := example.FindStringSubmatch(block)
		want[m[2]+".svg"] = shapePicture(t, m[2], m[1])
		return fmt.Sprintf("```yaml\n%s```\n\n![plan and section of %s](shapes/%[2]s.svg)\n", m[1], m[2])
	})
	if n := strings.Count(text, "```yaml"); n != len(want) {
		t.Fatalf("%d examples, %d of them parts with names of their own", n, len(want))
	}
	reporttest.CheckFolder(t, filepath.Join(docs, "shapes"), want)
	if os.Getenv("COREROD_UPDATE") != "" {
		if err := os.WriteFile(page, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	} else if text != string(b) {
		t.Error("docs/shapes.md shows other pictures than there are; COREROD_UPDATE=1 writes it")
	}
}

// shapePicture draws the plan and sections of a part, without findings.
func shapePicture(t *testing.T, name, text string) string {
	t.Helper()
	r := reporttest.Reviewed(t, map[string]string{name + ".yaml": text}, change.Options{}).Parts[0]
	r.Findings = nil
	return views(r)
}

// views is a picture of the plan and sections of a part, as large as a trial's.
func views(r *checker.PartReview) string {
	s := newSheet(r, "")
	scale := s.views(4, 4, pictureWide-8, pictureHigh-8)
	low, high := s.low, s.high+8
	s.bar(8, high-4, scale)
	drawn := s.b.String()
	return fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 %s %s %s" font-family="sans-serif" color="black" `+
		`fill="currentColor">`+"\n<rect y=\"%s\" width=\"100%%\" height=\"100%%\" fill=\"white\"/>\n%s</svg>\n",
		mm(low), mm(pictureWide), mm(high-low), mm(low), drawn)
}
