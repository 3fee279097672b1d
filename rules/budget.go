package rules

import (
	"errors"
	"fmt"

	"corerod/parts/subject"
)

// The budget of one part: steps are measures read and list elements visited, so that the same rules stop at the same
// place on every machine. It grows with the part, and with the pairs of subjects of one kind up to mostPaired of them,
// since a rule may compare each with each; one rule that is too expensive leaves the others theirs.
const (
	ruleSteps           = 1_000_000 // of one rule
	ruleStepsPerSubject = 500
	ruleStepsPerPair    = 5
	runSteps            = 2_000_000 // of all rules together
	runStepsPerSubject  = 1_000
	runStepsPerPair     = 20
	mostPaired          = 400
)

// budget counts the steps of one scene.
type budget struct {
	steps            int
	most             int // for the rule that is judged, counted from the beginning of the run
	ofRule, together int
}

// newBudget is the budget for a part.
func newBudget(p *subject.Part) budget {
	all, most := subjects(p)
	pairs := min(most, mostPaired) * min(most, mostPaired)
	b := budget{ofRule: ruleSteps + ruleStepsPerSubject*all + ruleStepsPerPair*pairs,
		together: runSteps + runStepsPerSubject*all + runStepsPerPair*pairs}
	b.restart()
	return b
}

// restart begins another run.
func (b *budget) restart() { b.steps, b.most = 0, b.ofRule }

// next begins the steps of another rule.
func (b *budget) next() { b.most = min(b.steps+b.ofRule, b.together) }

// spend takes steps, and tells whether they were left.
func (b *budget) spend(n int) bool {
	b.steps += n
	return b.steps <= b.most
}

// spent is the failure of a rule whose steps are used up, or nil.
func (b *budget) spent() error {
	switch {
	case b.steps <= b.most:
		return nil
	case b.steps > b.together:
		return fmt.Errorf("the rules together took more than %d steps on this part before this one was done", b.together)
	}
	return fmt.Errorf("the rule took more than %d steps on this part", b.ofRule)
}

// errSpent ends an evaluation whose budget is used up; what is reported is budget.spent.
var errSpent = errors.New("no steps are left")

// spend takes one step for a measure of an object; figures that belong to no part cost nothing.
func (o *object) spend() bool { return o.on == nil || o.on.spend(1) }

// subjects counts the subjects of a part, each copy by itself, and the greatest number of one kind.
func subjects(p *subject.Part) (all, most int) {
	for _, k := range subject.Kinds() {
		n := 0
		for _, s := range subject.Of(p, k) {
			n += subject.CountOf(s)
		}
		all, most = all+n, max(most, n)
	}
	return all, most
}
