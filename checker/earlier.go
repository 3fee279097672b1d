package checker

import (
	"fmt"
	"slices"

	"corerod/parts/source"
	"corerod/parts/subject"
	"corerod/rules"
)

// Earlier is an earlier review to compare with.
type Earlier struct {
	From  string // how it is named: a file of JSON, or the earlier files
	Packs []EarlierPack
	Parts []*EarlierPart

	PassedOver []PassedOver // that may be parts and were not reviewed
	Whole      bool         // PassedOver has what is in the folders of packs, too
}

// EarlierPack is a pack that was in force.
type EarlierPack struct{ Name, SHA256 string }

// EarlierPart is a part as it was.
type EarlierPart struct {
	File, Part, Drawing, Revision string
	Grade                         rules.Grade
	States                        States
	Findings                      []*EarlierFinding

	whole *subject.Part // with all subjects; nil where findings alone are known
	same  bool          // its file has not changed
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

// judged are the spots that the rule was judged on, one at least.
func (f *EarlierFinding) judged() []subject.Spot {
	if len(f.On) == 0 {
		return []subject.Spot{{Kind: f.Kind, Name: f.Name, Features: f.Features}}
	}
	return f.On
}

// EarlierOf turns a review of the earlier files into what a later one is compared with. Where it is not slim, subjects without
// findings are found again too.
func EarlierOf(r *Review, from string) *Earlier {
	e := &Earlier{From: from}
	e.Packs = r.digests()
	for _, p := range r.Parts {
		e.Parts = append(e.Parts, EarlierPartOf(p))
	}
	return e
}

// EarlierPartOf turns the review of a part into what a later one is compared with.
func EarlierPartOf(p *PartReview) *EarlierPart {
	x := &EarlierPart{File: p.File, Part: p.Part.Name, Drawing: p.Part.Drawing, Revision: p.Part.Revision, Grade: p.Grade, States: p.States, Findings: recordsOf(p)}
	if !p.slimmed {
		x.whole = p.Subject
	}
	return x
}

// SamePart is what a part was whose file is the same, judged by the same rules.
func SamePart(p *PartReview) *EarlierPart {
	x := EarlierPartOf(p)
	x.same = true
	return x
}

// recordsOf are the findings of a part as they are compared with those of another review.
func recordsOf(p *PartReview) (all []*EarlierFinding) {
	for _, f := range p.Findings {
		c := f.Subject.Place()
		x := &EarlierFinding{ID: f.ID, Rule: f.Rule.Name, Kind: f.Subject.Kind().Name, Name: c.Name, Features: c.Features, Grade: f.Grade, Compared: f.Entries(), Conceded: f.Conceded()}
		for _, g := range append([]*rules.Finding{&f.Finding}, f.Alike...) {
			x.On = append(x.On, subject.SpotsOf(g.Over)...)
		}
		all = append(all, x)
	}
	return all
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

// CompareWith marks each finding of a review as new, worsened or unchanged since an earlier one, lists what is cleared, added
// and gone, and finds the status anew: only new and worsened findings count.
func (r *Review) CompareWith(e *Earlier) {
	a := &Against{From: e.From, Parts: len(e.Parts)}
	a.PacksDiffer = !slices.Equal(r.digests(), e.Packs)
	r.Against = a
	taken := make([]bool, len(e.Parts))
	paired := e.pair(r.Parts)
	for i, at := range paired {
		p := r.Parts[i]
		if at < 0 {
			p.Added = true
			for _, f := range p.Findings {
				f.Since = SinceNew
			}
			continue
		}
		was := e.Parts[at]
		taken[at] = true
		a.Paired++
		if !comparable(&was.States, &p.States) {
			r.Unread = append(r.Unread, source.Problem{File: p.File, Message: "the digests of the earlier review are of another version and are not comparable: review the earlier folder"})
		}
		p.since(was)
		grade := p.Grade
		p.Force.Concede.follow(p, was, func() bool { return r.alone(p, was) })
		r.Graded[grade]--
		r.Graded[p.Grade]++
	}
	for i, was := range taken {
		unread := func(u source.Problem) bool { return u.File == e.Parts[i].File }
		if !was && !slices.ContainsFunc(r.Unread, unread) {
			a.Gone = append(a.Gone, GonePart{e.Parts[i], r.gone(e.Parts[i])})
		}
	}
	r.Unread = r.Unread.Sorted()
	r.Status = r.status()
}

// Refuse adds problems, and finds the status anew.
func (r *Review) Refuse(ps source.Problems) {
	r.Unread = append(r.Unread, ps...).Sorted()
	r.Status = r.status()
}

// alone tells whether a part that stood elsewhere is the only one that goes on from there: nothing else has taken its place, and
// no other new part has its name and drawing.
func (r *Review) alone(p *PartReview, was *EarlierPart) bool {
	for _, q := range r.Parts {
		if q != p && (q.File == was.File || q.Part.Name == was.Part && q.Part.Drawing == was.Drawing) {
			return false
		}
	}
	return !slices.ContainsFunc(r.Unread, func(u source.Problem) bool { return u.File == was.File })
}

// pair finds each part among the earlier ones: by its name, drawing and place, else by its name and drawing. -1 for none.
func (e *Earlier) pair(all []*PartReview) []int {
	named := func(p *PartReview) [2]string { return [2]string{p.Part.Name, p.Part.Drawing} }
	of, taken := make([]int, len(all)), make([]bool, len(e.Parts))
	there, left := map[[3]string][]int{}, map[[2]string][]int{}
	for k, x := range e.Parts {
		key := [3]string{x.Part, x.Drawing, x.File}
		there[key] = append(there[key], k)
	}
	for i, p := range all {
		of[i] = -1
		key := [3]string{p.Part.Name, p.Part.Drawing, p.File}
		if ks := there[key]; len(ks) > 0 {
			of[i], there[key] = ks[0], ks[1:]
			taken[of[i]] = true
		}
	}
	for k, x := range e.Parts {
		if !taken[k] {
			key := [2]string{x.Part, x.Drawing}
			left[key] = append(left[key], k)
		}
	}
	for i, p := range all {
		if ks := left[named(p)]; of[i] < 0 && len(ks) > 0 {
			of[i], left[named(p)] = ks[0], ks[1:]
		}
	}
	return of
}

// gone is the record that a part may go, of any force; nil for none. The file that a record names is where the part stood.
func (r *Review) gone(p *EarlierPart) (k *Conceded) {
	for _, f := range r.Forces {
		if x := f.Concede.gone(p); x != nil && (k == nil || x.State == Covering) {
			k = x
		}
	}
	return k
}

// counts tells whether a part has something that counts for the status.
func (p *PartReview) counts(against bool) bool {
	from := p.Force.StatusAt
	if !against {
		return p.Grade != "" && !from.Worse(p.Grade)
	}
	if slices.ContainsFunc(p.Restated, func(s Restated) bool { return s.Counts }) {
		return true
	}
	return slices.ContainsFunc(p.Findings, func(f *Finding) bool {
		return f.Since != SinceSame && !f.Conceded() && !from.Worse(f.Grade)
	})
}

// Moved is the place where a part stood before, "" where it stands there still.
func (p *PartReview) Moved() string {
	if p.was == nil || p.was.File == p.File {
		return ""
	}
	return p.was.File
}

// String names an earlier part for messages.
func (p *EarlierPart) String() string { return fmt.Sprintf("the part %s of %s", p.Part, p.File) }
