package rules

import (
	"reflect"
	"strings"
	"testing"
	"time"
)

// hostileTime is what reading and running one hostile pack may take, starting its process included.
const hostileTime = 2 * time.Second

// TestBudget stops the rules that are too expensive, and all rules once they are too expensive together; those that
// were judged before stay judged, none of the others is taken as passed, and it is the same each time.
func TestBudget(t *testing.T) {
	text := manyRules(60, "wall", quadratic) +
		"  a-cheap-one: {title: T, stage: fill, because: b, change: c, basis: practice, over: wall, says: x, need: [{grade: ask, that: wall.web}]}\n"
	b := bookOf(t, text)
	c := Case{Part: crowd(300), Unit: "mm"}
	out := b.Judge(c)
	if len(out.Findings) != 300 {
		t.Errorf("%d findings of the cheap rule", len(out.Findings))
	}
	alone, together := 0, 0
	for _, f := range out.Faults {
		switch {
		case strings.Contains(f.Message, "the rule took more than 1600500 steps on this part"):
			alone++
		case strings.Contains(f.Message, "the rules together took more than 4101000 steps on this part before this one was done"):
			together++
		default:
			t.Error(f.Message)
		}
		if !strings.HasPrefix(f.Message, "rule `rule-0") || f.Line == 0 {
			t.Errorf("%+v", f)
		}
	}
	if alone < 1 || alone+together != 60 {
		t.Errorf("%d stopped alone, %d together", alone, together)
	}
	if again := b.Judge(c); !reflect.DeepEqual(again.Faults, out.Faults) {
		t.Error("another run stopped elsewhere")
	}
}

// TestBudgetElsewhere bounds the account and the narrowest limits as the findings are bounded.
func TestBudgetElsewhere(t *testing.T) {
	if testing.Short() {
		t.Skip("long under the race detector")
	}
	b := bookOf(t, manyRules(60, "wall", quadratic))
	c := Case{Part: crowd(900), Unit: "mm"}
	out := b.Judge(c)
	for _, j := range out.Account {
		if j.Why != "it failed on this part; see its fault" || j.Subjects != 900 || j.Found > 0 {
			t.Errorf("%s: %+v", j.Rule.Name, j)
		}
	}
	if all := out.Narrowest(5); len(all) > 0 {
		t.Errorf("%+v", all)
	}
}

// TestBudgetIsEnough judges a large part by the built-in rules without a fault.
func TestBudgetIsEnough(t *testing.T) {
	p := crowd(2000)
	p.Walls[0].PlainBush = true // makes the rule on bushes look at all holes
	for i := range 1000 {
		p.Holes = append(p.Holes, through(4+float64(i), 10))
	}
	out := builtinBook(t).Judge(Case{Part: p, Unit: "mm"})
	for _, f := range out.Faults {
		t.Error(f.Message)
	}
}
