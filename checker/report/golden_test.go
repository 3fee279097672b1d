package report

import (
	"bytes"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"corerod/checker"
	"corerod/checker/change"
	"corerod/checker/report/data"
	"corerod/checker/report/drawing"
	"corerod/checker/report/reporttest"
)

// reviewFormats are those that a review of one part is written in, by the ending of their files.
func reviewFormats(r *checker.Review) map[string]func(io.Writer) error {
	return map[string]func(io.Writer) error{
		"txt":   func(w io.Writer) error { return Text(w, r) },
		"json":  func(w io.Writer) error { return whole(data.NewJSON(w, r), r) },
		"html":  func(w io.Writer) error { return Sheet(w, r, r.Parts[0]) },
		"svg":   func(w io.Writer) error { return drawing.Sheets(w, r.Parts[0]) },
		"md":    func(w io.Writer) error { return Markdown(w, r) },
		"sarif": func(w io.Writer) error { return whole(data.NewSARIF(w, r), r) },
	}
}

// TestGolden: testdata/golden holds the demo parts in every format, byte for byte; a second run gives the same.
// COREROD_UPDATE=1 writes them.
func TestGolden(t *testing.T) {
	const folder = "../../testdata/golden"
	for name, text := range reporttest.DemoParts(t) {
		if !strings.Contains(name, "/mill/") {
			continue
		}
		base := strings.TrimSuffix(filepath.Base(name), ".yaml")
		first := reviewFormats(reporttest.Reviewed(t, map[string]string{base + ".yaml": text},
			change.Options{Changes: 3, Options: checker.Options{Workers: 1}}))
		second := reviewFormats(reporttest.Reviewed(t, map[string]string{base + ".yaml": text},
			change.Options{Changes: 3, Options: checker.Options{Workers: 4}}))
		for ending := range first {
			var a, b bytes.Buffer
			if first[ending](&a) != nil || second[ending](&b) != nil {
				t.Fatal(ending)
			}
			if !bytes.Equal(a.Bytes(), b.Bytes()) {
				t.Errorf("%s.%s differs from run to run", base, ending)
			}
			file := filepath.Join(folder, base+"."+ending)
			if os.Getenv("COREROD_UPDATE") != "" {
				if err := os.MkdirAll(folder, 0o755); err != nil {
					t.Fatal(err)
				}
				if err := os.WriteFile(file, a.Bytes(), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			if want, err := os.ReadFile(file); err != nil || !bytes.Equal(a.Bytes(), want) {
				t.Errorf("%s is stale; run COREROD_UPDATE=1 go test ./checker/report", file)
			}
		}
	}
}
