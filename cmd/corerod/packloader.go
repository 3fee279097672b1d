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

	"corerod/parts/source"
	"corerod/rules"
)

// loader loads packs and those they build on.
type loader struct {
	*call
	folder string // that names are looked up from
	under  string // the folder of the shop file, that packs below are named from; "" for none
	inside bool   // names must lead below folder: they stand in a file
	stack  []string
	known  map[string]*rules.Pack
	err    error // of the command line
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
		return nil,
			b.Problem(fmt.Sprintf("%s leads out of the folder of the shop file; a pack is named by a path below it", source.Quote(name)))
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
		l.reads(f.Name)
	}
	if err != nil {
		place, says := "here", fmt.Sprintf("the pack %s cannot be read: %v", source.Quote(name), cause(err))
		if l.inside {
			place = "below the shop file"
		}
		if errors.Is(err, fs.ErrNotExist) {
			says = fmt.Sprintf("there is no pack %s: neither a built-in one (%s) nor a folder or file %s%s", source.Quote(name),
				strings.Join(rules.Builtin(), ", "), place, meant(name, rules.Builtin(), ""))
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
