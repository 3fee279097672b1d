package source

import (
	"fmt"
	"slices"
	"sort"
	"strings"
)

// Without returns the bytes of the file without the key at a path and its value. Nothing else differs but for the notes that
// stand between it and its neighbour. A map that loses its only key becomes an empty one.
func (d *Document) Without(path string) ([]byte, error) {
	s, err := d.without(path)
	if err != nil {
		return nil, err
	}
	return d.apply([]splice{s})
}

// without is what Without changes.
func (d *Document) without(path string) (s splice, err error) {
	parent, key := cutPath(path)
	in := d.Root
	if parent != "" {
		in = d.At(parent)
	}
	if in == nil || in.KeyNode(key) == nil {
		return s, fmt.Errorf("%s is not given there", Quote(path))
	}
	i := slices.Index(in.Keys, in.KeyNode(key))
	switch {
	case len(in.Keys) == 1 && in == d.Root:
		return s, fmt.Errorf("%s is all that the file gives", Quote(path))
	case len(in.Keys) == 1:
		s.text = "{}"
		if s.from, s.to, err = d.span(in); err == nil && d.Bytes[s.to-1] == '\n' { // behind the lines of a text
			s.text += "\n"
		}
	case i+1 < len(in.Keys):
		if s.from, _, err = d.span(in.Keys[i]); err == nil {
			s.to, _, err = d.span(in.Keys[i+1])
		}
	case d.flow(in):
		if _, s.from, err = d.span(in.Items[i-1]); err == nil {
			_, s.to, err = d.span(in.Items[i])
		}
	default: // a line of its own, to the end of the line where its value ends
		s.from = d.starts[in.Keys[i].Line-1]
		_, s.to, err = d.span(in.Items[i])
		if next := sort.SearchInts(d.starts, s.to); next < len(d.starts) {
			s.to = d.starts[next]
		} else {
			s.to = len(d.Bytes)
		}
	}
	return s, err
}

// IsKey tells whether a key can be written as it is: small letters, digits, hyphens and lines below.
func IsKey(s string) bool {
	return s != "" && strings.Trim(s, "abcdefghijklmnopqrstuvwxyz0123456789-_") == ""
}

// plainWord is a value that needs no quotes in brackets.
var plainWord = Pattern(`^[A-Za-z0-9_.+-]+$`)

// Flow writes a value as YAML on one line.
func (n *Node) Flow() string {
	var all []string
	switch n.Shape {
	case Map:
		for i, k := range n.Keys {
			all = append(all, Written(k.Value)+": "+n.Items[i].Flow())
		}
		return "{" + strings.Join(all, ", ") + "}"
	case Sequence:
		for _, it := range n.Items {
			all = append(all, it.Flow())
		}
		return "[" + strings.Join(all, ", ") + "]"
	}
	switch {
	case n.Null:
		return "null"
	case !n.Quoted && plainWord().MatchString(n.Value):
		return n.Value
	case n.Quoted:
		return inQuotes(n.Value)
	}
	return Written(n.Value)
}
