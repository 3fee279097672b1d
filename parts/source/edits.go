package source

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
)

// Edit gives the value at a path another text, and its key another name. A key that is not there is added to its map.
type Edit struct {
	Path   string
	Text   string // YAML on one line; "" leaves the value as it is
	Key    string // the key's new name; "" leaves it
	Remove bool   // the key is taken out of its map instead, with its value
}

// splice is one change of bytes; those at one place keep their order.
type splice struct {
	from, to int
	text     string
}

// With returns the bytes of the file with some values changed. Nothing else differs: comments, order and layout stay.
func (d *Document) With(edits ...Edit) ([]byte, error) {
	all, err := d.splices(edits)
	if err != nil {
		return nil, err
	}
	return d.apply(all)
}

// splices are edits as changes of bytes, in order; they do not overlap.
func (d *Document) splices(edits []Edit) (all []splice, err error) {
	var late []Edit // into sections that are not there
	for _, e := range edits {
		parent, key := cutPath(e.Path)
		if !e.Remove && !strings.HasSuffix(key, "]") && parent != "" && d.At(parent) == nil {
			late = append(late, e)
			continue
		}
		found, err := d.edit(e, parent, key)
		if err != nil {
			return nil, err
		}
		all = append(all, found...)
	}
	sections, err := d.sections(late)
	if err != nil {
		return nil, err
	}
	return ordered(append(all, sections...))
}

// ordered are changes of bytes in the order of the file; they must not overlap.
func ordered(all []splice) ([]splice, error) {
	slices.SortStableFunc(all, func(a, b splice) int { return a.from - b.from })
	for i := 1; i < len(all); i++ {
		if all[i].from < all[i-1].to {
			return nil, fmt.Errorf("two changes meet at the same value")
		}
	}
	return all, nil
}

// apply makes changes of bytes, which must not overlap.
func (d *Document) apply(all []splice) ([]byte, error) {
	all, err := ordered(all)
	if err != nil {
		return nil, err
	}
	var out bytes.Buffer
	at := 0
	for _, s := range all {
		out.Write(d.Bytes[at:s.from])
		out.WriteString(s.text)
		at = s.to
	}
	out.Write(d.Bytes[at:])
	return out.Bytes(), nil
}

// cutPath splits the last key or index off a path.
func cutPath(path string) (parent, key string) {
	if i := strings.LastIndexAny(path, ".["); i >= 0 {
		return path[:i], strings.TrimPrefix(path[i:], ".")
	}
	return "", path
}

// edit is one edit as changes of bytes.
func (d *Document) edit(e Edit, parent, key string) ([]splice, error) {
	if e.Remove {
		s, err := d.without(e.Path)
		return []splice{s}, err
	}
	in := d.Root
	if parent != "" {
		in = d.At(parent)
	}
	n := d.At(e.Path)
	if n == nil {
		if in == nil || in.Shape != Map || e.Key != "" {
			return nil, fmt.Errorf("%s is not given there", Quote(e.Path))
		}
		if len(in.Items) == 0 && d.flow(in) { // empty braces
			from, _, err := d.span(in)
			return []splice{{from + 1, from + 1, key + ": " + e.Text}}, err
		}
		s, err := d.add(in, key+": "+e.Text)
		return []splice{s}, err
	}
	var all []splice
	if e.Key != "" {
		k := in.KeyNode(key)
		if k == nil {
			return nil, fmt.Errorf("%s has no key of its own", Quote(e.Path))
		}
		from, to, err := d.span(k)
		if err != nil {
			return nil, err
		}
		name := e.Key
		if bytes.HasPrefix(d.Bytes[to:], []byte(":")) && bytes.IndexAny(d.Bytes[to+1:min(to+2, len(d.Bytes))], " \t\r\n") != 0 {
			name = `"` + name + `"` // in quotes a key needs no blank behind its colon
		}
		all = append(all, splice{from, to, name})
	}
	if e.Text == "" {
		return all, nil
	}
	set, err := d.put(in, n, e.Text)
	return append(all, set), err
}

// put gives a value of a map or list another text. A value left empty, and a list in lines no deeper than its key, stand where
// a text needs a gap before it.
func (d *Document) put(in, n *Node, text string) (splice, error) {
	from, to, err := d.span(n)
	switch {
	case err != nil:
		return splice{}, err
	case !n.Null || n.Value != "":
		if n.Column <= in.Column && !d.flow(in) {
			text = strings.Repeat(" ", in.Column-n.Column+1) + text
		}
		if bytes.HasPrefix(d.Bytes[to:], []byte("#")) {
			text += " " // else it would be no comment behind text without quotes
		}
		return splice{from, to, text}, nil
	case in.Shape == Sequence || bytes.HasSuffix(bytes.TrimRight(d.Bytes[:from], " \t"), []byte(":")):
		return splice{from, to, " " + text}, nil
	case d.flow(in):
		if _, to, err = d.span(in.Keys[slices.Index(in.Items, n)]); err != nil {
			return splice{}, err
		}
		rest := bytes.TrimLeft(d.Bytes[to:], " \t\r\n")
		if colon := len(d.Bytes) - len(rest) + 1; bytes.HasPrefix(rest, []byte(":")) {
			return splice{colon, colon, " " + text}, nil
		}
		return splice{to, to, ": " + text}, nil // a key in braces can stand alone
	}
	return splice{}, fmt.Errorf("a value left empty in line %d cannot be given where it stands", n.Line)
}

// sections adds whole sections, each with all that goes into it.
func (d *Document) sections(late []Edit) (all []splice, err error) {
	var names []string
	inside := map[string][]string{}
	for _, e := range late {
		parent, key := cutPath(e.Path)
		if strings.ContainsAny(parent, ".[") || e.Key != "" {
			return nil, fmt.Errorf("%s is not given there", Quote(e.Path))
		}
		if inside[parent] == nil {
			names = append(names, parent)
		}
		inside[parent] = append(inside[parent], key+": "+e.Text)
	}
	for _, name := range names {
		s, err := d.add(d.Root, name+": {"+strings.Join(inside[name], ", ")+"}")
		if err != nil {
			return nil, err
		}
		all = append(all, s)
	}
	return all, nil
}

// add puts a key with its value behind the last one of a map: on a line of its own, or before the closing brace.
func (d *Document) add(in *Node, text string) (splice, error) {
	if len(in.Items) == 0 {
		return splice{}, fmt.Errorf("nothing can be added to an empty map")
	}
	_, end, err := d.span(in.Items[len(in.Items)-1])
	if err != nil {
		return splice{}, err
	}
	if d.flow(in) {
		return splice{end, end, ", " + text}, nil
	}
	if d.inBrackets(d.Root, in, false) {
		return splice{}, fmt.Errorf("nothing can be added to a key of a list in brackets")
	}
	line := 0
	for line+1 < len(d.starts) && d.starts[line+1] <= end {
		line++
	}
	ending := "\n"
	if bytes.Contains(d.Bytes, []byte("\r\n")) {
		ending = "\r\n"
	}
	for end < len(d.Bytes) && d.Bytes[end] != '\n' && d.Bytes[end] != '\r' {
		end++
	}
	return splice{end, end, ending + strings.Repeat(" ", in.Column-1) + text}, nil
}
