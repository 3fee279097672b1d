package report

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"corerod/checker/change"
	"corerod/checker/report/reporttest"
	"corerod/checker/report/words"
)

// TestSheetChanges: where no change clears a finding the sheet says so as the text does, and where the search ended.
func TestSheetChanges(t *testing.T) {
	r := reporttest.Reviewed(t,
		map[string]string{"post.yaml": "part: post\nunits: mm\nquantity: 100\nbodies: {arm: {circle: {diameter: 40}, from: 0, to: 6}}\n"},
		change.Options{Changes: 3})
	none := "o change of one or two numbers, or of structure, was found that clears it."
	for _, want := range []string{none, "The search for changes ended after 7 changed parts"} {
		var text, sheet bytes.Buffer
		if err := Text(&text, r); err != nil {
			t.Fatal(err)
		}
		if err := Sheet(&sheet, r, r.Parts[0]); err != nil {
			t.Fatal(err)
		}
		if n := strings.Count(text.String(), want); n == 0 || n != strings.Count(sheet.String(), want) {
			t.Errorf("%q stands %d times in\n%s\nand in\n%s", want, n, text.String(), sheet.String())
		}
		r.Parts[0].Search.Stopped, r.Parts[0].Search.Tried = true, 7
	}
}

// TestSheetMore: one comparison more is one.
func TestSheetMore(t *testing.T) {
	r := reporttest.Reviewed(t, map[string]string{"pin.yaml": "part: pin\nunits: mm\nbodies: {pin: {circle: {diameter: 10}, from: 0, to: " +
		"60}}\n"}, change.Options{})
	f := r.Parts[0].Findings[0]
	for len(f.Compared) < words.MostCompared+1 {
		f.Compared = append(f.Compared, f.Compared[0])
	}
	var sheet bytes.Buffer
	if err := Sheet(&sheet, r, r.Parts[0]); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(sheet.String(), "and 1 more comparison<") {
		t.Error("one comparison more is told of otherwise")
	}
}

// TestSheetUndrawn: of very many findings the sheet says which have no balloon.
func TestSheetUndrawn(t *testing.T) {
	text := "part: a\nunits: mm\nbodies: {a: {rectangle: {length: 30, width: 18, corner: 0.03}, from: 0, to: 24}}\ncuts:\n"
	for i := range 20 {
		at := 30 * ((float64(i)+0.5)/20 - 0.5)
		text += fmt.Sprintf("  c%d: {rectangle: {length: 1.2, width: 3.6, at: [%.3f, %.3f], corner: %.4f}}\n", i, at, 6.9-float64(i)*0.003,
			0.03+float64(i)*0.003)
	}
	r := reporttest.Reviewed(t, map[string]string{"a.yaml": text}, change.Options{})
	var sheet bytes.Buffer
	if err := Sheet(&sheet, r, r.Parts[0]); err != nil {
		t.Fatal(err)
	}
	if want := fmt.Sprintf(" to %d have no balloon.", len(r.Parts[0].Findings)); len(r.Parts[0].Findings) < 100 ||
		!strings.Contains(sheet.String(), want) {
		t.Errorf("the sheet of %d findings does not say%s", len(r.Parts[0].Findings), want)
	}
}

// TestFileNames: the files of sheets have names of their own where large and small letters are the same, too.
func TestFileNames(t *testing.T) {
	names := [][2]string{{"a/gear.yaml", "gear"}, {"b/Gear.yaml", "Gear-2"}, {"gear-2.yaml", "gear-2-2"}, {"Index.yaml", "part"},
		{"index.yml", "part-2"}, {"index-3.yaml", "part-index-3"}, {`c\--cam b.yaml`, "cam-b"}}
	var files []string
	for _, x := range names {
		files = append(files, x[0])
	}
	got := FileNames(files)
	for _, x := range names {
		if got[x[0]] != x[1] {
			t.Errorf("%s has the name %s, not %s", x[0], got[x[0]], x[1])
		}
	}
}
