package change

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"corerod/checker"
	"corerod/rules"
)

// gapBook judges gaps between holes, over the part and over each hole.
func gapBook(t *testing.T) *rules.Book {
	t.Helper()
	rule := func(name, over, that string) string {
		return fmt.Sprintf(
			"  %s: {title: Gap, stage: tool, over: %s, need: [{grade: ask, that: '%s'}], says: near, because: b, change: c}\n", name, over,
			that)
	}
	p, ps := rules.LoadPack([]rules.File{{Name: "p.yaml",
		Bytes: []byte("pack: gaps\nversion: 1.0.0\ntitle: Gaps\nlimits: {apart: {value: 3.5, unit: mm, basis: practice}}\nrules:\n" +
			rule("each-with-each", "part", "part.holes.all(h, part.holes.all(g, h == g || distance(h, g) >= limits.apart))") +
			rule("of-each", "hole", "part.holes.all(h, h == hole || distance(h, hole) >= limits.apart)"))}}, nil)
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	book, _ := rules.NewBook(p)
	return book
}

// TestDistanceReview judges holes that are near and holes that are not, single ones and those of one repeat, and moves one
// along the line between them, which changes no other measure of it.
func TestDistanceReview(t *testing.T) {
	part := func(cuts string) []byte {
		return []byte("part: two\nunits: mm\nbodies:\n  plate: {rectangle: {length: 60, width: 40}, from: 0, to: 8}\ncuts:\n" + cuts)
	}
	single := "  a: {circle: {diameter: 8, at: [-6, 0]}}\n  b: {circle: {diameter: 8, at: [%s, 0]}}\n"
	row := "  a: {circle: {diameter: 6, at: [-9, 0]}, repeat: {count: 3, step: [%s, 0]}}\n"
	for _, c := range []struct {
		cuts  string
		found int
	}{
		{fmt.Sprintf(single, "5"), 3}, // of each: both holes
		{fmt.Sprintf(single, "5.5"), 0},
		{fmt.Sprintf(row, "9.4"), 2}, // of each: the row, once
		{fmt.Sprintf(row, "9.5"), 0},
	} {
		r := Run(context.Background(), []checker.File{fileOf("two.yaml", part(c.cuts))}, gapBook(t),
			Options{Changes: 3, Options: checker.Options{StatusAt: rules.Ask}})
		if len(r.Parts) != 1 || len(r.Unread) > 0 || len(r.Parts[0].Findings) != c.found {
			t.Errorf("%s: %d findings, not %d; %v", c.cuts, len(r.Parts[0].Findings), c.found, r.Unread)
			continue
		}
		for _, f := range r.Parts[0].Findings {
			along := false
			for _, x := range f.Changes {
				for _, s := range x.Sets {
					along = along || strings.HasSuffix(s.Path, ".at[0]") || strings.HasSuffix(s.Path, ".step[0]")
				}
			}
			if !along {
				t.Errorf("%s: %s is not moved along the line to its neighbour: %+v", c.cuts, f.Rule.Name, f.Changes)
			}
		}
	}
}
