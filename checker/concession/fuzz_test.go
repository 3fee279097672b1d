package concession

import (
	"context"
	"strings"
	"testing"
	"time"

	"corerod/checker"
	"corerod/checker/internal/samples"
	"corerod/parts"
	"corerod/parts/form"
	"corerod/parts/source"
)

// FuzzConcessions: whatever a file of concessions holds, it is read or refused with places in it; what was read goes on being
// read when a record is added.
func FuzzConcessions(f *testing.F) {
	now, err := parseDay("2026-11-25")
	if err != nil {
		f.Fatal(err)
	}
	for _, seed := range []string{"", "# x\n", "concessions:\n", "concessions: []\n", "concessions: [{part: a}]\n", thinWall(),
		"changed_revision: keeps\n" + thinWall(), strings.ReplaceAll(thinWall(), "\n", "\r\n"), thinWall("2027-03-31", "2027-02-30"), "{concessions: [x]}"} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		all, ps := Read("c.yaml", b, now)
		for _, p := range ps {
			if p.Message == "" || p.File != "c.yaml" || p.Line < 0 {
				t.Fatalf("%+v", p)
			}
		}
		if all == nil {
			return
		}
		Cover(context.Background(), &checker.PartReview{Part: samplePart(t), Force: &checker.Force{Concede: all}}, nil)
		doc, ps := source.Open("c.yaml", b)
		if len(ps) > 0 {
			return // it says nothing
		}
		out, err := doc.Append("concessions", []source.Pair{{Key: "part", Text: "added"}, {Key: "rule", Text: "r"},
			{Key: "subject", Text: "{kind: wall, name: w}"}, {Key: "reason", Text: "x"}, {Key: "by", Text: "y"}, {Key: "until", Text: "2027-01-01"}})
		if err != nil {
			return
		}
		again, ps := Read("c.yaml", out, now)
		if len(ps) > 0 || len(again.Records) != len(all.Records)+1 {
			t.Fatalf("%q becomes %q: %v", b, out, ps)
		}
	})
}

func parseDay(s string) (time.Time, error) { return time.Parse(time.DateOnly, s) }

func samplePart(t *testing.T) *parts.Part {
	t.Helper()
	p, ps := form.Parse("plate.yaml", []byte(samples.ThinEye(2, "A")))
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	return p
}
