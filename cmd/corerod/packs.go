package main

import (
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"slices"

	"github.com/spf13/pflag"

	"corerod/checker"
	"corerod/checker/concession"
	"corerod/parts/source"
	"corerod/rules"
)

// standardPack judges where no other pack is named.
const standardPack = "press-and-sinter"

// packOptions say by which packs parts are judged.
type packOptions struct {
	packs  []string
	shop   string
	noShop bool
}

func (o *packOptions) flags(f *pflag.FlagSet) {
	f.StringArrayVar(&o.packs, "pack", nil, "a built-in pack, or the `PATH` of a pack's folder or file, "+
		"instead of those of the shop file; repeatable")
	f.StringVar(&o.shop, "shop", "", "the shop `FILE`, instead of the nearest "+rules.ShopFile+" above the part")
	f.BoolVar(&o.noShop, "no-shop", false, "look for no shop file")
}

// inForce finds what holds for a part: the shop file above it, and the packs that the options name, else those of the shop file,
// else the standard one.
func (c *call) inForce(file checker.File, o packOptions) (*checker.Force, source.Problems, error) {
	shop, ps, err := c.shopFile(file.Name, o)
	if err != nil || len(ps) > 0 {
		return nil, ps, err
	}
	return c.load(shop, o)
}

// load loads the packs of a shop file, or those of the options, and the concessions.
func (c *call) load(shop *rules.Shop, o packOptions) (_ *checker.Force, ps source.Problems, _ error) {
	l := &loader{call: c, folder: "."}
	bases := []rules.Base{}
	switch {
	case len(o.packs) > 0:
		for i, name := range o.packs {
			if slices.Contains(o.packs[:i], name) {
				return nil, nil, wrong("--pack names %s twice", name)
			}
			bases = append(bases, rules.Base{Name: name})
		}
		if shop != nil {
			l.under = filepath.Dir(shop.File)
		}
	case shop != nil && len(shop.Packs) > 0:
		bases, l.folder, l.under, l.inside = shop.Packs, filepath.Dir(shop.File), filepath.Dir(shop.File), true
	default:
		bases = []rules.Base{{Name: standardPack}}
	}
	var packs []*rules.Pack
	for _, b := range bases {
		p, found := l.load(b)
		ps = append(append(ps, found...), digestOf(b, p)...)
		if p != nil {
			packs = append(packs, p)
		}
	}
	if l.err == nil {
		found, err := already(bases, packs)
		if err != nil {
			return nil, nil, err
		}
		ps = append(ps, found...)
	}
	if l.err != nil {
		return nil, nil, l.err
	}
	if len(ps) > 0 {
		return nil, ps.Sorted(), nil
	}
	book, ps := rules.NewBook(packs...)
	if len(ps) > 0 {
		return nil, ps.Sorted(), nil
	}
	concede, ps := c.concessions(shop, book)
	return &checker.Force{Book: book, Shop: shop, Concede: concede}, ps.Sorted(), nil
}

// concessions reads the concessions that a shop file names. A file that is not there yet has none.
func (c *call) concessions(shop *rules.Shop, book *rules.Book) (*checker.Concessions, source.Problems) {
	if shop == nil || shop.Concessions == "" {
		return nil, nil
	}
	folder := filepath.Dir(filepath.FromSlash(shop.File))
	name := filepath.ToSlash(filepath.Join(folder, filepath.FromSlash(shop.Concessions)))
	unread := func(err error) source.Problems {
		return source.Problems{{File: name, Message: fmt.Sprintf("the concessions cannot be read: %v", cause(err))}}
	}
	root, err := c.files.Root(folder)
	if err != nil {
		return nil, unread(err)
	}
	var b []byte
	in, err := open(root, shop.Concessions)
	switch {
	case err == nil:
		if b, err = readBounded(in); err != nil {
			return nil, unread(err)
		}
	case !errors.Is(err, fs.ErrNotExist):
		return nil, unread(err)
	}
	c.reads(name)
	all, ps := concession.Read(name, b, c.now)
	if len(ps) > 0 {
		return nil, ps
	}
	all.At = func(file string) string {
		if rel, err := filepath.Rel(whole(folder), whole(file)); err == nil {
			return filepath.ToSlash(rel)
		}
		return file
	}
	return all, concession.Unknown(all, book)
}

// already reports a pack that is named beside one that builds on it.
func already(bases []rules.Base, packs []*rules.Pack) (ps source.Problems, err error) {
	if len(bases) != len(packs) {
		return nil, nil // some could not be loaded
	}
	for i, p := range packs {
		for j, q := range packs {
			if i == j || !slices.Contains(p.All()[1:], q) {
				continue
			}
			says := fmt.Sprintf("%s builds on %s already; leave %s out", bases[i].Name, bases[j].Name, bases[j].Name)
			if bases[j].Origin.File == "" {
				return nil, wrong("%s", says)
			}
			ps = append(ps, bases[j].Problem(says)...)
		}
	}
	return ps, nil
}
