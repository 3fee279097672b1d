package form

import (
	"fmt"
	"strings"

	"corerod/parts"
	"corerod/parts/source"
)

// Change is one value of a part file that is to be another, by its name: a path or a feature's short name.
type Change struct {
	Name  string
	Value *source.Node // a null takes the key out
}

// ParseWith is Parse of the file with some values changed, one after the other. A key that the file does not have is added; what
// cannot be changed is told by its number in changes.
func ParseWith(file string, b []byte, changes []Change) (p *parts.Part, ps source.Problems, wrong map[int]string) {
	for i, c := range changes {
		doc, ps := source.Open(file, b)
		if len(ps) > 0 {
			break // Parse tells it
		}
		to, err := set(doc, c)
		if err != nil {
			if wrong == nil {
				wrong = map[int]string{}
			}
			wrong[i] = err.Error()
			continue
		}
		b = to
	}
	p, ps = Parse(file, b)
	return p, ps, wrong
}

// set is the text of a file with one value changed.
func set(doc *source.Document, c Change) ([]byte, error) {
	f, wrong := find(doc.Root, c.Name)
	if wrong != "" {
		return nil, fmt.Errorf("%s", strings.TrimPrefix(wrong, "but "))
	}
	key := f.path[strings.LastIndex(f.path, ".")+1:]
	switch {
	case c.Value.Null && f.height:
		return nil, fmt.Errorf("a height has two ends; take out `from` or `to`")
	case c.Value.Null && f.node == nil:
		return doc.Bytes, nil
	case c.Value.Null && strings.HasSuffix(f.path, "]"):
		return nil, fmt.Errorf("an item of a list cannot be taken out; give the whole list")
	case c.Value.Null:
		return doc.Without(f.path)
	case f.height:
		var r source.Reader
		height, ok := r.Number(c.Value, "height")
		if !ok {
			return nil, fmt.Errorf("a height is a number, of what has from and to")
		}
		from := value(entry(doc.Root, f.feature).node.At("from"))
		return doc.With(source.Edit{Path: f.path, Text: decimal(from + height)})
	case f.node == nil && !source.IsKey(key):
		return nil, fmt.Errorf("%s is no name; a name is a lower-case letter followed by at most 63 lower-case letters, digits or hyphens",
			source.Quote(key))
	}
	return doc.With(source.Edit{Path: f.path, Text: c.Value.Flow()})
}
