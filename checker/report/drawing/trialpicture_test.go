package drawing

import (
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
	return views(r)
}
