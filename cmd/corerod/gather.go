package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"io"
	"io/fs"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"sync"

	"corerod/checker"
	"corerod/parts/source"
)

// found is what the arguments of a review lead to.
type found struct {
	parts      []checker.File
	packs      []string             // folders that are passed over, since they hold a pack
	overlooked []checker.PassedOver // files that may be parts and are not reviewed
	inPacks    []inPackFile         // parts in the folders of packs, where these were asked for
	other      []string             // YAML files that are no parts
}

// inPackFile is a file in the folder of a pack that may be a part.
type inPackFile struct {
	checker.PassedOver
	trial bool // the pack's own files name it
}

// ownFiles is what the own files of a pack say, one after the other.
func ownFiles(root fs.FS, folder string) (all []byte) {
	entries, err := fs.ReadDir(root, folder)
	if err != nil {
		return nil
	}
	for _, e := range entries {
		if e.IsDir() || path.Ext(e.Name()) != ".yaml" {
			continue
		}
		if b, err := bytesIn(root, path.Join(folder, e.Name())); err == nil {
			all = append(all, b...)
		}
	}
	return all
}

// passedOver is what was not reviewed though a part may be in it.
func (f *found) passedOver() (all []checker.PassedOver) {
	for _, p := range f.packs {
		all = append(all, checker.PassedOver{File: p, Why: "holds a rule pack; name it to review its trial parts"})
	}
	return append(all, f.overlooked...)
}

// gatherer collects the part files that arguments name.
type gatherer struct {
	*call
	found   found
	seen    map[string]bool
	inPacks bool            // look for parts in the folders of packs, too
	known   map[string]bool // names of files that are taken for parts without a look
}

// gather collects the part files that the arguments name: files as they are, folders walked in order.
func (c *call) gather(args []string, stdin string, inPacks bool) (*found, error) {
	g := &gatherer{call: c, seen: map[string]bool{}, inPacks: inPacks}
	return g.all(args, stdin)
}

func (g *gatherer) all(args []string, stdin string) (*found, error) {
	for _, arg := range args {
		if arg == "-" && g.seen["-"] {
			continue
		}
		if arg == "-" {
			g.seen["-"] = true
			g.found.parts = append(g.found.parts, g.standardInput(stdin))
			continue
		}
		folder, err := g.files.IsFolder(arg)
		if err != nil {
			return nil, wrong("%s cannot be read: %s", arg, cause(err))
		}
		if err := g.add(arg, folder); err != nil {
			return nil, err
		}
	}
	return &g.found, nil
}

// gatherKnown collects what arguments name, and takes some files for parts by their names.
func (c *call) gatherKnown(args []string, known map[string]bool) (*found, error) {
	g := &gatherer{call: c, seen: map[string]bool{}, known: known, inPacks: true}
	return g.all(args, "")
}

// add adds a part file, or those below a folder, unless they are there already.
func (g *gatherer) add(name string, folder bool) error {
	if folder {
		return g.walk(name)
	}
	if key := g.real(name); !g.seen[key] {
		g.seen[key] = true
		g.found.parts = append(g.found.parts, g.single(name))
	}
	return nil
}

// whole is a path from the root, so that a file named in two ways is reviewed once.
func whole(name string) string {
	if abs, err := filepath.Abs(name); err == nil {
		return abs
	}
	return filepath.Clean(name)
}

// cause is an error without the operation and path that the message names already.
func cause(err error) error {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err
	}
	return err
}

// single is a part file that was named.
func (c *call) single(name string) checker.File {
	c.reads(name)
	return checker.File{Name: filepath.ToSlash(name), Open: func() (io.ReadCloser, error) { return c.files.Open(name) }}
}

// standardInput is a part on standard input, which can be opened more than once.
func (c *call) standardInput(name string) checker.File {
	c.reads(name) // where there is such a file, it is what stands on standard input
	text := sync.OnceValues(func() ([]byte, error) { return readBounded(io.NopCloser(c.In)) })
	return checker.File{Name: name, Open: func() (io.ReadCloser, error) {
		b, err := text()
		return io.NopCloser(bytes.NewReader(b)), err
	}}
}

// open opens a plain file.
func open(root fs.FS, name string) (io.ReadCloser, error) {
	i, err := fs.Stat(root, name)
	if err != nil {
		return nil, err
	}
	if !i.Mode().IsRegular() {
		return nil, errors.New("it is no plain file")
	}
	return root.Open(name)
}

// walk adds the part files below a folder. A folder that holds a pack is passed over and named, unless it is the
// one that was asked for.
func (g *gatherer) walk(folder string) error {
	root, err := g.files.Root(folder)
	if err != nil {
		return wrong("%s cannot be read: %s", folder, cause(err))
	}
	top := g.real(folder)
	pack, trials := "", []byte(nil) // the folder of a pack that is passed over, and what its own files say
	return fs.WalkDir(root, ".", func(p string, d fs.DirEntry, err error) error {
		shown := path.Join(filepath.ToSlash(folder), p)
		if err != nil {
			return wrong("%s cannot be read: %s", shown, cause(err))
		}
		if pack != "" && !strings.HasPrefix(p, pack+"/") {
			pack = ""
		}
		switch {
		case d.IsDir() && d.Name() == ".git":
			return fs.SkipDir
		case d.IsDir():
			if _, err := fs.Stat(root, path.Join(p, "pack.yaml")); p == "." || pack != "" || err != nil {
				return nil
			}
			g.found.packs = append(g.found.packs, shown)
			if pack = p; g.inPacks {
				trials = ownFiles(root, p)
				return nil
			}
			return fs.SkipDir
		}
		if at := filepath.Join(top, filepath.FromSlash(p)); !g.seen[at] {
			before := len(g.found.inPacks)
			if g.file(root, p, input{shown, at}, d, pack != ""); len(g.found.inPacks) > before {
				g.found.inPacks[before].trial = bytes.Contains(trials, []byte(strings.TrimPrefix(p, pack+"/")))
			}
		}
		return nil
	})
}

// file takes in a file of a folder: as a part, as one that may be a part and is not reviewed, or as none. What cannot be read may
// be a part: the review names it.
func (g *gatherer) file(root fs.FS, p string, in input, d fs.DirEntry, inPack bool) {
	shown := in.name
	plain := slices.Contains([]string{".yaml", ".yml"}, path.Ext(p))
	over := func(why, digest string) {
		x := checker.PassedOver{File: shown, Why: why, SHA256: digest}
		if inPack {
			g.found.inPacks = append(g.found.inPacks, inPackFile{x, false})
		} else {
			g.found.overlooked = append(g.found.overlooked, x)
		}
	}
	switch named := plain || slices.Contains([]string{".yaml", ".yml", ".json"}, strings.ToLower(path.Ext(p))); {
	case d.Type()&fs.ModeSymlink != 0:
		if why, digest := linked(root, p, named); why != "" {
			over(why, digest)
		}
		return
	case !named:
		return
	case !d.Type().IsRegular():
		over("is no plain file", digestBytes(nil))
		return
	}
	if plain && !inPack && g.known[shown] {
		g.part(root, p, in)
		return
	}
	b, err := bytesIn(root, p)
	is := partly
	switch {
	case err != nil:
	case len(b) > source.MostBytes: // too long for a part file: such as the JSON of a review; only its key is looked for
		is, err = looksLong(root, p)
	default:
		is = looks(b)
	}
	switch digest := digestBytes(b); {
	case inPack && is != none:
		over("lies in the folder of a rule pack", digest)
	case inPack, is == none:
		g.found.other = append(g.found.other, shown)
	case !plain && err != nil:
		over("cannot be read", digest)
	case !plain:
		over("looks like a part file; give it a name that ends in .yaml", digest)
	case is == partly && err == nil:
		over("cannot be read as YAML and may be a part file", digest)
	default:
		g.part(root, p, in)
	}
}

// part takes in a part file.
func (g *gatherer) part(root fs.FS, p string, in input) {
	g.seen[in.at] = true
	g.inputs.add(in)
	g.found.parts = append(g.found.parts, checker.File{Name: in.name, Open: func() (io.ReadCloser, error) { return open(root, p) }})
}

// linked says why a link matters: it has the name of a part file, or leads to a folder that is not walked.
func linked(root fs.FS, p string, named bool) (why, digest string) {
	to := ""
	if l, ok := root.(fs.ReadLinkFS); ok {
		to, _ = l.ReadLink(p)
	}
	_, err := fs.Stat(root, p)
	switch digest = digestBytes([]byte(to)); {
	case named:
		return "is a link, and links are not followed", digest
	case err != nil: // it leads out of the folder, or nowhere
		return "is a link that leads out of the folder or nowhere, and links are not followed", digest
	}
	return "", "" // inside the folder, what it leads to is reviewed in its own place
}

func bytesIn(root fs.FS, p string) ([]byte, error) {
	in, err := open(root, p)
	if err != nil {
		return nil, err
	}
	return readBounded(in)
}

func digestBytes(b []byte) string {
	h := sha256.Sum256(b)
	return hex.EncodeToString(h[:])
}
