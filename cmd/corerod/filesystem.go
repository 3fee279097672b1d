package main

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"sync"
)

// System is the machine's own file system. The zero value is ready for use.
type System struct {
	held *unfinished // files that go when the process is interrupted; nil where nothing watches for that
}

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
func (s System) Write(name string, content io.Reader) (err error) {
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
	t, err := s.held.create(func() (*os.File, error) { return os.CreateTemp(filepath.Dir(name), ".corerod-*") })
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			t.Close()
			_ = s.held.remove(t.Name())
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
	return s.held.rename(t.Name(), name)
}

// Temporary implements Files.
func (s System) Temporary() (Temporary, error) {
	f, err := s.held.create(func() (*os.File, error) { return os.CreateTemp("", "corerod-*") })
	if err != nil {
		return nil, err
	}
	_ = os.Remove(f.Name()) // where the system lets an open file go; else it goes when it is closed
	return temporary{f, s.held}, nil
}

type temporary struct {
	*os.File
	held *unfinished
}

// Close implements Temporary.
func (t temporary) Close() error {
	err := t.File.Close()
	_ = t.held.remove(t.Name())
	return err
}

// Stat implements Files.
func (System) Stat(name string) (fs.FileInfo, error) { return os.Stat(name) }

// Lock implements Files.
func (s System) Lock(name, content string) (func() error, error) {
	f, err := s.held.create(func() (*os.File, error) { return os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644) })
	if err != nil {
		return nil, err
	}
	unlock := func() error { return s.held.remove(name) }
	_, err = io.WriteString(f, content)
	if err = errors.Join(err, f.Close()); err != nil {
		return nil, errors.Join(err, unlock())
	}
	return unlock, nil
}

// unfinished are the files that are to go when the process is interrupted: temporary ones and locks. A nil one holds none.
type unfinished struct {
	mu    sync.Mutex
	names map[string]bool
}

// create makes a file and holds it.
func (h *unfinished) create(file func() (*os.File, error)) (*os.File, error) {
	if h == nil {
		return file()
	}
	h.mu.Lock()
	defer h.mu.Unlock()
	f, err := file()
	if err == nil {
		h.names[f.Name()] = true
	}
	return f, err
}

// rename gives a held file the name that it is for.
func (h *unfinished) rename(from, to string) error {
	if h == nil {
		return os.Rename(from, to)
	}
	h.mu.Lock()
	defer h.mu.Unlock()
	err := os.Rename(from, to)
	if err == nil {
		delete(h.names, from)
	}
	return err
}

// remove removes a held file.
func (h *unfinished) remove(name string) error {
	if h == nil {
		return os.Remove(name)
	}
	h.mu.Lock()
	defer h.mu.Unlock()
	delete(h.names, name)
	return os.Remove(name)
}

// end removes all held files and lets nothing more be written: it never unlocks.
func (h *unfinished) end() {
	h.mu.Lock()
	for name := range h.names {
		_ = os.Remove(name) // one that is gone already is as well
	}
}
