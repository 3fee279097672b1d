package rules

import (
	"strings"
	"testing"

	"corerod/parts/subject"
)

// TestListsOfSubjects: what is compared with a list of subjects is told by their names, the same each time.
func TestListsOfSubjects(t *testing.T) {
	b := bookOf(t, withNeed("wall", "!(wall in part.walls)"))
	c := Case{Part: &subject.Part{Walls: []*subject.Wall{wall(1), wall(2)}}, Unit: "mm"}
	out := b.Judge(c)
	if len(out.Findings) != 2 {
		t.Fatalf("%+v", out)
	}
	if limit, _ := out.Findings[0].Compared[0].Limit.(string); strings.Contains(limit, "0x") || limit != wall(1).Name+" and "+wall(2).Name {
		t.Errorf("the limit is %q", limit)
	}
}

// TestNoSubjectsInWrittenLists: in such a list nothing is known of what its subjects may lack.
func TestNoSubjectsInWrittenLists(t *testing.T) {
	for _, that := range []string{"[part].all(p, p.height > 1)", "size([part.walls]) > 1"} {
		_, ps := load(withNeed("wall", that))
		if len(ps) != 1 || !strings.Contains(ps[0].Message, "holds no subjects") {
			t.Errorf("%s: %v", that, ps)
		}
	}
	if _, ps := load(
		packText(
			"    over: wall\n    basis: practice\n    says: '{part.walls[-1].name}'\n    need: [{grade: ask, that: wall.web}]\n")); len(
		ps) != 1 || !strings.Contains(ps[0].Message, "a whole number from 0") {
		t.Errorf("%v", ps)
	}
}
