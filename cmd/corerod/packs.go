package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/pflag"

	"corerod/checker"
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
	f.StringArrayVar(&o.packs, "pack", nil, "a built-in pack, or the `PATH` of a pack's folder or file, instead of those of the shop file; repeatable")
	f.StringVar(&o.shop, "shop", "", "the shop `FILE`, instead of the nearest "+rules.ShopFile+" above the part")
	f.BoolVar(&o.noShop, "no-shop", false, "look for no shop file")
}

// force is what parts are judged by.
type force struct {
	book    *rules.Book
	shop    *rules.Shop          // nil for none
	concede *checker.Concessions // nil for none
}

// inForce finds the shop file of parts and loads the packs in force: those that the options name, else those of the shop
// file, else the standard one.
func (c *call) inForce(files []checker.File, o packOptions) (*force, source.Problems, error) {
	shop, ps, err := c.shopFile(files, o)
	if err != nil || len(ps) > 0 {
		return nil, ps, err
	}
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
	return &force{book, shop, concede}, ps.Sorted(), nil
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
	c.read[whole(name)] = true
	all, ps := checker.ReadConcessions(name, b, c.now)
	if len(ps) > 0 {
		return nil, ps
	}
	return all, all.Unknown(book)
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

// shopFile reads the shop file of parts: that of the option, else the nearest above each part, which must be one for all.
func (c *call) shopFile(files []checker.File, o packOptions) (*rules.Shop, source.Problems, error) {
	switch {
	case o.noShop && o.shop != "":
		return nil, nil, wrong("--shop and --no-shop are given; give one")
	case o.noShop:
		return nil, nil, nil
	case o.shop != "":
		return c.readShop(o.shop)
	}
	nearest, first := "", ""
	for i, f := range files {
		s := c.shopAbove(f.Name)
		if i > 0 && s != nearest {
			return nil, nil, wrong("%s is judged by %s and %s by %s; review them apart, or name one shop file with --shop", first, orNone(nearest), f.Name, orNone(s))
		}
		nearest, first = s, f.Name
	}
	if nearest == "" {
		return nil, nil, nil
	}
	return c.readShop(nearest)
}

func orNone(shop string) string {
	if shop == "" {
		return "no shop file"
	}
	return shop
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
	c.read[whole(file)] = true
	s, ps := rules.ReadShop(filepath.ToSlash(file), b)
	return s, ps, nil
}

// loader loads packs and those they build on.
type loader struct {
	*call
	folder string // that names are looked up from
	under  string // the folder of the shop file, that packs below are named from; "" for none
	inside bool   // names must lead below folder: they stand in a file
	stack  []string
	known  map[string]*rules.Pack
	err    error // a wrong call
}

// load finds one pack: a built-in one by its name, else a folder or file.
func (l *loader) load(b rules.Base) (*rules.Pack, source.Problems) {
	name := b.Name
	if isBuiltin(name) {
		return rules.Builtins(b)
	}
	if l.inside {
		name = strings.TrimPrefix(name, "./")
	}
	if l.inside && !below(name) {
		return nil, b.Problem(fmt.Sprintf("%s leads out of the folder of the shop file; a pack is named by a path below it", source.Quote(name)))
	}
	where := name
	if !filepath.IsAbs(name) {
		where = filepath.Join(l.folder, filepath.FromSlash(name))
	}
	if slices.Contains(l.stack, where) {
		return nil, b.Problem("the packs build on each other in a circle: " + strings.Join(append(slices.Clone(l.stack), where), ", then "))
	}
	if p := l.known[where]; p != nil {
		return p, nil
	}
	files, err := l.packFiles(where)
	for _, f := range files {
		l.read[whole(f.Name)] = true
	}
	if err != nil {
		place, says := "here", fmt.Sprintf("the pack %s cannot be read: %v", source.Quote(name), cause(err))
		if l.inside {
			place = "below the shop file"
		}
		if errors.Is(err, fs.ErrNotExist) {
			says = fmt.Sprintf("there is no pack %s: neither a built-in one (%s) nor a folder or file %s%s", source.Quote(name), strings.Join(rules.Builtin(), ", "), place, meant(name, rules.Builtin(), ""))
		}
		if l.inside {
			return nil, b.Problem(says)
		}
		l.err = wrong("%s", says)
		return nil, nil
	}
	below := *l
	below.stack = append(slices.Clone(l.stack), where)
	below.folder, below.inside = l.below(where), true
	p, ps := rules.LoadPack(files, below.load)
	if below.err != nil {
		l.err = below.err
	}
	if p != nil {
		if l.known == nil {
			l.known = map[string]*rules.Pack{}
		}
		l.known[where] = p
	}
	return p, ps
}

// below is the folder that the packs a pack builds on are named from: that of the shop file, else that of the pack.
func (l *loader) below(where string) string {
	if l.under != "" {
		return l.under
	}
	return filepath.Dir(where)
}

// digestOf reports a pack that is another than the one that was built on.
func digestOf(b rules.Base, p *rules.Pack) source.Problems {
	if p == nil || b.SHA256 == "" || b.SHA256 == p.Digest {
		return nil
	}
	return b.Problem("the pack " + source.Quote(b.Name) + " has changed: its sha256 is " + p.Digest)
}

func isBuiltin(name string) bool {
	return !strings.ContainsAny(name, `/\`) && !strings.HasSuffix(name, ".yaml") && slices.Contains(rules.Builtin(), name)
}

// below tells whether a path of a file leads below the folder it starts from.
func below(name string) bool {
	return fs.ValidPath(name) && name != "." && !strings.ContainsAny(name, `\:`)
}

// packFiles reads the files of a pack: a folder's own .yaml files, where trial parts stand in subfolders, or one file.
// Inside a shop's folder nothing is reached through links that lead out of it.
func (l *loader) packFiles(where string) (files []rules.File, err error) {
	if l.inside {
		root, err := l.files.Root(l.folder)
		if err != nil {
			return nil, err
		}
		rel, err := filepath.Rel(l.folder, where)
		if err != nil {
			return nil, err
		}
		return packIn(root, filepath.ToSlash(rel), filepath.ToSlash(where))
	}
	folder, err := l.files.IsFolder(where)
	if err != nil {
		return nil, err
	}
	if folder {
		root, err := l.files.Root(where)
		if err != nil {
			return nil, err
		}
		return packIn(root, ".", filepath.ToSlash(where))
	}
	in, err := l.files.Open(where)
	if err != nil {
		return nil, err
	}
	b, err := readBounded(in)
	if err != nil {
		return nil, err
	}
	return []rules.File{{Name: filepath.ToSlash(where), Bytes: b}}, nil
}

// packIn reads the pack at a path of a file system, and shows its files under another.
func packIn(root fs.FS, at, shown string) (files []rules.File, err error) {
	read := func(name, shown string) error {
		in, err := open(root, name)
		if err != nil {
			return fmt.Errorf("%s: %w", shown, cause(err))
		}
		b, err := readBounded(in)
		if err != nil {
			return fmt.Errorf("%s: %w", shown, cause(err))
		}
		files = append(files, rules.File{Name: shown, Bytes: b})
		return nil
	}
	i, err := fs.Stat(root, at)
	if err != nil {
		return nil, err
	}
	if !i.IsDir() {
		return files, read(at, shown)
	}
	entries, err := fs.ReadDir(root, at)
	if err != nil {
		return nil, err
	}
	for _, e := range entries {
		if !e.IsDir() && path.Ext(e.Name()) == ".yaml" {
			if err := read(path.Join(at, e.Name()), path.Join(shown, e.Name())); err != nil {
				return nil, err
			}
		}
	}
	return files, nil
}

// readBounded reads up to one byte more than a file may have, so that its reader sees that it is too large.
func readBounded(in io.ReadCloser) ([]byte, error) {
	defer in.Close()
	return io.ReadAll(io.LimitReader(in, source.MostBytes+1))
}
