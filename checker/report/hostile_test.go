package report

import (
	"bytes"
	"errors"
	"strings"
	"testing"
	"unicode"

	"corerod/checker/change"
	"corerod/checker/compare"
	"corerod/checker/report/reporttest"
)

// hostileNames are names of files that would act on a medium that shows them.
var hostileNames = []string{"<b>&\"'`|@x.yaml",
	"javascript:alert(1)\n@everyone #1 | ![x](http://example.invalid/x.png) <!-- \x1b[31m\u202e {0}.yaml", "//example.invalid/?a=1#b.yaml"}

// TestHostile: hostile texts and names of files, and long ones, stay text in every format: no element, link, mention,
// control or bidirectional character comes of them, and no line of text begins with them.
func TestHostile(t *testing.T) {
	long := strings.Replace(reporttest.HostilePart, "title: ", "title: \""+strings.Repeat("x<!--", 12000)+"\"\n#", 1)
	long = strings.Replace(long, "size: \"", "size: \""+strings.Repeat("@all ", 13000), 1)
	for i, text := range []string{reporttest.HostilePart, long, reporttest.HostilePart} {
		r := reporttest.Reviewed(t, map[string]string{hostileNames[i]: text}, change.Options{Changes: 3})
		before := reporttest.Reviewed(t, map[string]string{hostileNames[i]: strings.Replace(text, ", density: 6.8", "", 1),
			"gone" + hostileNames[i]: reporttest.HostilePart}, change.Options{})
		before.Parts[0].Part.Material.Name += "2"
		compare.WithEarlier(r, compare.EarlierOf(before, reporttest.Hostile))
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
				for _, tag := range reporttest.Tags.FindAllString(b.String(), -1) {
					if strings.Contains(tag, "script") || strings.Contains(tag, "onerror") || strings.Contains(tag, "onload") ||
						strings.Contains(tag, "<img") || strings.Contains(tag, "<b>") {
						t.Errorf("%s has the element %.60s", ending, tag)
					}
				}
				if ending == "svg" {
					reporttest.ReadSVG(t, b.Bytes())
				}
			case "md":
				inertPage(t, b.String())
			case "sarif":
				reporttest.CheckMessages(t, b.Bytes())
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

// TestSheetSince: a sheet says of each finding what became of it since an earlier review, what is cleared and changed, and what
// is gone; the front page what is gone.
func TestSheetSince(t *testing.T) {
	const text = "part: plate\nunits: mm\nbodies: {plate: {rectangle: {length: 30, width: 20, corner: 3}, from: 0, to: 6}}\ncuts: {eye: " +
		"{circle: {diameter: 8, at: [10.6, 0]}}}\n"
	parts := map[string]string{"plate.yaml": text}
	r := reporttest.Reviewed(t, parts, change.Options{})
	parts["slab.yaml"] = strings.Replace(text, "part: plate", "part: slab", 1)
	parts["plate.yaml"] = strings.Replace(text, "10.6", "10.4", 1) + "quantity: 900\n"
	compare.WithEarlier(r, compare.EarlierOf(reporttest.Reviewed(t, parts, change.Options{}), "before"))
	var sheet, front bytes.Buffer
	if err := errors.Join(Sheet(&sheet, r, r.Parts[0]), Front(&front, r)); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{", worsened</span>", "Since before: ", "Changed: quantity from 900 a year to none.",
		"the part slab of slab.yaml."} {
		if !strings.Contains(sheet.String(), want) {
			t.Errorf("the sheet does not say %q", want)
		}
	}
	if !strings.Contains(front.String(), "the part slab of slab.yaml.") {
		t.Error("the front page does not say what is gone")
	}
}
