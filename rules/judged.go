package rules

import "corerod/parts/subject"

// Judged is the account of one rule on one part.
type Judged struct {
	Rule     *Rule
	Subjects int    // subjects of the rule's kind on the part
	Applied  int    // of these, those that pass `when`
	Found    int    // of these, those with a finding
	Failed   bool   // the rule has a fault: it is never taken as passed
	Why      string // why the rule did not apply, in words; "" where it did
}

// Counts tells whether the rule counts as applied: also where it failed.
func (j Judged) Counts() bool { return j.Applied > 0 || j.Failed }

// explain says why the rule did not apply.
func (j *Judged) explain(kind *subject.Kind, fault *Fault) {
	j.Failed = fault != nil
	switch {
	case j.Failed:
		j.Why = "it failed on this part; see its fault"
	case j.Applied > 0:
	case j.Subjects == 0:
		j.Why = "the part has no " + kind.List
	case kind == subject.PartKind:
		j.Why = "the part does not pass `when`: " + j.Rule.when.shown()
	default:
		j.Why = "no " + kind.Name + " passes `when`: " + j.Rule.when.shown()
	}
}
