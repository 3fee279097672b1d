package checker

import (
	"fmt"

	"corerod/parts/form"
	"corerod/parts/subject"
	"corerod/rules"
)

// Rename is a feature or dimension that has another name than before.
type Rename struct{ From, To string }

// EarlierPart is a part as it was.
type EarlierPart struct {
	File, Part, Drawing, Revision string
	Grade                         rules.Grade
	States                        States
	Findings                      []*EarlierFinding

	Whole *subject.Part // with all subjects; nil where findings alone are known
	Same  bool          // its file has not changed
}

// EarlierFinding is a finding as it is compared with those of another review.
type EarlierFinding struct {
	ID, Rule, Kind, Name string
	Features             []string
	Grade                rules.Grade
	On                   []subject.Spot // what the rule was judged on, at every place
	Compared             []rules.Compared
	Conceded             bool
}

// Since is what became of a finding since an earlier review.
type Since string

// What may have become of it; "" where there is no earlier review.
const (
	SinceNew   Since = "new"
	SinceWorse Since = "worsened"
	SinceSame  Since = "unchanged"
)

// Against is a review's comparison with an earlier one.
type Against struct {
	From        string
	PacksDiffer bool
	Gone        []GonePart // parts that are there no more
	Parts       int        // that it has
	Paired      int        // of these, that are still there
}

// GonePart is a part that is there no more.
type GonePart struct {
	*EarlierPart
	Concession *Conceded // the record that a person agreed to it; nil for none
}

// Counts tells whether nobody agreed that the part goes.
func (g *GonePart) Counts() bool { return g.Concession == nil || g.Concession.State != Covering }

// Moved is the place where a part stood before, "" where it stands there still.
func (p *PartReview) Moved() string {
	if p.Was == nil || p.Was.File == p.File {
		return ""
	}
	return p.Was.File
}

// String names an earlier part for messages.
func (p *EarlierPart) String() string { return fmt.Sprintf("the part %s of %s", p.Part, p.File) }

// Restated is a statement of a part file that is another than before. One that counts takes something out of the rules' sight.
type Restated struct {
	What, From, To string
	Counts         bool
	Concession     *Conceded // the record that a person agreed to it; nil for none

	Feature *form.Drawn // that is made after pressing; nil for other statements
}
