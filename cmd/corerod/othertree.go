package main

import (
	"io"
	"io/fs"
	"path/filepath"
	"strings"
)

// view shows another folder that holds the same tree under the names of this one: what a report names is never that folder.
type view struct {
	Files
	folder  string
	here    string   // the working folder
	folders []string // with those that the review names, whole: what lies below one of them is at the top of the other folder
}

// viewOf is a view for a review of some arguments.
func (c *call) viewOf(folder string, args []string) view {
	here := whole(".")
	v := view{Files: c.files, folder: whole(folder), here: here, folders: []string{here}}
	for _, arg := range args {
		if is, err := c.files.IsFolder(arg); err != nil || !is {
			arg = filepath.Dir(arg)
		}
		v.folders = append(v.folders, whole(arg))
	}
	return v
}

// through is a call that reads another folder in place of this one.
func (c *call) through(v view) *call {
	other := *c
	other.files = v
	return &other
}

// place is where a file stands in the other folder: below it as it does below the working folder, and what lies outside that as it
// does below a folder of the review.
func (v view) place(name string) (string, error) {
	at := name
	if !filepath.IsAbs(at) {
		at = filepath.Join(v.here, at)
	}
	for _, from := range v.folders {
		if rel, err := filepath.Rel(from, at); err == nil && !outside(rel) {
			return filepath.Join(v.folder, rel), nil
		}
	}
	return "", &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
}

func outside(rel string) bool {
	return rel == ".." || strings.HasPrefix(rel, ".."+string(filepath.Separator))
}

// Open implements Files.
func (v view) Open(name string) (io.ReadCloser, error) {
	at, err := v.place(name)
	if err != nil {
		return nil, err
	}
	return v.Files.Open(at)
}

// Root implements Files.
func (v view) Root(folder string) (fs.FS, error) {
	at, err := v.place(folder)
	if err != nil {
		return nil, err
	}
	return v.Files.Root(at)
}

// IsFolder implements Files.
func (v view) IsFolder(name string) (bool, error) {
	at, err := v.place(name)
	if err != nil {
		return false, err
	}
	return v.Files.IsFolder(at)
}
