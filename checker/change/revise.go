package change

import (
	"context"
	"fmt"
	"slices"

	"corerod/checker"
	"corerod/parts/source"
	"corerod/rules"
)

// Revision is a part file with changes that were chosen for its findings.
type Revision struct {
	Before, After *checker.PartReview
	Old, New      []byte
	Chosen        []Chosen       // in the order in which they were made
	Status        checker.Status // Found where a stop or a change stays
}

// Chosen is a change with the finding that it was chosen for.
type Chosen struct {
	Finding *checker.Finding
	Change  *checker.Change
}

// revised is the number of changes of a finding among which a revision chooses.
const revised = 3

// Revise chooses changes for a part: those of one finding, by its id, or the best one of every stop and change, made
// together and reviewed again until the part is clear of them or gets no better. An error is a wrong id, or that the context has
// ended.
func Revise(ctx context.Context, f checker.File, book *rules.Book, id string, o checker.Options) (*Revision, source.Problems, error) {
	old, ps := f.Read()
	if len(ps) > 0 {
		return nil, ps, nil
	}
	force := &checker.Force{Book: book, Concede: o.Concede, StatusAt: o.StatusAt}
	o.Workers = max(1, o.Workers)
	o.Steps = append(slices.Clip(o.Steps), (&Options{Options: o, Changes: revised}).seek(1))
	v := &reviser{ctx: ctx, file: f.Name, force: force, o: o}
	first, ps := v.review(old)
	if len(ps) > 0 {
		return nil, ps, nil
	}
	r := &Revision{Before: first, After: first, Old: old, New: old}
	var err error
	if id != "" {
		err = v.one(r, id)
	} else {
		for ctx.Err() == nil && v.round(r) {
		}
	}
	if ctx.Err() != nil {
		return nil, nil, ctx.Err()
	}
	for _, f := range r.After.Findings {
		if f.Grade != rules.Ask && !f.Conceded() {
			r.Status = checker.Found
		}
	}
	return r, nil, err
}

type reviser struct {
	ctx   context.Context
	file  string
	force *checker.Force
	o     checker.Options
}

// review reviews a part file's bytes with its changes.
func (v *reviser) review(b []byte) (*checker.PartReview, source.Problems) {
	return checker.ReviewPart(v.ctx, v.file, b, v.force, v.o)
}

// one makes the best change of one finding.
func (v *reviser) one(r *Revision, id string) error {
	i := slices.IndexFunc(r.Before.Findings, func(f *checker.Finding) bool { return f.ID == id })
	if i < 0 {
		return fmt.Errorf("the part has no finding %s", source.Quote(id))
	}
	if f := r.Before.Findings[i]; len(f.Changes) > 0 {
		v.make(r, []Chosen{{f, f.Changes[0]}})
	}
	return nil
}

// round makes the best changes of all stops and changes together, else the first that makes the part better by itself. It
// is false where nothing does.
func (v *reviser) round(r *Revision) bool {
	var all []Chosen
	findings := slices.Clone(r.After.Findings)
	slices.SortStableFunc(findings, checker.ByGrade)
	for _, f := range findings {
		if f.Grade != rules.Ask && !f.Conceded() && len(f.Changes) > 0 {
			all = append(all, Chosen{f, f.Changes[0]})
		}
	}
	if len(all) == 0 {
		return false
	}
	if v.make(r, apart(all)) {
		return true
	}
	for _, c := range all {
		for _, change := range c.Finding.Changes {
			if v.make(r, []Chosen{{c.Finding, change}}) {
				return true
			}
		}
	}
	return false
}

// apart leaves out changes that set what another one sets, and those of findings that another one clears.
func apart(all []Chosen) (some []Chosen) {
	taken, cleared := map[string]bool{}, map[string]bool{}
	for _, c := range all {
		if cleared[c.Finding.ID] || slices.ContainsFunc(c.Change.Sets, func(s checker.Set) bool { return taken[s.Path] }) {
			continue
		}
		for _, s := range c.Change.Sets {
			taken[s.Path] = true
		}
		for _, id := range c.Change.ClearsToo {
			cleared[id] = true
		}
		some = append(some, c)
	}
	return some
}

// make makes changes on what there is so far, and keeps them where the part is better.
func (v *reviser) make(r *Revision, chosen []Chosen) bool {
	doc, ps := source.Open(v.file, r.New)
	if len(ps) > 0 {
		return false
	}
	var edits []source.Edit
	for _, c := range chosen {
		edits = append(edits, editsOf(c.Change.Sets)...)
	}
	b, err := doc.With(edits...)
	if err != nil {
		return false
	}
	after, ps := v.review(b)
	if len(ps) > 0 || !better(after, r.After) {
		return false
	}
	r.New, r.After = b, after
	r.Chosen = append(r.Chosen, chosen...)
	return true
}

// better tells whether a part has fewer stops than another, else fewer changes, else fewer asks.
func better(a, b *checker.PartReview) bool {
	for _, g := range []rules.Grade{rules.Stop, rules.Change, rules.Ask} {
		if x, y := count(a, g), count(b, g); x != y {
			return x < y
		}
	}
	return false
}

// count is the number of findings of a grade, each place of those alike counted.
func count(r *checker.PartReview, g rules.Grade) (n int) {
	for _, f := range r.Findings {
		if f.Grade == g && !f.Conceded() {
			n += max(1, len(f.Places))
		}
	}
	return n
}
