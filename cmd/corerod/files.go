package main

import (
	"io"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"
	"sync"
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
	// Stat describes a file or folder, or what a link leads to. By os.SameFile two names of one file are told.
	Stat(name string) (fs.FileInfo, error)
	// Lock makes a file that is not there yet; unlock removes it. An error that is fs.ErrExist tells that it is there.
	Lock(name, content string) (unlock func() error, err error)
}

// Temporary is a file that is written and then read, and is gone when it is closed.
type Temporary interface {
	io.ReadWriteSeeker
	io.Closer
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

// reads notes that a file is read, so that no report takes its place.
func (c *call) reads(name string) { c.inputs.add(input{filepath.ToSlash(name), c.real(name)}) }

// real is the path of a file on the disk: that of the folder that it is looked up in.
func (c *call) real(name string) string {
	if v, ok := c.files.(view); ok {
		if at, err := v.place(name); err == nil {
			return at
		}
	}
	return whole(name)
}

// inputs are the files that were read.
type inputs struct {
	mu  sync.Mutex
	all []input
}

func (i *inputs) add(x input) {
	i.mu.Lock()
	defer i.mu.Unlock()
	i.all = append(i.all, x)
}

// input is a file that was read: its name as shown, and where it is on the disk.
type input struct{ name, at string }
