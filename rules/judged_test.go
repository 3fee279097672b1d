package rules

import (
	"fmt"
	"strings"
	"testing"

	"corerod/parts/subject"
)

func TestAccount(t *testing.T) {
	p := alone(wall(1))
	p.Walls = append(p.Walls, wall(2), ratio(4, true))
	p.Holes = []*subject.Hole{through(4, 10), blind(8, 1, 1)}
	c := Case{Part: p, Unit: "mm"}
	b := builtinBook(t)
	out := b.Judge(c)
	all := out.Account
	got, found := map[string]string{}, 0
	for i, j := range all {
		if j.Rule != b.Rules[i] {
			t.Errorf("rule %d is %s, want %s", i, j.Rule.Name, b.Rules[i].Name)
		}
		if (j.Why == "") != (j.Applied > 0) || j.Found > j.Applied || j.Applied > j.Subjects {
			t.Errorf("%s: %+v", j.Rule.Name, j)
		}
		found += j.Found
		got[j.Rule.Name] = strings.TrimSpace(fmt.Sprintf("%d %d %d %s", j.Subjects, j.Applied, j.Found, j.Why))
	}
	if len(all) != len(b.Rules) || found != len(out.Findings) {
		t.Errorf("%d rules, %d found; the findings are %d", len(all), found, len(out.Findings))
	}
	for rule, want := range map[string]string{
		"wall-thickness":   "3 3 1",
		"bore-width":       "2 1 0",
		"blind-floor":      "2 1 1",
		"trapped-undercut": "0 0 0 the part has no traps",
		"bush-wall":        "3 0 0 no wall passes `when`: wall.plain_bush && part.holes.exists(h, has(h.bore) && h.bore <= 3)",
		"pressed-height":   "1 0 0 the part does not pass `when`: part.pressing == \"top\"",
		"part-slenderness": "1 1 0",
	} {
		if got[rule] != want {
			t.Errorf("%s: got %q, want %q", rule, got[rule], want)
		}
	}
}

// TestAccountFault does not take a rule that fails as passed.
func TestAccountFault(t *testing.T) {
	p := quiet()
	p.Height, p.Width = 1e300, 1e300
	j := bookOf(t, withNeed("part", "part.height * part.width > 1")).Judge(Case{Part: p, Unit: "mm"}).Account[0]
	if j.Found != 0 || j.Why != "it failed on this part; see its fault" {
		t.Errorf("%+v", j)
	}
}
