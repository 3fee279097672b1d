package main

import (
	"io"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/pflag"

	"corerod/checker"
	"corerod/checker/report"
	"corerod/rules"
)

// sinceOptions say what a review is compared with, and what share of it is done.
type sinceOptions struct {
	earlier, rulesFrom string
	lot, lots          int
}

func (o *sinceOptions) flags(f *pflag.FlagSet) {
	f.StringVar(&o.earlier, "earlier", "", "compare with an earlier review: the `FOLDER-OR-JSON` of another checkout, or of what --to json wrote; new and worsened findings alone count")
	f.StringVar(&o.rulesFrom, "rules-from", "", "take shop file, packs and concessions from the folder `BASE`, where the same tree stands")
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

// base maps the files of a review to their places in another folder that holds the same tree.
type base struct {
	folder string   // "" for none
	args   []string // of the review
}

// place is where a file of the review stands in the other folder: below it as it does below the working folder; what lies
// outside that, as it does below its argument.
func (b base) place(file string) string {
	here := whole(".")
	if rel, err := filepath.Rel(here, whole(file)); err == nil && !outside(rel) {
		return filepath.Join(b.folder, rel)
	}
	for _, arg := range b.args {
		rel, err := filepath.Rel(whole(arg), whole(file))
		switch {
		case err != nil || outside(rel):
		case rel == ".":
			return filepath.Join(b.folder, filepath.Base(file))
		default:
			return filepath.Join(b.folder, rel)
		}
	}
	return filepath.Join(b.folder, filepath.Base(file))
}

func outside(rel string) bool {
	return rel == ".." || strings.HasPrefix(rel, ".."+string(filepath.Separator))
}

// compareWith compares a review of files and folders with an earlier one: that of a folder with the same tree, or one that was
// kept as JSON.
func (c *call) compareWith(r *checker.Review, from string, args []string, by *force) error {
	folder, err := c.files.IsFolder(from)
	if err != nil {
		return wrong("the earlier review %s cannot be read: %v", from, cause(err))
	}
	if !folder {
		return c.compareWithJSON(r, from, args)
	}
	b := base{from, args}
	found := &found{}
	seen := map[string]bool{}
	for _, arg := range args {
		at := b.place(arg)
		is, err := c.files.IsFolder(at)
		if err != nil { // it is new
			continue
		}
		if err := c.add(at, is, found, seen); err != nil {
			return err
		}
	}
	earlier := checker.Run(found.parts, by.book, checker.Options{StatusAt: r.StatusAt, Slim: true})
	r.CompareWith(checker.EarlierOf(earlier, filepath.ToSlash(from)), func(file string) string { return filepath.ToSlash(b.place(file)) })
	return nil
}

// compareWithJSON compares with a review that was kept; of parts that are gone those count whose files the arguments name.
func (c *call) compareWithJSON(r *checker.Review, from string, args []string) error {
	in, err := c.files.Open(from)
	if err != nil {
		return wrong("the earlier review %s cannot be read: %v", from, cause(err))
	}
	defer in.Close()
	b, err := io.ReadAll(io.LimitReader(in, report.MostEarlier+1))
	if err != nil {
		return wrong("the earlier review %s cannot be read: %v", from, cause(err))
	}
	e, err := report.ReadEarlier(filepath.ToSlash(from), b)
	if err != nil {
		return wrong("the earlier review %s cannot be used: %v", from, err)
	}
	under := func(file string) bool {
		for _, arg := range args {
			if rel, err := filepath.Rel(whole(arg), whole(file)); err == nil && !outside(rel) {
				return true
			}
		}
		return false
	}
	var kept []checker.EarlierPart
	for _, p := range e.Parts {
		if !under(p.File) {
			continue
		}
		p.Findings = slices.DeleteFunc(p.Findings, func(f checker.EarlierFinding) bool { // which are not looked for now
			return len(r.Only) > 0 && !slices.Contains(r.Only, f.Rule)
		})
		kept = append(kept, p)
	}
	e.Parts = kept
	r.CompareWith(e, func(file string) string { return file })
	return nil
}

// rulesFrom finds what is in force in another folder: its shop file, packs and concessions. Those of the tree are listed, and
// do not hold.
func (c *call) rulesFrom(folder string, files []checker.File, args []string, o *packOptions) (notInForce []string, err error) {
	if is, err := c.files.IsFolder(folder); err != nil || !is {
		return nil, wrong("--rules-from is %s, which is no folder", folder)
	}
	if o.shop != "" || o.noShop || len(o.packs) > 0 {
		return nil, wrong("--rules-from takes the shop file and the packs from %s; leave out --shop, --no-shop and --pack", folder)
	}
	b := base{folder, args}
	seen := map[string]bool{}
	shop, first := "", ""
	for i, f := range files {
		if own := c.shopAbove(f.Name); own != "" && !seen[own] && !inside(folder, own) {
			seen[own] = true
			notInForce = append(notInForce, own)
		}
		at := c.shopWithin(folder, b.place(f.Name))
		if i > 0 && at != shop {
			return nil, wrong("%s is judged by %s and %s by %s; review them apart", first, orNone(shop), f.Name, orNone(at))
		}
		shop, first = at, f.Name
	}
	o.shop, o.noShop = shop, shop == ""
	return notInForce, nil
}

func inside(folder, file string) bool {
	rel, err := filepath.Rel(whole(folder), whole(file))
	return err == nil && !outside(rel)
}

// shopWithin finds the nearest shop file in the folder of a place or above it, within a folder.
func (c *call) shopWithin(folder, place string) string {
	for dir := filepath.Dir(place); ; dir = filepath.Dir(dir) {
		if !inside(folder, dir) {
			return ""
		}
		file := filepath.Join(dir, rules.ShopFile)
		if is, err := c.files.IsFolder(file); err == nil && !is {
			return file
		}
		if whole(dir) == whole(folder) {
			return ""
		}
	}
}

// share is the files of one lot: an equal share of all, in their order.
func share(files []checker.File, lot, lots int) []checker.File {
	n := len(files)
	return files[(lot-1)*n/lots : lot*n/lots]
}
