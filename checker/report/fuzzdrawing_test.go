package report

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"io"
	"maps"
	"regexp"
	"slices"
	"strings"
	"testing"

	"corerod/checker"
	"corerod/checker/compare"
	"corerod/checker/report/data"
	"corerod/checker/report/drawing"
	"corerod/checker/report/reporttest"
	"corerod/checker/report/words"
	"corerod/parts/form"
	"corerod/parts/source"
	"corerod/rules"
)

// reviewable reviews a text where it is a part, with the book that judged it; nil where it is none.
func reviewable(t *testing.T, text []byte) *checker.Review {
	t.Helper()
	if len(text) > 4000 {
		return nil // to keep one input short
	}
	b := reporttest.Book(t)
	r := checker.Run(context.Background(), []checker.File{reporttest.File("a.yaml", string(text))}, b,
		checker.Options{StatusAt: rules.Change, Workers: 1, Account: true})
	if len(r.Faults) > 0 {
		t.Fatal(r.Faults)
	}
	if len(r.Parts) == 0 {
		return nil
	}
	return r
}

// addParts gives a target the demo parts to begin with.
func addParts(f *testing.F) {
	all := reporttest.DemoParts(f)
	for _, name := range slices.Sorted(maps.Keys(all)) {
		text := all[name]
		if strings.Contains(name, "/mill/") || strings.Contains(name, "/solids/") && len(text) < 700 {
			f.Add([]byte(text), uint8(len(text)), int16(len(text)%21-10))
		}
	}
	f.Add([]byte(reporttest.HostilePart), uint8(0), int16(0))
}

// withNumber moves one number of a part file by some steps of those that drawings have, so that it stays a part more often.
func withNumber(text []byte, pick uint8, steps int16) []byte {
	doc, ps := source.Open("a.yaml", text)
	if len(ps) > 0 {
		return text
	}
	all := form.Numbers(doc.Root)
	if len(all) == 0 {
		return text
	}
	n := all[int(pick)%len(all)]
	to, ok := n.Move(int(steps))
	if b, err := doc.With(n.Edits(to)...); ok && err == nil {
		return b
	}
	return text
}

// FuzzDrawing: of every part that can be reviewed the drawing and the page are well-formed, stand within their sheets, show
// the plan and the sections with their areas, and hold no script and nothing from elsewhere; the table, the measures and the
// tool are told in plain numbers and words.
func FuzzDrawing(f *testing.F) {
	addParts(f)
	f.Fuzz(func(t *testing.T, text []byte, pick uint8, steps int16) {
		r := reviewable(t, withNumber(text, pick, steps))
		if r == nil {
			return
		}
		p := r.Parts[0]
		var sheets, page bytes.Buffer
		if err := errors.Join(drawing.Sheets(&sheets, p), Sheet(&page, r, p)); err != nil {
			t.Fatal(err)
		}
		root := reporttest.ReadSVG(t, sheets.Bytes())
		reporttest.CheckViews(t, p, root)
		reporttest.CheckOnPaper(t, root)
		pictures := reporttest.Pieces(page.String(), "<svg ", "</svg>")
		if len(pictures) == 0 {
			t.Fatal("a page without a picture")
		}
		for _, x := range pictures {
			reporttest.CheckOnPaper(t, reporttest.ReadSVG(t, []byte(x)))
		}
		checkLinks(t, page.String())
		reporttest.CheckQuiet(t, "the drawing", sheets.String())
		reporttest.CheckQuiet(t, "the page", page.String())
		d := &checker.Derived{Part: p.Part, Subject: p.Subject, Layout: p.Layout}
		for what, write := range map[string]func(io.Writer) error{
			"tooling":      func(w io.Writer) error { return Tooling(w, d, r.Packs(), nil) },
			"tooling.json": func(w io.Writer) error { return data.Tooling(w, d, r.Packs(), nil) },
			"table":        func(w io.Writer) error { return Table(w, p.Subject, nil, r.Packs(), nil) },
			"measure.json": func(w io.Writer) error { return data.Measures(w, p.Subject, r.Packs(), nil) },
		} {
			var b bytes.Buffer
			if err := write(&b); err != nil {
				t.Fatal(what, err)
			}
			reporttest.CheckQuiet(t, what, b.String())
			if strings.HasSuffix(what, ".json") && !json.Valid(b.Bytes()) {
				t.Errorf("%s is no JSON: %s", what, b.String())
			}
		}
	})
}

var (
	linkTo = regexp.MustCompile(`<[^>]*? (?:href|src|action)="([^"]*)"`)
	idOf   = regexp.MustCompile(`<[^>]*? id="([^"]*)"`)
)

// checkLinks fails where a page has a script, a link out of it or to nothing, or two elements of one name.
func checkLinks(t *testing.T, page string) {
	t.Helper()
	names := map[string]int{}
	for _, x := range idOf.FindAllStringSubmatch(page, -1) {
		names[x[1]]++
		if names[x[1]] > 1 {
			t.Errorf("%s is there twice", x[1])
		}
	}
	for _, x := range linkTo.FindAllStringSubmatch(page, -1) {
		if to, ok := strings.CutPrefix(x[1], "#"); !ok || names[to] == 0 {
			t.Errorf("a link to %q", x[1])
		}
	}
	for _, tag := range reporttest.Tags.FindAllString(page, -1) {
		if strings.HasPrefix(tag, "<script") || strings.HasPrefix(tag, "<img") || strings.Contains(tag, " on") &&
			regexp.MustCompile(` on[a-z]+=`).MatchString(tag) {
			t.Errorf("a page has %.60s", tag)
		}
	}
}

// FuzzCompare: two parts that can be reviewed are compared in every format, in plain numbers and words; the other way round
// what was added is removed, and a part differs from itself in nothing.
func FuzzCompare(f *testing.F) {
	all := reporttest.DemoParts(f)
	for _, name := range slices.Sorted(maps.Keys(all)) {
		if text := all[name]; strings.Contains(name, "/mill/") {
			f.Add([]byte(text), []byte(strings.Replace(text, "diameter: 1", "diameter: 1.0", 1)))
			f.Add([]byte(text), []byte(all["testdata/mill/crank-hub.yaml"]))
		}
	}
	f.Add([]byte(reporttest.HostilePart), []byte(strings.Replace(reporttest.HostilePart, "to: 8", "to: 9", 1)))
	f.Fuzz(func(t *testing.T, old, new []byte) {
		a, b := reviewable(t, old), reviewable(t, new)
		if a == nil || b == nil {
			return
		}
		rootA, _ := source.Parse("a.yaml", old)
		rootB, _ := source.Parse("a.yaml", new)
		c, back := compare.Revisions(a.Parts[0], b.Parts[0], rootA, rootB), compare.Revisions(b.Parts[0], a.Parts[0], rootB, rootA)
		if !compare.Revisions(a.Parts[0], a.Parts[0], rootA, rootA).Nothing() {
			t.Error("a part differs from itself")
		}
		for how, other := range map[compare.How]compare.How{compare.Gained: compare.Cleared, compare.Cleared: compare.Gained,
			compare.Worsened: compare.Eased, compare.Eased: compare.Worsened} {
			if c.Count(how) != back.Count(other) || c.Nothing() != back.Nothing() {
				t.Errorf("%d are %s, and the other way %d %s", c.Count(how), how, back.Count(other), other)
			}
		}
		for name := range formats {
			text := formatted(t, name, c, words.InForce{Packs: a.Packs()})
			reporttest.CheckQuiet(t, name, text)
			if name == "json" && !json.Valid([]byte(text)) {
				t.Errorf("no JSON: %s", text)
			}
		}
	})
}
