package report

import (
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"corerod/checker/prove"
	"corerod/checker/report/reporttest"
)

// TestGeneratedCatalogue: docs/catalogue has a page for each rule and an index, as the packs and their trials give them.
// COREROD_UPDATE=1 writes them.
func TestGeneratedCatalogue(t *testing.T) {
	entries := reporttest.Catalogue(t)
	want := map[string]string{"README.md": CatalogueIndex(entries)}
	for i := range entries {
		e := &entries[i]
		want[e.Rule.Name+".md"] = CataloguePage(e)
		if e.Fails == nil || e.Misses == nil || len(e.Measures) == 0 {
			t.Errorf("%s: a page without a trial that it finds, a near miss or a measure", e.Rule.Name)
		}
	}
	reporttest.CheckFolder(t, filepath.Join(reporttest.Root(t), "docs", "catalogue"), want)
	i := slices.IndexFunc(entries, func(e prove.Entry) bool { return e.Rule.Name == "wall-thickness" })
	if i < 0 || !strings.Contains(CataloguePage(&entries[i]), "| `wall_least` | 1.5 mm | Kalpakjian and Schmid") {
		t.Error("the page of wall-thickness does not name its limit and source")
	}
}
