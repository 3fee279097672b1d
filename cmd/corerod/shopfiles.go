package main

import (
	"path/filepath"
	"slices"
	"strings"

	"corerod/checker"
	"corerod/parts/source"
	"corerod/rules"
)

// shopFile reads the shop file of a part: that of the option, else the nearest above it; nil for none.
func (c *call) shopFile(part string, o packOptions) (*rules.Shop, source.Problems, error) {
	switch {
	case o.noShop && o.shop != "":
		return nil, nil, wrong("--shop and --no-shop are given; give one")
	case o.noShop:
		return nil, nil, nil
	case o.shop != "":
		return c.readShop(o.shop)
	}
	if nearest := c.shopAbove(part); nearest != "" {
		return c.readShop(nearest)
	}
	return nil, nil, nil
}

// forceFinder finds what holds for parts; each shop file is read once.
type forceFinder struct {
	*call
	packOptions
	only     []string    // the rules that alone are asked for; nil for all
	statusAt rules.Grade // asked for; "" for that of each shop file

	in    map[string]string         // shop files by the folders of parts
	by    map[string]*checker.Force // by shop file
	all   []*checker.Force
	books map[*checker.Force]*rules.Book // with all rules
	ps    source.Problems
}

// forces finds what holds for some parts and puts it there. Without a part there is what holds here.
func (c *call) forces(files []checker.File, o packOptions, only []string, statusAt rules.Grade) (*forceFinder, error) {
	f := &forceFinder{call: c, packOptions: o, only: only, statusAt: statusAt, in: map[string]string{}, by: map[string]*checker.Force{},
		books: map[*checker.Force]*rules.Book{}}
	var err error
	if len(files) == 0 {
		_, err = f.of("part.yaml")
	}
	for i := range files {
		if err == nil {
			files[i].Force, err = f.of(files[i].Name)
		}
	}
	if err == nil && len(f.ps) == 0 {
		err = f.known()
	}
	return f, err
}

// of is what holds for a part; nil where it cannot be read, which is among the problems.
func (f *forceFinder) of(part string) (*checker.Force, error) {
	shop := ""
	if f.shop == "" && !f.noShop {
		folder, known := filepath.Dir(filepath.FromSlash(part)), false
		if shop, known = f.in[folder]; !known {
			shop = f.shopAbove(part)
			f.in[folder] = shop
		}
	}
	if x, ok := f.by[shop]; ok {
		return x, nil
	}
	x, ps, err := f.inForce(checker.File{Name: part}, f.packOptions)
	if f.ps = append(f.ps, ps...).Sorted(); err != nil || len(ps) > 0 {
		f.by[shop] = nil
		return nil, err
	}
	f.by[shop], f.books[x] = x, x.Book
	f.all = append(f.all, x)
	x.StatusAt = f.statusAt
	if x.StatusAt == "" && x.Shop != nil {
		x.StatusAt = x.Shop.StatusAt
	}
	if x.StatusAt == "" {
		x.StatusAt = rules.Change
	}
	x.Book = alone(x.Book, f.only)
	return x, nil
}

// known refuses names of rules that are nowhere in force.
func (f *forceFinder) known() error {
	var names []string
	for _, b := range f.books {
		for _, r := range b.Rules {
			names = append(names, r.Name)
		}
	}
	slices.Sort(names)
	for i, n := range f.only {
		if !slices.Contains(names, n) {
			return wrong("there is no rule %s in force%s", source.Quote(n), meant(n, slices.Compact(names), ""))
		}
		if slices.Contains(f.only[:i], n) {
			return wrong("--rule names %s twice", n)
		}
	}
	return nil
}

// alone keeps the named rules of a book; all of them where none is named.
func alone(b *rules.Book, names []string) *rules.Book {
	if len(names) == 0 {
		return b
	}
	one := &rules.Book{Packs: b.Packs}
	for _, r := range b.Rules {
		if slices.Contains(names, r.Name) {
			one.Rules = append(one.Rules, r)
		}
	}
	return one
}

// shopAbove finds the nearest shop file in the folder of a part or above it; "" for none.
func (c *call) shopAbove(part string) string {
	dir, err := filepath.Abs(filepath.Dir(filepath.FromSlash(part)))
	if err != nil {
		return ""
	}
	for {
		file := filepath.Join(dir, rules.ShopFile)
		if folder, err := c.files.IsFolder(file); err == nil && !folder {
			return c.shown(file)
		}
		up := filepath.Dir(dir)
		if up == dir {
			return ""
		}
		dir = up
	}
}

// shown is a path as it is shown: from the working folder where it lies below that.
func (c *call) shown(file string) string {
	here, err := filepath.Abs(".")
	if err != nil {
		return filepath.ToSlash(file)
	}
	if rel, err := filepath.Rel(here, file); err == nil && !strings.HasPrefix(rel, "..") {
		return filepath.ToSlash(rel)
	}
	return filepath.ToSlash(file)
}

func (c *call) readShop(file string) (*rules.Shop, source.Problems, error) {
	in, err := c.files.Open(file)
	if err != nil {
		return nil, nil, wrong("the shop file %s cannot be read: %s", file, cause(err))
	}
	b, err := readBounded(in)
	if err != nil {
		return nil, nil, wrong("the shop file %s cannot be read: %s", file, cause(err))
	}
	c.reads(file)
	s, ps := rules.ReadShop(filepath.ToSlash(file), b)
	return s, ps, nil
}
