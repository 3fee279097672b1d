package rules

import (
	"errors"
	"fmt"

	"corerod/parts/subject"
)

// The budget of one part: steps are measures read and list elements visited, so that the same rules stop at the same
// place on every machine. It grows with the part, and one rule that is too expensive leaves the others theirs.
const (
	ruleSteps           = 1_000_000 // of one rule
	ruleStepsPerSubject = 500
	runSteps            = 2_000_000 // of all rules together
	runStepsPerSubject  = 1_000
)

// budget counts the steps of one scene.
type budget struct {
	steps            int
	most             int // for the rule that is judged, counted from the beginning of the run
	ofRule, together int
}

// newBudget is the budget for a part with so many subjects.
func newBudget(subjects int) budget {
	b := budget{ofRule: ruleSteps + ruleStepsPerSubject*subjects, together: runSteps + runStepsPerSubject*subjects}
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

// subjects counts the subjects of a part.
func subjects(p *subject.Part) (n int) {
	for _, k := range subject.Kinds() {
		n += len(subject.Of(p, k))
	}
	return n
}
