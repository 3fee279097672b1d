package main

import (
	"io"
	"path/filepath"
	"slices"
	"strings"
)

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
