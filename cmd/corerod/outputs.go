package main

import (
	"bytes"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
)

// outputs are the reports of a call. Each is made whole before the first goes where it belongs, so that none is written half.
type outputs []*output

// output is a report on its way to a target: in memory, and what is large in a temporary file.
type output struct {
	target
	files Files
	first bytes.Buffer
	rest  Temporary // nil while all is in memory
	size  int64
	pages []page // of an output that is several files, one after the other; nil where it is one
}

// page is a file of an output.
type page struct {
	path string
	size int64
}

// mostInMemory is how much of a report waits in memory, bytes.
const mostInMemory = 4 << 20

// outputs are empty ones for the targets. Text goes to standard output where nothing does.
func (c *call) outputs(ts []target) (all outputs) {
	for _, t := range ts {
		all = append(all, &output{target: t, files: c.files})
	}
	if !slices.ContainsFunc(ts, func(t target) bool { return t.path == "-" }) {
		all = append(all, &output{target: target{"text", "-"}, files: c.files})
	}
	return all
}

// Write implements io.Writer.
func (o *output) Write(b []byte) (int, error) {
	o.size += int64(len(b))
	if o.rest == nil && o.first.Len()+len(b) <= mostInMemory {
		return o.first.Write(b)
	}
	var err error
	if o.rest == nil {
		if o.rest, err = o.files.Temporary(); err != nil {
			return 0, wrong("a temporary file cannot be made: %v", cause(err))
		}
	}
	n, err := o.rest.Write(b)
	if err != nil {
		err = wrong("a temporary file cannot be written: %v", cause(err))
	}
	return n, err
}

// content is what was written, from its beginning.
func (o *output) content() (io.Reader, error) {
	if o.rest == nil {
		return &o.first, nil
	}
	if _, err := o.rest.Seek(0, io.SeekStart); err != nil {
		return nil, wrong("a temporary file cannot be read: %v", cause(err))
	}
	return io.MultiReader(&o.first, o.rest), nil
}

// close lets go of temporary files.
func (all outputs) close() {
	for _, o := range all {
		if o.rest != nil {
			_ = o.rest.Close() // it was only ours
		}
	}
}

// deliver writes the outputs to their targets, those of several files first.
func (c *call) deliver(all outputs) error {
	slices.SortStableFunc(all, func(a, b *output) int { return min(1, len(b.pages)) - min(1, len(a.pages)) })
	for _, o := range all {
		if o.pages == nil {
			o.pages = []page{{o.path, o.size}}
		}
	}
	if err := c.apart(all); err != nil {
		return err
	}
	for _, o := range all {
		content, err := o.content()
		if err != nil {
			return err
		}
		for _, p := range o.pages {
			if err := c.put(target{o.format, p.path}, io.LimitReader(content, p.size)); err != nil {
				return err
			}
		}
	}
	return nil
}

// apart refuses two outputs that would be one file, and one that would take the place of a part, a shop file, a pack, concessions
// or an earlier review, under whatever name.
func (c *call) apart(all outputs) error {
	taken, known := places{files: c.files, at: map[string]bool{}}, &identities{files: c.files, names: map[string]bool{}}
	for _, in := range c.inputs.all {
		known.names[in.at] = true
	}
	for _, o := range all {
		for _, p := range o.pages {
			switch {
			case p.path == "-":
			case taken.twice(p.path):
				return wrong("two --to write %s; each needs a file of its own", p.path)
			case known.has(p.path):
				return wrong("--to writes %s, which is read; name another", p.path)
			case c.isPartFile(p.path):
				return wrong("--to writes %s, which is a part file; name another", p.path)
			}
		}
	}
	return nil
}

// isPartFile tells a part file that is there already.
func (c *call) isPartFile(name string) bool {
	if !slices.Contains([]string{".yaml", ".yml"}, filepath.Ext(name)) {
		return false
	}
	b, err := c.bytesOf(name)
	return err == nil && looks(b) == wholly
}

// places tell files that would be one, before they are there: of one name in one folder, whatever the folder is called and
// whether its letters are large or small.
type places struct {
	files   Files
	folders []fs.FileInfo
	names   map[string]string // of folders, by what they are called
	at      map[string]bool
}

// twice notes the place of a file, and tells whether it was there before.
func (p *places) twice(name string) bool {
	called := filepath.Dir(whole(name))
	folder, ok := p.names[called]
	if !ok {
		folder = p.folder(called)
		if p.names == nil {
			p.names = map[string]string{}
		}
		p.names[called] = folder
	}
	key := folder + "/" + strings.ToLower(filepath.Base(name))
	was := p.at[key]
	p.at[key] = true
	return was
}

// folder is one text for all names of a folder.
func (p *places) folder(name string) string {
	is, err := p.files.Stat(name)
	if err != nil {
		return strings.ToLower(name) // it is yet to be made
	}
	for i, f := range p.folders {
		if os.SameFile(is, f) {
			return strconv.Itoa(i)
		}
	}
	p.folders = append(p.folders, is)
	return strconv.Itoa(len(p.folders) - 1)
}

// identities tell one of some files under any name. They are looked up when the first name of a file that is there is asked for.
type identities struct {
	files Files
	names map[string]bool // whole paths
	known map[mark][]fs.FileInfo
}

// mark is what one file has alike under all its names.
type mark struct {
	size, when int64
}

func markOf(i fs.FileInfo) mark { return mark{i.Size(), i.ModTime().UnixNano()} }

// has tells whether a name is that of one of the files.
func (k *identities) has(name string) bool {
	if k.names[whole(name)] {
		return true
	}
	is, err := k.files.Stat(name)
	if err != nil {
		return false // it is not there yet
	}
	if k.known == nil {
		k.known = map[mark][]fs.FileInfo{}
		for n := range k.names {
			if i, err := k.files.Stat(n); err == nil {
				k.known[markOf(i)] = append(k.known[markOf(i)], i)
			}
		}
	}
	return slices.ContainsFunc(k.known[markOf(is)], func(i fs.FileInfo) bool { return os.SameFile(is, i) })
}

// writeAll makes the reports of targets, each by the function of its format, and writes them.
func (c *call) writeAll(ts []target, formats map[string]func(io.Writer) error) error {
	all := c.outputs(ts)
	defer all.close()
	for _, o := range all {
		if err := formats[o.format](o); err != nil {
			return err
		}
	}
	return c.deliver(all)
}
