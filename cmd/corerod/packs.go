package main

import (
	"io"
	"io/fs"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"corerod/parts/source"
	"corerod/rules"
)

// standardPack judges where no other pack is named.
const standardPack = "press-and-sinter"

// packs loads the named packs, or the standard one.
func (c *call) packs(names []string) (book *rules.Book, unread source.Problems, err error) {
	var packs []*rules.Pack
	if len(names) == 0 {
		names = []string{standardPack}
	}
	for i, name := range names {
		if slices.Contains(names[:i], name) {
			return nil, nil, wrong("--pack names %s twice", name)
		}
		p, ps, err := c.pack(name)
		if err != nil {
			return nil, nil, err
		}
		unread = append(unread, ps...)
		if p != nil {
			packs = append(packs, p)
		}
	}
	if len(unread) > 0 {
		return nil, unread.Sorted(), nil
	}
	book, ps := rules.NewBook(packs...)
	return book, ps.Sorted(), nil
}

// pack loads one pack: a name without / and .yaml is a built-in first, else a folder or file here.
func (c *call) pack(name string) (*rules.Pack, source.Problems, error) {
	if !strings.ContainsAny(name, `/\`) && !strings.HasSuffix(name, ".yaml") && slices.Contains(rules.Builtin(), name) {
		p, err := rules.LoadBuiltin(name)
		return p, nil, err
	}
	folder, err := c.files.IsFolder(name)
	if err != nil {
		return nil, nil, wrong("there is no pack %s: neither a built-in one (%s) nor a folder or file here%s", source.Quote(name),
			strings.Join(rules.Builtin(), ", "), meant(name, rules.Builtin(), ""))
	}
	var files []rules.File
	if folder {
		files, err = c.packFolder(name)
	} else {
		files, err = c.packFile(name)
	}
	if err != nil {
		return nil, nil, wrong("the pack %s cannot be read: %s", name, cause(err))
	}
	p, ps := rules.LoadPack(files, rules.Builtins)
	return p, ps, nil
}

// packFolder reads a folder's own .yaml files; trial parts stand in subfolders.
func (c *call) packFolder(name string) (files []rules.File, err error) {
	root, err := c.files.Root(name)
	if err != nil {
		return nil, err
	}
	entries, err := fs.ReadDir(root, ".")
	if err != nil {
		return nil, err
	}
	for _, e := range entries {
		if e.IsDir() || path.Ext(e.Name()) != ".yaml" {
			continue
		}
		in, err := open(root, e.Name())
		if err != nil {
			return nil, err
		}
		b, err := readBounded(in)
		if err != nil {
			return nil, err
		}
		files = append(files, rules.File{Name: path.Join(filepath.ToSlash(name), e.Name()), Bytes: b})
	}
	return files, nil
}

func (c *call) packFile(name string) ([]rules.File, error) {
	in, err := c.files.Open(name)
	if err != nil {
		return nil, err
	}
	b, err := readBounded(in)
	if err != nil {
		return nil, err
	}
	return []rules.File{{Name: filepath.ToSlash(name), Bytes: b}}, nil
}

// readBounded reads up to one byte more than a file may have, so that its reader sees that it is too large.
func readBounded(in io.ReadCloser) ([]byte, error) {
	defer in.Close()
	return io.ReadAll(io.LimitReader(in, source.MostBytes+1))
}
