package main

import (
	"bytes"
	"io"
	"path/filepath"
	"slices"

	"corerod/checker"
	"corerod/checker/report"
)

// pictured are the formats that have a file for each part.
var pictured = []string{"html", "svg"}

// inOneFile are the targets that have one file for all parts.
func inOneFile(ts []target) []target {
	return slices.DeleteFunc(slices.Clone(ts), func(t target) bool { return slices.Contains(pictured, t.format) })
}

// pictures makes the pages and drawings of a review: a file for one part, and for several a folder with a file each.
func pictures(ts []target, r *checker.Review, files int) (all []made, err error) {
	for _, t := range ts {
		if !slices.Contains(pictured, t.format) {
			continue
		}
		if files != 1 && t.path == "-" {
			return nil, wrong("--to %s=- is for one part; of several, name a folder", t.format)
		}
		if files != 1 {
			t.path += string(filepath.Separator)
		}
		found, err := picturesOf(t, r, files != 1)
		if err != nil {
			return nil, err
		}
		for _, m := range found {
			if m.path != "-" && slices.ContainsFunc(all, func(o made) bool { return o.path == m.path }) {
				return nil, wrong("two --to write %s; each needs a file of its own", m.path)
			}
		}
		all = append(all, found...)
	}
	return all, nil
}

// picturesOf makes those of one format.
func picturesOf(t target, r *checker.Review, several bool) (all []made, err error) {
	draw := func(path string, write func(io.Writer) error) {
		var b bytes.Buffer
		if err == nil {
			err = write(&b)
		}
		all = append(all, made{target{t.format, path}, b.Bytes()})
	}
	for i, name := range report.FileNames(r.Parts) {
		p, path := r.Parts[i], t.path
		if several {
			path = filepath.Join(t.path, name+"."+t.format)
		}
		draw(path, func(w io.Writer) error {
			if t.format == "svg" {
				return report.Drawing(w, p)
			}
			return report.Sheet(w, r, p)
		})
	}
	switch {
	case t.format == "html" && several:
		draw(filepath.Join(t.path, "index.html"), func(w io.Writer) error { return report.Front(w, r) })
	case t.format == "html" && len(r.Parts) == 0:
		draw(t.path, func(w io.Writer) error { return report.Front(w, r) })
	}
	return all, err
}
