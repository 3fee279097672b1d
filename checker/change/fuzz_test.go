package change

import (
	"context"
	"strconv"
	"strings"
	"testing"

	"corerod/checker"
	"corerod/parts/source"
	"corerod/rules"
)

// FuzzChanges: whatever numbers a part has, the search ends within its budget and every change that it shows can be made.
func FuzzChanges(f *testing.F) {
	f.Add(0.7, 8.0, 3.0)
	f.Add(1.2, 30.0, 0.05)
	f.Add(0.01, 2.0, 1.0)
	p, err := rules.LoadBuiltin("press-and-sinter")
	if err != nil {
		f.Fatal(err)
	}
	book, _ := rules.NewBook(p)
	f.Fuzz(func(t *testing.T, wall, height, corner float64) {
		text := []byte(strings.NewReplacer("WALL", number(12-wall), "HEIGHT", number(height), "CORNER", number(corner)).Replace(
			"part: a\nunits: mm\nbodies: {a: {rectangle: {length: 40, width: 30, corner: CORNER}, from: 0, to: HEIGHT}}\ncuts: {e: {circle: {diameter: 6, at: [0, WALL]}}}\n"))
		r := Run(context.Background(), []checker.File{fileOf("a.yaml", text)}, book,
			Options{Changes: 2, Options: checker.Options{StatusAt: rules.Change, Workers: 1}})
		if len(r.Faults) > 0 {
			t.Fatal(r.Faults)
		}
		for _, p := range r.Parts {
			if p.Search != nil && p.Search.Tried > MostTried {
				t.Fatalf("%d tried", p.Search.Tried)
			}
			for _, x := range p.Findings {
				for _, c := range x.Changes {
					doc, _ := source.Open("a.yaml", text)
					b, err := doc.With(editsOf(c.Sets)...)
					if err != nil {
						t.Fatal(err)
					}
					if _, ps := checker.Read("a.yaml", b, book); len(ps) > 0 {
						t.Fatalf("%v: %v", c.Sets, ps)
					}
				}
			}
		}
	})
}

func number(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
