package main

import (
	"fmt"
	"path/filepath"

	"corerod/checker"
	"corerod/checker/report"
	"corerod/checker/report/drawing"
)

// pictured are the formats that have a file for each part.
var pictured = []string{"html", "svg"}

// pictures writes the sheets or drawings of a review, one after the other to one output: a file for one part, and for several
// a folder with a file each, and with the front page of sheets.
type pictures struct {
	o       *output
	r       *checker.Review // what the sheets stand on
	several bool
	names   map[string]string // by file
	front   report.Stream     // of sheets
	err     error
}

// newPictures are those of some of the files, which have names apart from the others'.
func newPictures(o *output, r *checker.Review, files []string) (*pictures, error) {
	if len(files) != 1 && o.path == "-" {
		return nil, wrong("--to %s=- is for one part; of several, name a folder", o.format)
	}
	o.pages = []page{}
	p := &pictures{o: o, r: r, several: len(files) != 1, names: report.FileNames(files)}
	if o.format == "html" {
		p.front = report.NewFront(o, p.names)
	}
	return p, nil
}

// Part implements report.Stream.
func (s *pictures) Part(p *checker.PartReview) {
	path := s.o.path
	if s.several {
		path = filepath.Join(path, s.names[p.File]+"."+s.o.format)
	}
	if s.front == nil {
		s.page(path, func() error { return drawing.Sheets(s.o, p) })
		return
	}
	s.page(path, func() error { return report.Sheet(s.o, s.r, p) })
	if s.several {
		s.front.Part(p)
	}
}

// End implements report.Stream.
func (s *pictures) End(r *checker.Review) error {
	switch {
	case s.front != nil && s.several:
		index := "index.html"
		if r.Lots > 0 {
			index = fmt.Sprintf("index-%d.html", r.Lot)
		}
		s.page(filepath.Join(s.o.path, index), func() error { return s.front.End(r) })
	case s.front != nil && r.Reviewed() == 0:
		s.page(s.o.path, func() error { return s.front.End(r) })
	}
	return s.err
}

// page writes one file.
func (s *pictures) page(path string, write func() error) {
	from := s.o.size
	if s.err == nil {
		s.err = write()
	}
	s.o.pages = append(s.o.pages, page{path, s.o.size - from})
}
