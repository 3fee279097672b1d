// Package reporttest has what the tests of the packages under report share: reviews of the demo parts, hostile texts, and pictures that
// are read again. No program imports it.
package reporttest

import (
	"context"
	"io"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"corerod/checker"
	"corerod/checker/change"
	"corerod/checker/compare"
	"corerod/checker/report/words"
	"corerod/parts/source"
	"corerod/rules"
)

// File is a part file with a text.
func File(name, text string) checker.File {
	return checker.File{Name: name, Open: func() (io.ReadCloser, error) { return io.NopCloser(strings.NewReader(text)), nil }}
}

// Compare compares two part files.
func Compare(t testing.TB, old, new string) (*compare.Comparison, words.InForce) {
	t.Helper()
	var files []checker.File
	var roots []*source.Node
	for i, text := range []string{old, new} {
		name := []string{"old.yaml", "new.yaml"}[i]
		files = append(files, File(name, text))
		root, _ := source.Parse(name, []byte(text))
		roots = append(roots, root)
	}
	b := Book(t)
	r := checker.Run(context.Background(), files, b, checker.Options{Account: true, Margins: true})
	if len(r.Parts) != 2 {
		t.Fatal(r.Unread, r.Faults)
	}
	return compare.Revisions(r.Parts[0], r.Parts[1], roots[0], roots[1]), words.InForce{Packs: b.Packs}
}

// Part reads a demo part.
func Part(t testing.TB, name string) string {
	t.Helper()
	b, err := os.ReadFile(filepath.Join(Root(t), "testdata", "mill", name+".yaml"))
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// Root is the folder of the module.
func Root(t testing.TB) string {
	t.Helper()
	dir, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	for {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			return dir
		}
		if filepath.Dir(dir) == dir {
			t.Fatal("no go.mod above")
		}
		dir = filepath.Dir(dir)
	}
}

// standardBookOnce is the standard pack in force, read once.
var standardBookOnce = sync.OnceValues(func() (*rules.Book, error) {
	p, err := rules.LoadBuiltin("press-and-sinter")
	if err != nil {
		return nil, err
	}
	b, ps := rules.NewBook(p)
	if len(ps) > 0 {
		return nil, ps
	}
	return b, nil
})

// Book is the standard pack in force.
func Book(t testing.TB) *rules.Book {
	t.Helper()
	b, err := standardBookOnce()
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// Reviewed reviews part files by the standard pack.
func Reviewed(t testing.TB, texts map[string]string, o change.Options) *checker.Review {
	t.Helper()
	b := Book(t)
	var files []checker.File
	for _, name := range slices.Sorted(maps.Keys(texts)) {
		files = append(files, File(name, texts[name]))
	}
	if o.StatusAt == "" {
		o.StatusAt = rules.Change
	}
	o.Margins = true
	r := change.Run(context.Background(), files, b, o)
	if len(r.Unread)+len(r.Faults) > 0 {
		t.Fatal(r.Unread, r.Faults)
	}
	return r
}

// DemoParts are the demo parts and a few with much to draw, by the names of their files below the folder of the module.
func DemoParts(t testing.TB) map[string]string {
	t.Helper()
	files, texts := os.DirFS(Root(t)), map[string]string{}
	for _, pattern := range []string{"testdata/mill/*.yaml", "testdata/solids/*.yaml", "rules/packs/press-and-sinter/trials/*.yaml"} {
		names, err := fs.Glob(files, pattern)
		if err != nil || len(names) == 0 {
			t.Fatal(pattern, err)
		}
		for _, n := range names {
			b, err := fs.ReadFile(files, n)
			if err != nil {
				t.Fatal(err)
			}
			texts[n] = string(b)
		}
	}
	return texts
}

// Mill reviews the hand mill's parts and one file that cannot be read.
func Mill(t testing.TB) *checker.Review {
	t.Helper()
	texts := os.DirFS(Root(t))
	names, err := fs.Glob(texts, "testdata/mill/*.yaml")
	if err != nil || len(names) == 0 {
		t.Fatal(names, err)
	}
	var files []checker.File
	for _, n := range names {
		files = append(files, checker.File{Name: n, Open: func() (io.ReadCloser, error) { return texts.Open(n) }})
	}
	files = append(files, File("bad.yaml", "part: X"))
	return checker.Run(context.Background(), files, Book(t), checker.Options{StatusAt: rules.Change, Margins: true})
}
