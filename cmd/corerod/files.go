package main

import (
	"bytes"
	"errors"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"corerod/checker"
	"corerod/parts"
	"corerod/parts/source"
)

// Files is the file system as a command sees it.
type Files interface {
	// Open opens a plain file for reading, or the one a link leads to: it was asked for by name.
	Open(name string) (io.ReadCloser, error)
	// Root opens a folder for reading; nothing outside it can be reached, not through links either.
	Root(folder string) (fs.FS, error)
	// IsFolder tells a folder from a file; an error where there is neither.
	IsFolder(name string) (bool, error)
	// MakeFolder makes a folder that is not there.
	MakeFolder(name string) error
	// Write replaces a file whole: what was there stays until all is written.
	Write(name string, content io.Reader) error
	// Temporary makes a file without a name, which is gone when it is closed.
	Temporary() (Temporary, error)
}

// Temporary is a file that is written and then read, and is gone when it is closed.
type Temporary interface {
	io.ReadWriteSeeker
	io.Closer
}

// System is the machine's own file system.
type System struct{}

// Open implements Files.
func (System) Open(name string) (io.ReadCloser, error) {
	name, err := filepath.EvalSymlinks(name)
	if err != nil {
		return nil, err
	}
	root, err := os.OpenRoot(filepath.Dir(name))
	if err != nil {
		return nil, err
	}
	defer root.Close()
	return open(root.FS(), filepath.Base(name))
}

// Root implements Files. The folder stays open until the process ends.
func (System) Root(folder string) (fs.FS, error) {
	r, err := os.OpenRoot(folder)
	if err != nil {
		return nil, err
	}
	return r.FS(), nil
}

// IsFolder implements Files.
func (System) IsFolder(name string) (bool, error) {
	i, err := os.Stat(name)
	if err != nil {
		return false, err
	}
	return i.IsDir(), nil
}

// MakeFolder implements Files.
func (System) MakeFolder(name string) error { return os.Mkdir(name, 0o755) }

// Write implements Files: through a temporary file in the same folder, which then takes the name. A link is refused.
func (System) Write(name string, content io.Reader) (err error) {
	mode := fs.FileMode(0o644)
	if i, err := os.Lstat(name); err == nil {
		if i.IsDir() {
			return errors.New("it is a folder")
		}
		if !i.Mode().IsRegular() {
			return errors.New("it is a link or no plain file")
		}
		mode = i.Mode().Perm()
	}
	t, err := os.CreateTemp(filepath.Dir(name), ".corerod-*")
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			t.Close()
			os.Remove(t.Name())
		}
	}()
	if _, err = io.Copy(t, content); err != nil {
		return err
	}
	if err = t.Chmod(mode); err != nil {
		return err
	}
	if err = t.Sync(); err != nil {
		return err
	}
	if err = t.Close(); err != nil {
		return err
	}
	return os.Rename(t.Name(), name)
}

// Temporary implements Files.
func (System) Temporary() (Temporary, error) {
	f, err := os.CreateTemp("", "corerod-*")
	if err != nil {
		return nil, err
	}
	_ = os.Remove(f.Name()) // where the system lets an open file go; else it goes when it is closed
	return temporary{f}, nil
}

type temporary struct{ *os.File }

// Close implements Temporary.
func (t temporary) Close() error {
	err := t.File.Close()
	_ = os.Remove(t.Name())
	return err
}

// found is what the arguments of a review lead to.
type found struct {
	parts      []checker.File
	passedOver []string // folders with a pack
	other      []string // YAML files that are no parts
}

// gather collects the part files that the arguments name: files as they are, folders walked in order.
func (c *call) gather(args []string, stdin string) (*found, error) {
	f := &found{}
	seen := map[string]bool{}
	for _, arg := range args {
		if arg == "-" && seen["-"] {
			continue
		}
		if arg == "-" {
			seen["-"] = true
			f.parts = append(f.parts, checker.File{Name: stdin, Open: func() (io.ReadCloser, error) { return io.NopCloser(c.In), nil }})
			continue
		}
		folder, err := c.files.IsFolder(arg)
		if err != nil {
			return nil, wrong("%s cannot be read: %s", arg, cause(err))
		}
		if err := c.add(arg, folder, f, seen); err != nil {
			return nil, err
		}
	}
	return f, nil
}

// add adds a part file, or those below a folder, unless they are there already.
func (c *call) add(name string, folder bool, f *found, seen map[string]bool) error {
	if folder {
		return c.walk(name, f, seen)
	}
	if key := whole(name); !seen[key] {
		seen[key] = true
		f.parts = append(f.parts, c.single(name))
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
	c.read[whole(name)] = true
	return checker.File{Name: filepath.ToSlash(name), Open: func() (io.ReadCloser, error) { return c.files.Open(name) }}
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
func (c *call) walk(folder string, f *found, seen map[string]bool) error {
	root, err := c.files.Root(folder)
	if err != nil {
		return wrong("%s cannot be read: %s", folder, cause(err))
	}
	return fs.WalkDir(root, ".", func(p string, d fs.DirEntry, err error) error {
		shown := path.Join(filepath.ToSlash(folder), p)
		if err != nil {
			return wrong("%s cannot be read: %s", shown, cause(err))
		}
		if d.IsDir() {
			if _, err := fs.Stat(root, path.Join(p, "pack.yaml")); p != "." && err == nil {
				f.passedOver = append(f.passedOver, shown)
				return fs.SkipDir
			}
			return nil
		}
		if !slices.Contains([]string{".yaml", ".yml"}, path.Ext(p)) || seen[whole(shown)] || !d.Type().IsRegular() {
			return nil
		}
		if is, err := isPart(root, p); err == nil && !is { // what cannot be read may be one: the review names it
			f.other = append(f.other, shown)
			return nil
		}
		seen[whole(shown)], c.read[whole(shown)] = true, true
		f.parts = append(f.parts, checker.File{Name: shown, Open: func() (io.ReadCloser, error) { return open(root, p) }})
		return nil
	})
}

// isPart tells a part file by its `part` key. A line that starts with it is enough: the reader decides what is right
// with the file.
func isPart(root fs.FS, name string) (bool, error) {
	in, err := open(root, name)
	if err != nil {
		return false, err
	}
	b, err := readBounded(in)
	if err != nil {
		return false, err
	}
	for line := range bytes.Lines(b) {
		if rest, ok := bytes.CutPrefix(line, []byte("part")); ok && bytes.HasPrefix(bytes.TrimLeft(rest, " \t"), []byte(":")) {
			return true, nil
		}
	}
	if !bytes.Contains(b, []byte("part")) {
		return false, nil
	}
	n, _ := source.Parse(name, b) // written in another style: braces, quotes
	return n != nil && parts.IsPart(n), nil
}

// target is one --to: a format and where it goes.
type target struct{ format, path string }

// targets reads the --to options and checks that at most one goes to standard output.
func targets(to []string, formats ...string) (ts []target, err error) {
	standard, taken := 0, map[string]bool{}
	for _, t := range to {
		format, path, ok := strings.Cut(t, "=")
		switch {
		case !ok || path == "":
			return nil, wrong("--to is %q; write FORMAT=PATH, or FORMAT=- for standard output", t)
		case !slices.Contains(formats, format):
			if slices.Contains([]string{"text", "json", "sarif", "markdown", "html", "svg"}, format) {
				return nil, wrong("this command does not write %s; it writes %s", format, strings.Join(formats, ", "))
			}
			return nil, wrong("there is no format %q%s", format, meant(format, formats, ""))
		}
		key := whole(path)
		if slices.Contains(pictured, format) {
			key += "." + format // a folder can hold both
		}
		if path == "-" {
			standard++
		} else if taken[key] {
			return nil, wrong("two --to write %s; each needs a file of its own", path)
		}
		taken[key] = true
		ts = append(ts, target{format, path})
	}
	if standard > 1 {
		return nil, wrong("two --to name standard output; at most one can")
	}
	return ts, nil
}

// put writes to a target.
func (c *call) put(t target, content io.Reader) error {
	if t.path == "-" {
		_, err := io.Copy(c.Out, content)
		return err
	}
	if folder := filepath.Dir(t.path); slices.Contains(pictured, t.format) {
		if is, err := c.files.IsFolder(folder); err != nil || !is {
			if err := c.files.MakeFolder(folder); err != nil {
				return wrong("the folder %s cannot be made: %v", folder, cause(err))
			}
		}
	}
	if err := c.files.Write(t.path, content); err != nil {
		return wrong("%s cannot be written: %v", t.path, cause(err))
	}
	return nil
}
