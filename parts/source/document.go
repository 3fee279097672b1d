package source

import (
	"bytes"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"
)

// Document is a file whose values can be given other texts: its bytes and the tree of its values.
type Document struct {
	File   string
	Bytes  []byte
	Root   *Node
	starts []int // offset of each line in Bytes
}

// Open reads a file as Parse does. The document is nil where there are problems.
func Open(file string, b []byte) (*Document, Problems) {
	root, ps := Parse(file, b)
	if root == nil || len(ps) > 0 {
		return nil, ps
	}
	d := &Document{File: file, Bytes: b, Root: root, starts: []int{0}}
	if bytes.HasPrefix(b, []byte("\xef\xbb\xbf")) {
		d.starts[0] = 3
	}
	for i, c := range b {
		if c == '\n' || c == '\r' && (i+1 == len(b) || b[i+1] != '\n') {
			d.starts = append(d.starts, i+1)
		}
	}
	return d, nil
}

// At finds the value at a path: keys joined by points, items of lists by index from 0, such as cuts.bore.circle.at[0].
func (d *Document) At(path string) *Node {
	n := d.Root
	for _, step := range steps(path) {
		if i, err := strconv.Atoi(step); err == nil && n != nil && n.Shape == Sequence {
			if i < 0 || i >= len(n.Items) {
				return nil
			}
			n = n.Items[i]
			continue
		}
		n = n.At(step)
	}
	return n
}

// steps are the keys and indices of a path.
func steps(path string) []string {
	return strings.Split(strings.NewReplacer("[", ".", "]", "").Replace(path), ".")
}

// flow tells a map or list in brackets from one on lines of its own.
func (d *Document) flow(n *Node) bool {
	i, err := d.offset(n.Line, n.Column)
	return err == nil && i < len(d.Bytes) && (d.Bytes[i] == '{' || d.Bytes[i] == '[')
}

// inBrackets tells whether a value stands inside another one in brackets.
func (d *Document) inBrackets(from, n *Node, already bool) bool {
	if from == n {
		return already
	}
	already = already || len(from.Items) > 0 && d.flow(from)
	return slices.ContainsFunc(from.Items, func(x *Node) bool { return d.inBrackets(x, n, already) })
}

// offset is where a line and column, in code points, stand in the bytes.
func (d *Document) offset(line, column int) (int, error) {
	if line < 1 || line > len(d.starts) {
		return 0, fmt.Errorf("line %d is not in the file", line)
	}
	i := d.starts[line-1]
	for ; column > 1; column-- {
		_, w := utf8.DecodeRune(d.Bytes[i:])
		if w == 0 {
			return 0, fmt.Errorf("column %d of line %d is not in the file", column, line)
		}
		i += w
	}
	return i, nil
}

// span is the range of bytes that a value takes.
func (d *Document) span(n *Node) (from, to int, err error) {
	if from, err = d.offset(n.Line, n.Column); err != nil {
		return 0, 0, err
	}
	if n.Shape == Scalar {
		to, err = d.scalarEnd(n, from)
		return from, to, err
	}
	to = from + 1
	if len(n.Items) > 0 {
		if _, to, err = d.span(n.Items[len(n.Items)-1]); err != nil {
			return 0, 0, err
		}
	}
	if d.flow(n) {
		to, err = d.close(to, map[byte]byte{'{': '}', '[': ']'}[d.Bytes[from]])
	}
	return from, to, err
}

// scalarEnd is where a scalar ends, with its closing quote.
func (d *Document) scalarEnd(n *Node, from int) (int, error) {
	at := n.places()
	if len(at) == 0 {
		return 0, fmt.Errorf("%s in line %d cannot be rewritten where it stands", Quote(n.Value), n.Line)
	}
	end, err := d.offset(at[len(at)-1].line, at[len(at)-1].column)
	if err == nil && n.Quoted && end <= from { // a block without lines at the end of the file
		return len(d.Bytes), nil
	}
	if err == nil && from < len(d.Bytes) && (d.Bytes[from] == '"' || d.Bytes[from] == '\'') {
		end++
	}
	return end, err
}

// close finds the closing bracket behind the last value of a map or list: blanks, commas and comments stand between.
func (d *Document) close(i int, bracket byte) (int, error) {
	for i < len(d.Bytes) {
		switch d.Bytes[i] {
		case bracket:
			return i + 1, nil
		case ' ', '\t', '\n', '\r', ',', ':':
			i++
		case '#':
			for i < len(d.Bytes) && d.Bytes[i] != '\n' && d.Bytes[i] != '\r' {
				i++
			}
		default:
			return 0, fmt.Errorf("no closing bracket where one was expected")
		}
	}
	return 0, fmt.Errorf("no closing bracket where one was expected")
}
