package main

import (
	"bytes"
	"io"
	"path/filepath"
	"slices"
	"strings"
	"sync"

	"github.com/spf13/pflag"

	"corerod/checker"
	"corerod/checker/compare"
	"corerod/checker/concession"
	"corerod/checker/report/data"
	"corerod/parts/source"
)

// sinceOptions say what a review is compared with, and what share of it is done.
type sinceOptions struct {
	earlier, rulesFrom string
	lot, lots          int
}

func (o *sinceOptions) flags(f *pflag.FlagSet) {
	f.StringVar(&o.earlier, "earlier", "", "compare with an earlier review: the `FOLDER-OR-JSON` of another checkout, "+
		"or of what --to json wrote; only new and worsened findings count")
	f.StringVar(&o.rulesFrom, "rules-from", "", "take shop files, packs and concessions from the folder `BASE`, which holds the same tree")
	f.IntVar(&o.lot, "lot", 0, "review lot `K` of --lots alone")
	f.IntVar(&o.lots, "lots", 0, "divide the parts, in order of their files, into `N` lots; corerod join joins their JSON")
}

// check refuses options that do not go together.
func (o *sinceOptions) check() error {
	switch {
	case o.lot == 0 && o.lots == 0:
		return nil
	case o.lots < 1 || o.lot < 1 || o.lot > o.lots:
		return wrong("--lot is %d of --lots %d; give a lot from 1 to the number of lots", o.lot, o.lots)
	case o.earlier != "":
		return wrong("--earlier compares whole sets; join the lots and compare with the joined JSON, or leave out --lot")
	}
	return nil
}

// share is the files of one lot: an equal share of all, in their order.
func share(files []checker.File, lot, lots int) []checker.File {
	n := len(files)
	return files[(lot-1)*n/lots : lot*n/lots]
}

// earlierFiles are the files of an earlier folder, under the names that they have in this one.
type earlierFiles struct {
	*call
	*found
	files map[string]checker.File
	mu    sync.Mutex
	same  map[string]bool // files that are the same there
}

// earlierIn finds the files of an earlier folder that the arguments of a review name.
func (c *call) earlierIn(folder string, args []string, now []checker.File) (*earlierFiles, error) {
	e := &earlierFiles{call: c.through(c.viewOf(folder, args)), files: map[string]checker.File{}, same: map[string]bool{}}
	parts := map[string]bool{}
	for _, f := range now {
		parts[f.Name] = true
	}
	var err error
	if e.found, err = e.gatherKnown(e.present(args), parts); err != nil {
		return nil, err
	}
	for _, f := range e.parts {
		e.files[f.Name] = f
	}
	return e, nil
}

// changed tells whether a file is new or another than the earlier one.
func (e *earlierFiles) changed(p *checker.PartReview, b []byte) bool {
	f, ok := e.files[p.File]
	if !ok {
		return true
	}
	in, err := f.Open()
	if err != nil {
		return true
	}
	old, err := readBounded(in)
	if err != nil || !bytes.Equal(old, b) {
		return true
	}
	e.mu.Lock()
	defer e.mu.Unlock()
	e.same[p.File] = true
	return false
}

// review reviews the earlier files by what holds for the later ones. Those that are the same need not be reviewed again.
func (e *earlierFiles) review(r *checker.Review, by *forceFinder) (*compare.Earlier, error) {
	now := map[string]*checker.PartReview{}
	for _, p := range r.Parts {
		now[p.File] = p
	}
	var files []checker.File
	for _, f := range e.parts {
		if e.same[f.Name] {
			continue
		}
		var err error
		if f.Force, err = by.of(f.Name); err != nil {
			return nil, err
		}
		files = append(files, f)
	}
	old := checker.Run(e.ctx, files, nil, checker.Options{Steps: []checker.Step{concession.Cover}})
	old.Forces = r.Forces
	earlier := compare.EarlierOf(old, "the earlier files")
	for _, f := range e.parts {
		if p := now[f.Name]; p != nil && e.same[f.Name] {
			earlier.Parts = append(earlier.Parts, compare.SamePart(p))
		}
	}
	earlier.PassedOver, earlier.Whole = append(earlier.PassedOver, e.passedOver()...), true
	for _, x := range e.inPacks {
		earlier.PassedOver = append(earlier.PassedOver, x.PassedOver)
	}
	return earlier, nil
}

// earlierJSON reads a review that was kept. Of its parts those count whose files the arguments name.
func (c *call) earlierJSON(from string, args, only []string) (*compare.Earlier, error) {
	in, err := c.files.Open(from)
	if err != nil {
		return nil, wrong("the earlier review %s cannot be read: %v", from, cause(err))
	}
	defer in.Close()
	c.reads(from)
	b, err := io.ReadAll(io.LimitReader(in, data.MostEarlier+1))
	if err != nil {
		return nil, wrong("the earlier review %s cannot be read: %v", from, cause(err))
	}
	e, err := data.ReadEarlier(filepath.Base(from), b)
	if err != nil {
		return nil, wrong("the earlier review %s cannot be used: %v", from, err)
	}
	under := func(file string) bool {
		return slices.ContainsFunc(args, func(arg string) bool {
			rel, err := filepath.Rel(whole(arg), whole(file))
			return err == nil && !outside(rel)
		})
	}
	e.Parts = slices.DeleteFunc(e.Parts, func(p *checker.EarlierPart) bool { return !under(p.File) })
	for _, p := range e.Parts {
		p.Findings = slices.DeleteFunc(p.Findings, func(f *checker.EarlierFinding) bool { // which are not looked for now
			return len(only) > 0 && !slices.Contains(only, f.Rule)
		})
	}
	return e, nil
}

// redrawn tells whether a part is new or drawn otherwise than in a review that was kept.
func redrawn(e *compare.Earlier) func(*checker.PartReview, []byte) bool {
	shapes := map[string]string{}
	for _, p := range e.Parts {
		shapes[p.File] = p.States.Shape
	}
	return func(p *checker.PartReview, _ []byte) bool { return shapes[p.File] != p.States.Shape }
}

// unreviewedIn are the problems of files that may be parts, are in the change, and were not reviewed.
func (f *found) unreviewedIn(e *compare.Earlier) (ps source.Problems) {
	before := map[checker.PassedOver]bool{}
	packs := map[string]bool{}
	for _, x := range e.PassedOver {
		before[x], packs[x.File] = true, true
	}
	say := func(x checker.PassedOver) {
		ps = append(ps, source.Problem{File: x.File, Message: "was not reviewed, and is in the change: it " + x.Why})
	}
	for _, x := range f.overlooked {
		if !before[x] {
			say(x)
		}
	}
	for _, x := range f.inPacks {
		i := slices.IndexFunc(f.packs, func(p string) bool { return strings.HasPrefix(x.File, p+"/") })
		switch there := i >= 0 && packs[f.packs[i]]; {
		case !there:
			say(x.PassedOver)
		case !x.trial && !before[x.PassedOver] && e.Whole:
			x.Why += " and is no part of its trials"
			say(x.PassedOver)
		}
	}
	return ps
}
