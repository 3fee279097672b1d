package compare

import (
	"slices"

	"corerod/checker"
	"corerod/parts/source"
	"corerod/parts/subject"
	"corerod/rules"
)

// Earlier is an earlier review to compare with.
type Earlier struct {
	From  string // how it is named: a file of JSON, or the earlier files
	Packs []EarlierPack
	Parts []*checker.EarlierPart

	PassedOver []checker.PassedOver // that may be parts and were not reviewed
	Whole      bool                 // PassedOver has what is in the folders of packs, too
}

// EarlierPack is a pack that was in force.
type EarlierPack struct{ Name, SHA256 string }

// judged are the spots that the rule was judged on, one at least.
func judged(f *checker.EarlierFinding) []subject.Spot {
	if len(f.On) == 0 {
		return []subject.Spot{{Kind: f.Kind, Name: f.Name, Features: f.Features}}
	}
	return f.On
}

// digests name the packs that hold, with those they build on, each once.
func digests(h *checker.Head) (all []EarlierPack) {
	for _, p := range rules.InForce(h.Packs()) {
		if x := (EarlierPack{p.Name, p.Digest}); !slices.Contains(all, x) {
			all = append(all, x)
		}
	}
	return all
}

// EarlierOf turns a review of the earlier files into what a later one is compared with. Where it is not slim, subjects without
// findings are found again too.
func EarlierOf(r *checker.Review, from string) *Earlier {
	e := &Earlier{From: from}
	e.Packs = digests(&r.Head)
	for _, p := range r.Parts {
		e.Parts = append(e.Parts, partOf(p))
	}
	return e
}

// partOf turns the review of a part into what a later one is compared with.
func partOf(p *checker.PartReview) *checker.EarlierPart {
	x := &checker.EarlierPart{File: p.File, Part: p.Part.Name, Drawing: p.Part.Drawing, Revision: p.Part.Revision, Grade: p.Grade,
		States: p.States, Findings: recordsOf(p)}
	if !p.Slimmed() {
		x.Whole = p.Subject
	}
	return x
}

// SamePart is what a part was whose file is the same, judged by the same rules.
func SamePart(p *checker.PartReview) *checker.EarlierPart {
	x := partOf(p)
	x.Same = true
	return x
}

// recordsOf are the findings of a part as they are compared with those of another review.
func recordsOf(p *checker.PartReview) (all []*checker.EarlierFinding) {
	for _, f := range p.Findings {
		c := f.Subject.Place()
		x := &checker.EarlierFinding{ID: f.ID, Rule: f.Rule.Name, Kind: f.Subject.Kind().Name, Name: c.Name, Features: c.Features,
			Grade: f.Grade, Compared: f.Entries(), Conceded: f.Conceded()}
		for _, g := range append([]*rules.Finding{&f.Finding}, f.Alike...) {
			x.On = append(x.On, subject.SpotsOf(g.Over)...)
		}
		all = append(all, x)
	}
	return all
}

// WithEarlier marks each finding of a review as new, worsened or unchanged since an earlier one, lists what is cleared, added
// and gone, and finds the status anew: only new and worsened findings count.
func WithEarlier(r *checker.Review, e *Earlier) {
	a := &checker.Against{From: e.From, Parts: len(e.Parts)}
	a.PacksDiffer = !slices.Equal(digests(&r.Head), e.Packs)
	r.Against = a
	taken := make([]bool, len(e.Parts))
	paired := e.pair(r.Parts)
	for i, at := range paired {
		p := r.Parts[i]
		if at < 0 {
			p.Added = true
			for _, f := range p.Findings {
				f.Since = checker.SinceNew
			}
			continue
		}
		was := e.Parts[at]
		taken[at] = true
		a.Paired++
		if !comparable(&was.States, &p.States) {
			r.Unread = append(r.Unread, source.Problem{File: p.File,
				Message: "the digests of the earlier review are of another version and are " +
					"not comparable: review the earlier folder"})
		}
		since(p, was)
	}
	for i, was := range taken {
		unread := func(u source.Problem) bool { return u.File == e.Parts[i].File }
		if !was && !slices.ContainsFunc(r.Unread, unread) {
			a.Gone = append(a.Gone, checker.GonePart{EarlierPart: e.Parts[i]})
		}
	}
	r.Conclude()
}

// pair finds each part among the earlier ones: by its name, drawing and place, else by its name and drawing. -1 for none.
func (e *Earlier) pair(all []*checker.PartReview) []int {
	named := func(p *checker.PartReview) [2]string { return [2]string{p.Part.Name, p.Part.Drawing} }
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
