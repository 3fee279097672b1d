package reporttest

import (
	"os"
	"path/filepath"
	"testing"

	"corerod/checker/prove"
	"corerod/rules"
)

// Catalogue is every rule of the built-in packs, once.
func Catalogue(t *testing.T) (all []prove.Entry) {
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
		for _, e := range prove.Catalogue(p, prove.Pack(p, b, func(file string) ([]byte, error) { return rules.BuiltinFile(name, file) },
			false)) {
			if e.Rule.From == p {
				all = append(all, e)
			}
		}
	}
	return all
}

// PictureFile is the file name of the picture of a rule's failing trial or near miss.
func PictureFile(r *rules.Rule, found bool) string {
	return r.Name + map[bool]string{true: "-found.svg", false: "-near.svg"}[found]
}

// CheckFolder fails where the files of a folder, without those of folders in it, are not the wanted ones by their names. With
// COREROD_UPDATE=1 it writes them first, and takes out those that are none: one by one, other tests look at them meanwhile.
func CheckFolder(t *testing.T, folder string, want map[string]string) {
	t.Helper()
	update := os.Getenv("COREROD_UPDATE") != ""
	if update {
		if err := os.MkdirAll(folder, 0o755); err != nil {
			t.Fatal(err)
		}
		for name, text := range want {
			if err := os.WriteFile(filepath.Join(folder, name), []byte(text), 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
	found, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	there := map[string]bool{}
	for _, f := range found {
		file := filepath.Join(folder, f.Name())
		text, known := want[f.Name()]
		switch {
		case f.IsDir():
		case !known && update:
			if err := os.Remove(file); err != nil {
				t.Fatal(err)
			}
		case !known:
			t.Errorf("%s has no source; COREROD_UPDATE=1 takes it out", file)
		default:
			there[f.Name()] = true
			if got, err := os.ReadFile(file); err != nil || string(got) != text {
				t.Errorf("%s is stale (%v); COREROD_UPDATE=1 go test ./checker/report/... writes it", file, err)
			}
		}
	}
	for name := range want {
		if !there[name] {
			t.Errorf("%s has no %s", folder, name)
		}
	}
}
