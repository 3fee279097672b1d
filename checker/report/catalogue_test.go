package report

import (
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"corerod/checker/prove"
	"corerod/rules"
)

// catalogue is every rule of the built-in packs, once.
func catalogue(t *testing.T) (all []prove.Entry) {
	t.Helper()
	for _, name := range []string{"press-and-sinter", "plain-bearings"} {
		p, ps := rules.LoadBuiltinWhole(name)
		if len(ps) > 0 {
			t.Fatal(ps)
		}
		b, ps := rules.NewBook(p)
		if len(ps) > 0 {
			t.Fatal(ps)
		}
		for _, e := range prove.Catalogue(p, prove.Pack(p, b, func(file string) ([]byte, error) { return rules.BuiltinFile(name, file) }, false)) {
			if e.Rule.From == p {
				all = append(all, e)
			}
		}
	}
	return all
}

// TestGeneratedCatalogue: docs/catalogue has a page for each rule and an index, as the packs and their trials give them.
// COREROD_UPDATE=1 writes them.
func TestGeneratedCatalogue(t *testing.T) {
	const folder = "../../docs/catalogue"
	entries := catalogue(t)
	want := map[string]string{"README.md": CatalogueIndex(entries)}
	for i := range entries {
		e := &entries[i]
		want[e.Rule.Name+".md"] = CataloguePage(e)
		want[CataloguePicture(e.Rule, true)], want[CataloguePicture(e.Rule, false)] = TrialPicture(e.Fails), TrialPicture(e.Misses)
		if e.Fails == nil || e.Misses == nil || len(e.Measures) == 0 {
			t.Errorf("%s: a page without a trial that it finds, a near miss or a measure", e.Rule.Name)
		}
	}
	if os.Getenv("COREROD_UPDATE") != "" {
		writeCatalogue(t, folder, want)
	}
	for _, name := range filesIn(t, folder) {
		got, err := os.ReadFile(filepath.Join(folder, name))
		if err != nil {
			t.Fatal(err)
		}
		if string(got) != want[name] {
			t.Errorf("docs/catalogue/%s is stale; run COREROD_UPDATE=1 go test ./checker/report", name)
		}
		delete(want, name)
	}
	for name := range want {
		t.Errorf("docs/catalogue has no %s", name)
	}
	if i := slices.IndexFunc(entries, func(e prove.Entry) bool { return e.Rule.Name == "wall-thickness" }); i < 0 || !strings.Contains(CataloguePage(&entries[i]), "| `wall_least` | 1.5 mm | Kalpakjian and Schmid") {
		t.Error("the page of wall-thickness does not name its limit and source")
	}
}

// writeCatalogue writes the pages and pictures and takes out what is none: one by one, other tests look at them meanwhile.
func writeCatalogue(t *testing.T, folder string, want map[string]string) {
	t.Helper()
	if err := os.MkdirAll(filepath.Join(folder, "pictures"), 0o755); err != nil {
		t.Fatal(err)
	}
	for _, name := range filesIn(t, folder) {
		if want[name] == "" {
			if err := os.Remove(filepath.Join(folder, name)); err != nil {
				t.Fatal(err)
			}
		}
	}
	for name, text := range want {
		if err := os.WriteFile(filepath.Join(folder, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// filesIn lists the files of a folder and of those in it.
func filesIn(t *testing.T, folder string) (names []string) {
	t.Helper()
	err := fs.WalkDir(os.DirFS(folder), ".", func(p string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			names = append(names, p)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return names
}
