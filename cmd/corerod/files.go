package main

import (
	"io"
	"io/fs"
	"path/filepath"
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
