package source

import (
	"sort"
	"unicode/utf8"
)

// Splice is one change of a file's text: what stands between two places gives way to other text. Lines and columns count
// from 1, columns in code points; a mark at the start of the file is no column. The end is the place behind the last
// character, and where nothing gives way it is the start. A line ends with \n, \r\n or \r.
type Splice struct {
	Line, Column       int
	EndLine, EndColumn int
	Text               string
}

// Splices returns what With changes, in the order of the file; those at one place keep their order. All places are those of
// the unchanged file.
func (d *Document) Splices(edits ...Edit) ([]Splice, error) {
	found, err := d.splices(edits)
	if err != nil {
		return nil, err
	}
	all := make([]Splice, len(found))
	for i, s := range found {
		all[i].Line, all[i].Column = d.place(s.from)
		all[i].EndLine, all[i].EndColumn = d.place(s.to)
		all[i].Text = s.text
	}
	return all, nil
}

// place is the line and column of a place in the bytes.
func (d *Document) place(offset int) (line, column int) {
	line = sort.Search(len(d.starts), func(i int) bool { return d.starts[i] > offset })
	return line, utf8.RuneCount(d.Bytes[d.starts[line-1]:offset]) + 1
}
