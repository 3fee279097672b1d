package checker

import (
	"context"
	"strings"
	"testing"

	"corerod/parts/source"
	"corerod/rules"
)

// FuzzConcessions: whatever a file of concessions holds, it is read or refused with places in it; what was read goes on being
// read when a record is added.
func FuzzConcessions(f *testing.F) {
	now, err := parseDay("2026-11-25")
	if err != nil {
		f.Fatal(err)
	}
	for _, seed := range []string{"", "# x\n", "concessions:\n", "concessions: []\n", "concessions: [{part: a}]\n", thinWall(), "changed_revision: keeps\n" + thinWall(), strings.ReplaceAll(thinWall(), "\n", "\r\n"), thinWall("2027-03-31", "2027-02-30"), "{concessions: [x]}"} {
		f.Add([]byte(seed))
	}
	part := &PartReview{}
	f.Fuzz(func(t *testing.T, b []byte) {
		all, ps := ReadConcessions("c.yaml", b, now)
		for _, p := range ps {
			if p.Message == "" || p.File != "c.yaml" || p.Line < 0 {
				t.Fatalf("%+v", p)
			}
		}
		if all == nil {
			return
		}
		all.cover(&PartReview{Part: samplePart(t), Subject: part.Subject})
		doc, ps := source.Open("c.yaml", b)
		if len(ps) > 0 {
			return // it says nothing
		}
		out, err := doc.Append("concessions", []source.Pair{{Key: "part", Text: "added"}, {Key: "rule", Text: "r"}, {Key: "subject", Text: "{kind: wall, name: w}"}, {Key: "reason", Text: "x"}, {Key: "by", Text: "y"}, {Key: "until", Text: "2027-01-01"}})
		if err != nil {
			return
		}
		again, ps := ReadConcessions("c.yaml", out, now)
		if len(ps) > 0 || len(again.Records) != len(all.Records)+1 {
			t.Fatalf("%q becomes %q: %v", b, out, ps)
		}
	})
}

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
		r := Run(context.Background(), []File{fileOf("a.yaml", text)}, book, Options{StatusAt: rules.Change, Changes: 2, Workers: 1})
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
					if _, ps := Read("a.yaml", b, book); len(ps) > 0 {
						t.Fatalf("%v: %v", c.Sets, ps)
					}
				}
			}
		}
	})
}
