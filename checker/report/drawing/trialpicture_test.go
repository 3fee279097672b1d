package drawing

import (
	"fmt"
	"path/filepath"
	"testing"

	"corerod/checker"
	"corerod/checker/prove"
	"corerod/checker/report/reporttest"
)

// TestGeneratedTrialPictures: docs/catalogue/pictures has the failing trial and the near miss of each rule. COREROD_UPDATE=1 writes
// them.
func TestGeneratedTrialPictures(t *testing.T) {
	want := map[string]string{}
	for _, e := range reporttest.Catalogue(t) {
		want[reporttest.PictureFile(e.Rule, true)], want[reporttest.PictureFile(e.Rule, false)] = trialPicture(e.Fails),
			trialPicture(e.Misses)
	}
	reporttest.CheckFolder(t, filepath.Join(reporttest.Root(t), "docs", "catalogue", "pictures"), want)
}

// trialPicture draws the plan and sections of a trial's part, with what its rule alone finds.
func trialPicture(x *prove.Tried) string {
	r, _ := checker.Assemble(x.Derived, x.Outcome) // faults were told as the trial was tried
	s := newSheet(r, "")
	scale := s.views(4, 4, pictureWide-8, pictureHigh-8)
	low, high := s.low, s.high+8
	s.bar(8, high-4, scale)
	drawn := s.b.String()
	return fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 %s %s %s" font-family="sans-serif" color="black" `+
		`fill="currentColor">`+"\n<rect y=\"%s\" width=\"100%%\" height=\"100%%\" fill=\"white\"/>\n%s</svg>\n",
		mm(low), mm(pictureWide), mm(high-low), mm(low), drawn)
}
