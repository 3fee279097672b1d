package checker

import (
	"cmp"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"math"
	"runtime"
	"slices"
	"strings"

	"corerod/parts"
	"corerod/parts/source"
	"corerod/parts/subject"
	"corerod/parts/tooling"
	"corerod/rules"
)

// File is one part file to review: its name as shown, and a way to read it.
type File struct {
	Name  string
	Open  func() (io.ReadCloser, error)
	Force *Force // what it is judged by; nil for the book and the options of the review
}

// Options of a review.
type Options struct {
	StatusAt rules.Grade              // the grade from which findings count for the status
	Workers  int                      // parts reviewed at once; 0 for one a processor
	Changes  int                      // changes sought for each finding; 0 for none
	Against  func(*Force) *rules.Book // judges changed parts; nil for the book of the force
	Concede  *Concessions             // nil for none
	Slim     bool                     // let go of the shape and the subjects without findings: nothing is drawn or listed
	Account  bool                     // tell of every rule whether it applied, and why not
	// Whole tells a part that keeps its subjects all the same: one that is to be compared with an earlier version of its file.
	Whole func(p *PartReview, b []byte) bool
	Trace func(step string, file string)
	// Each is told each part, in the order of the files, instead of the review keeping it: many need no more memory than few.
	Each func(*PartReview)
	// Progress is told after each part how many of all are done and how many findings there are so far; one call at a time.
	Progress func(done, all, findings int)

	seekers int // changed parts of one part reviewed at once
}

// Review is the result for all files.
type Review struct {
	Head
	Against    *Against            // an earlier review; nil for none
	Parts      []*PartReview       // in the order of the files; none where Options.Each was told them
	Graded     map[rules.Grade]int // how many parts have this worst grade; "" for clear ones
	Unread     source.Problems     // files that could not be read, and faults of packs
	Faults     []string            // our own faults
	PassedOver []PassedOver        // what was not reviewed though a part may be in it
	Status     Status

	found bool // a part has what counts for the status
}

// PassedOver is a folder or file that was not reviewed though a part may be in it.
type PassedOver struct {
	File   string
	Why    string
	SHA256 string // of the file, or of where a link leads; "" for a folder
}

// Reviewed is the number of parts.
func (r *Review) Reviewed() (n int) {
	for _, k := range r.Graded {
		n += k
	}
	return n
}

// PartReview is the result for one part.
type PartReview struct {
	File          string
	Force         *Force // that it was judged by
	Part          *parts.Part
	Subject       *subject.Part
	Layout        *tooling.Layout
	Grade         rules.Grade // the worst of the findings; "" when clear
	Findings      []*Finding  // by place, then rule
	Notes         []Note
	Applied       int
	NotApplicable int
	Narrowest     []rules.Margin
	Concessions   []*Conceded      // the records for the part, in order of their file
	States        States           // what the file declares and draws
	Added         bool             // an earlier review does not have the part
	Cleared       []EarlierFinding // since an earlier review
	Restated      []Restated       // since an earlier review
	Renamed       []Rename         // since an earlier review
	Search        *Search          // for changes; nil where none were sought
	Account       []rules.Judged   // of every rule, by name, where it was asked for

	slimmed   bool
	was       *EarlierPart      // in an earlier review; nil where it is not there
	matched   []*EarlierFinding // by finding; nil for those that were not there
	redrawing *redrawing        // since an earlier review
}

// Finding is a rule's finding with its place in the part file.
type Finding struct {
	rules.Finding
	ID         string          // of part, rule, subject and features; no line in it
	At         parts.Place     // the feature declared last among the subject's
	Related    []parts.Place   // the others
	Places     []subject.Point // every place, where one finding stands for several alike; empty for a single one
	Since      Since           // what became of it since an earlier review
	Concession *Conceded       // the record for it, nil for none

	Changes []*Change        // that were checked, best first
	Alike   []*rules.Finding // the others, where it stands for several

	worse []rules.Compared // entries that are new or worse since an earlier review
}

// Entries are the comparisons that failed. Of a need over a list they are those of all findings that this one stands for: each
// element of the list is an entry of its own.
func (f *Finding) Entries() []rules.Compared {
	if !slices.ContainsFunc(f.Compared, func(c rules.Compared) bool { return c.Of != nil }) {
		return f.Compared
	}
	all := slices.Clone(f.Compared)
	for _, g := range f.Alike {
		all = append(all, g.Compared...)
	}
	return all
}

// Shown are the entries in the order in which a report for people shows them: what is new or worse since an earlier review first.
func (f *Finding) Shown() []rules.Compared {
	all := f.Entries()
	if len(f.worse) == 0 || len(f.worse) == len(all) {
		return all
	}
	is := func(a, b *rules.Compared) bool {
		return a.Of != nil && b.Of != nil && a.Measure == b.Measure && spotKey(*a.Of) == spotKey(*b.Of) && (a.To == nil) == (b.To == nil) && (a.To == nil || spotKey(*a.To) == spotKey(*b.To))
	}
	first := slices.DeleteFunc(slices.Clone(f.worse), func(c rules.Compared) bool { return c.Of == nil })
	rest := slices.DeleteFunc(slices.Clone(all), func(c rules.Compared) bool {
		return slices.ContainsFunc(first, func(w rules.Compared) bool { return is(&w, &c) })
	})
	return append(first, rest...)
}

// Note is a remark without a grade.
type Note struct {
	Says string
	Kind string // of the subject
	Name string // of the subject
	At   parts.Place
}

// Status is the exit status of a command.
type Status int

// Exit statuses. When several hold, the order is OurFault, Wrong, Nothing, Found, Clear.
const (
	Clear    Status = 0 // no finding at the chosen grade
	Found    Status = 1 // findings at or above it
	Wrong    Status = 2 // an invalid command line, part, pack or shop file
	Nothing  Status = 3 // nothing was reviewed
	OurFault Status = 4
)

// oneFile is what became of one file.
type oneFile struct {
	part   *PartReview
	unread source.Problems
	fault  string
}

// Run reviews files by the packs of a book. One file's problems do not keep the others from being reviewed. Where the context ends,
// so does the review soon after: what it holds then is part of the result, and the caller must ask the context.
func Run(ctx context.Context, files []File, book *rules.Book, o Options) *Review {
	force := &Force{Book: cmp.Or(book, &rules.Book{}), Concede: o.Concede, StatusAt: o.StatusAt}
	r := &Review{Head: Head{Forces: []*Force{force}}, Graded: map[rules.Grade]int{}}
	workers := o.Workers
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	o.seekers = max(1, workers/max(1, len(files)))
	told := &teller{tell: o.Progress, all: len(files)}
	review := func(i int) (x oneFile) {
		defer func() {
			if r := recover(); r != nil {
				x = oneFile{fault: fmt.Sprintf("%s: %v", files[i].Name, r)}
			}
			told.done(x.part)
		}()
		if ctx.Err() != nil {
			return x
		}
		x.part, x.unread = reviewFile(ctx, files[i], cmp.Or(files[i].Force, force), o)
		return x
	}
	inOrder(len(files), workers, review, func(x oneFile) { r.take(x, o.Each) })
	r.Unread = r.Unread.Sorted()
	r.Status = r.status()
	return r
}

// take adds what became of a file.
func (r *Review) take(x oneFile, each func(*PartReview)) {
	r.Unread = append(r.Unread, x.unread...)
	if x.fault != "" {
		r.Faults = append(r.Faults, x.fault)
	}
	p := x.part
	if p == nil {
		return
	}
	r.Graded[p.Grade]++
	r.found = r.found || p.counts(false)
	if each != nil {
		each(p)
		return
	}
	r.Parts = append(r.Parts, p)
}

// status follows from what was found; the first that holds in the order of the constants' comment.
func (r *Review) status() Status {
	switch {
	case len(r.Faults) > 0:
		return OurFault
	case len(r.Unread) > 0:
		return Wrong
	case r.Reviewed() == 0:
		return Nothing
	case r.Against == nil && r.found, r.Against != nil && r.worse():
		return Found
	}
	return Clear
}

// worse tells whether something counts that an earlier review did not have.
func (r *Review) worse() bool {
	return slices.ContainsFunc(r.Against.Gone, func(g GonePart) bool { return g.Counts() }) || slices.ContainsFunc(r.Parts, func(p *PartReview) bool { return p.counts(true) })
}

// reviewFile reads one part and judges it.
func reviewFile(ctx context.Context, f File, force *Force, o Options) (*PartReview, source.Problems) {
	trace := func(step string) {
		if o.Trace != nil {
			o.Trace(step, f.Name)
		}
	}
	trace("read")
	b, ps := f.read()
	if len(ps) > 0 {
		return nil, ps
	}
	d, ps := Read(f.Name, b, force.Book)
	if len(ps) > 0 {
		return nil, ps
	}
	trace("judge")
	r, ps := judge(d, force.Book)
	if !o.Account {
		r.Account = nil
	}
	r.States = StatesOf(d.Part)
	r.Force = force
	force.Concede.cover(r)
	if o.Changes > 0 {
		trace("seek changes")
		against := o.Against
		if against == nil {
			against = func(f *Force) *rules.Book { return f.Book }
		}
		seek(ctx, r, b, against(force), o.Changes, o.seekers)
	}
	if o.Slim && (o.Whole == nil || !o.Whole(r, b)) {
		r.slim()
	}
	return r, ps
}

// slim lets go of what only drawings, sheets and the list of measures need, so that many parts fit into little memory.
func (r *PartReview) slim() {
	s := *r.Subject
	s.Walls, s.Holes, s.Gaps, s.Corners, s.Levels, s.Steps, s.Traps, s.Crossings, s.Columns = nil, nil, nil, nil, nil, nil, nil, nil, nil
	s.Feathers, s.Flanges, s.Bosses, s.Grooves, s.Tapers, s.Rims, s.Marks, s.Dimensions, s.Teeth = nil, nil, nil, nil, nil, nil, nil, nil, nil
	s.Punches, s.Cores, s.Presses = nil, nil, nil
	part := func(x subject.Subject) subject.Subject {
		if x == r.Subject {
			return &s
		}
		return x
	}
	for _, f := range r.Findings {
		f.Subject, f.Over = part(f.Subject), part(f.Over)
	}
	for i := range r.Narrowest {
		r.Narrowest[i].Subject = part(r.Narrowest[i].Subject)
	}
	r.Subject, r.Layout, r.Part = &s, r.Layout.Figures(), r.Part.WithoutFile()
	r.slimmed = true
}

// read reads a file up to one byte more than it may have, so that its reader sees that it is too large.
func (f *File) read() ([]byte, source.Problems) {
	in, err := f.Open()
	if err != nil {
		return nil, source.Problems{{File: f.Name, Message: "cannot be read: " + reason(err)}}
	}
	defer in.Close()
	b, err := io.ReadAll(io.LimitReader(in, source.MostBytes+1))
	if err != nil {
		return nil, source.Problems{{File: f.Name, Message: "cannot be read: " + reason(err)}}
	}
	return b, nil
}

// judge judges a derived part.
func judge(d *Derived, book *rules.Book) (*PartReview, source.Problems) {
	out := book.Judge(caseOf(d))
	r, ps := assemble(d.Part, d.Subject, out)
	r.Layout = d.Layout
	r.Narrowest = out.Narrowest(narrowest)
	r.Notes = notes(d.Part, book)
	r.Account = out.Account
	return r, ps
}

// narrowest is the number of narrowly met limits that a report names.
const narrowest = 5

// reason is an error without the path that the report names already.
func reason(err error) string {
	text := err.Error()
	if i := strings.LastIndex(text, ": "); i >= 0 {
		return text[i+2:]
	}
	return text
}

// assemble puts places, ids and the grade to what the rules found.
func assemble(p *parts.Part, s *subject.Part, out *rules.Outcome) (*PartReview, source.Problems) {
	r := &PartReview{File: p.File, Part: p, Subject: s}
	for _, j := range out.Account {
		if j.Counts() {
			r.Applied++
		} else {
			r.NotApplicable++
		}
	}
	for i := range out.Findings {
		f := &Finding{Finding: out.Findings[i]}
		f.At, f.Related = places(p, f.Subject)
		f.ID = identity(p, &f.Finding)
		f.Places = slices.Clone(f.Subject.Place().Places)
		if g := slices.IndexFunc(r.Findings, f.groups); g >= 0 {
			r.Findings[g].join(f)
			continue
		}
		r.Findings = append(r.Findings, f)
		if r.Grade == "" || f.Grade.Worse(r.Grade) {
			r.Grade = f.Grade
		}
	}
	slices.SortStableFunc(r.Findings, ByPlace)
	var faults source.Problems
	for _, f := range out.Faults {
		faults = append(faults, source.Problem{File: f.File, Line: f.Line, Column: f.Column,
			Message: fmt.Sprintf("%s (judged on %s; it is not taken as passed)", f.Message, p.File)})
	}
	return r, faults
}

// groups tells whether two findings are one in several places: of one rule and grade, on the same features, with equal
// values and limits; where none of them is a number, with the same words too.
func (f *Finding) groups(g *Finding) bool {
	if f.Rule != g.Rule || f.Grade != g.Grade || !slices.Equal(f.Subject.Place().Features, g.Subject.Place().Features) || len(f.Compared) != len(g.Compared) {
		return false
	}
	figures := false
	for i := range f.Compared {
		a, b := &f.Compared[i], &g.Compared[i]
		if a.Measure != b.Measure || !equal(a.Value, b.Value) || !equal(a.Limit, b.Limit) {
			return false
		}
		_, number := a.Value.(float64)
		figures = figures || number
	}
	return figures || f.Says == g.Says
}

// equal tells whether two compared values are equal, numbers within sameValue.
func equal(a, b any) bool {
	x, number := a.(float64)
	y, other := b.(float64)
	if number && other {
		return math.Abs(x-y) <= sameValue
	}
	return a == b
}

// join adds a finding alike, and its places, each once.
func (f *Finding) join(g *Finding) {
	f.Alike = append(f.Alike, &g.Finding)
	all := f.allPlaces()
	for _, p := range g.allPlaces() {
		if !slices.Contains(all, p) {
			all = append(all, p)
		}
	}
	if len(all) > 1 {
		f.Places = all
	}
}

// allPlaces are the finding's places, one at least.
func (f *Finding) allPlaces() []subject.Point {
	if len(f.Places) > 0 {
		return f.Places
	}
	c := f.Subject.Place()
	return []subject.Point{{X: c.X, Y: c.Y, ZLow: c.ZLow, ZHigh: c.ZHigh}}
}

// ByPlace orders findings by place in the file, then in the part, then by rule.
func ByPlace(a, b *Finding) int {
	p, q := a.Subject.Place(), b.Subject.Place()
	return cmp.Or(cmp.Compare(a.At.Line, b.At.Line), cmp.Compare(a.At.Column, b.At.Column),
		cmp.Compare(p.ZLow, q.ZLow), cmp.Compare(p.X, q.X), cmp.Compare(p.Y, q.Y),
		cmp.Compare(a.Rule.Name, b.Rule.Name), cmp.Compare(p.Name, q.Name))
}

// ByGrade orders findings by grade, worst first, then as ByPlace.
func ByGrade(a, b *Finding) int {
	switch {
	case a.Grade.Worse(b.Grade):
		return -1
	case b.Grade.Worse(a.Grade):
		return 1
	}
	return ByPlace(a, b)
}

// places returns where the features of a subject stand: the one declared last, then the others.
func places(p *parts.Part, s subject.Subject) (at parts.Place, related []parts.Place) {
	if s.Kind() == subject.PartKind {
		return p.Place, nil
	}
	var all []parts.Place
	if s.Kind() == subject.DimensionKind {
		for i := range p.Dimensions {
			if d := &p.Dimensions[i]; d.Name == s.Place().Name {
				return d.Place, nil
			}
		}
	}
	for _, name := range s.Place().Features {
		if pl, ok := p.PlaceOf(name); ok {
			all = append(all, pl)
		}
	}
	if len(all) == 0 {
		return p.Place, nil
	}
	slices.SortStableFunc(all, func(a, b parts.Place) int {
		return cmp.Or(cmp.Compare(a.Line, b.Line), cmp.Compare(a.Column, b.Column))
	})
	return all[len(all)-1], all[:len(all)-1]
}

// identity is a fingerprint of part, rule, subject and features: the same finding keeps it when lines move.
func identity(p *parts.Part, f *rules.Finding) string {
	h := sha256.New()
	for _, t := range append([]string{p.Name, f.Rule.Name, f.Subject.Kind().Name, f.Subject.Place().Name}, f.Subject.Place().Features...) {
		fmt.Fprintf(h, "%d:%s;", len(t), t)
	}
	return hex.EncodeToString(h.Sum(nil)[:8])
}

// notes name the operations after pressing, and what the part file asks that no pack answers.
func notes(p *parts.Part, book *rules.Book) (ns []Note) {
	for _, c := range p.Cuts {
		if c.MadeBy != "pressing" {
			ns = append(ns, Note{fmt.Sprintf("%s is cut by %s after sintering; the pressed shape is judged without it", c.Name, c.MadeBy), "cut", c.Name, c.Place})
		}
	}
	for i := range p.Sides {
		if s := &p.Sides[i]; s.MadeBy != "pressing" {
			ns = append(ns, Note{fmt.Sprintf("%s, a %s across the axis, is made by %s after sintering", s.Name, s.Kind, s.MadeBy), "crossing", s.Name, s.Place})
		}
	}
	for i := range p.Marks {
		if m := &p.Marks[i]; m.MadeBy != "pressing" {
			ns = append(ns, Note{fmt.Sprintf("%s, a mark, is made by %s after sintering", m.Name, m.MadeBy), "mark", m.Name, m.Place})
		}
	}
	if len(p.Edges)+len(p.Marks) > 0 {
		ns = append(ns, Note{"edges and marks are measured by themselves; volume, columns and walls are those without them", "part", p.Name, p.Place})
	}
	if m := p.Material; m.Name != "" {
		if _, known := book.Material(m.Name); known {
			return ns
		}
		ns = append(ns, Note{fmt.Sprintf("no pack in force has the material %s: pressure, force and density spread are not known", m.Name), "part", p.Name, m.Place})
	}
	return ns
}
