package report

import (
	"bytes"
	"strings"
	"testing"

	"corerod/checker/change"
	"corerod/rules"
)

// TestSheetChanges: where no change clears a finding the sheet says so as the text does, and where the search ended.
func TestSheetChanges(t *testing.T) {
	r := reviewed(t, map[string]string{"post.yaml": "part: post\nunits: mm\nbodies: {arm: {circle: {diameter: 40}, from: 0, to: 6}, big: {circle: {diameter: 30}, from: 0, to: 12}, small: {circle: {diameter: 20}, from: 0, to: 18}}\nhold: [arm.diameter, big.diameter, small.diameter, arm.height, big.height, small.height]\n"}, change.Options{Changes: 3})
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
	r := reviewed(t, map[string]string{"pin.yaml": "part: pin\nunits: mm\nbodies: {pin: {circle: {diameter: 10}, from: 0, to: 60}}\n"}, change.Options{})
	f := r.Parts[0].Findings[0]
	for len(f.Compared) < mostCompared+1 {
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

// TestFileNames: the files of sheets have names of their own where large and small letters are the same, too.
func TestFileNames(t *testing.T) {
	names := [][2]string{{"a/gear.yaml", "gear"}, {"b/Gear.yaml", "Gear-2"}, {"gear-2.yaml", "gear-2-2"}, {"Index.yaml", "part"}, {"index.yml", "part-2"}, {"index-3.yaml", "part-index-3"}, {`c\--cam b.yaml`, "cam-b"}}
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

// TestMissedByLittle: what is missed by less than the last digit shown is not said to be missed by nothing.
func TestMissedByLittle(t *testing.T) {
	by := 0.00002
	c := rules.Compared{Measure: "wall.thickness", Value: 1.99998, Unit: "mm", Needs: ">=", Limit: 2.0, MissesBy: &by}
	for unit, want := range map[string]string{"mm": "wall.thickness is 2 mm, needed at least 2 mm, missed by less than 0.0001 mm", "in": "wall.thickness is 0.078739 in, needed at least 0.07874 in, missed by 0.000001 in"} {
		if got := compared(&c, unit); got != want {
			t.Errorf("%s, want %s", got, want)
		}
	}
	by = 0.000002
	if got := compared(&c, "in"); !strings.HasSuffix(got, "missed by less than 0.000001 in") {
		t.Error(got)
	}
}
