package source

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
	"sync"
	"unicode/utf8"

	"gopkg.in/yaml.v3"
)

// Bounds of one file.
const (
	MostBytes = 1 << 20
	MostNodes = 20_000
	MostDepth = 40
)

// Shape is what a node is.
type Shape int

const (
	Scalar Shape = iota
	Map
	Sequence
)

func (s Shape) String() string {
	return [...]string{"one value", "keys with values", "a list"}[s]
}

// Node is one value of a file, with its position.
type Node struct {
	Shape  Shape
	Line   int
	Column int
	Value  string  // of a Scalar, decoded
	Quoted bool    // a Scalar in quotes or as a block: text, whatever it looks like
	Null   bool    // a Scalar left empty, or null
	Keys   []*Node // of a Map, in file order, each a Scalar
	Items  []*Node // of a Map, the value of each key; of a Sequence, its items

	style yaml.Style
	text  *text
}

// text is the decoded file that nodes stand in. Its lines are split, without their ends, when one is first asked for.
type text struct {
	content []byte
	once    sync.Once
	split   []string
}

func (t *text) lines() []string {
	t.once.Do(func() { t.split = split(t.content) })
	return t.split
}

func split(content []byte) []string {
	return strings.Split(strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(string(content)), "\n")
}

// At returns the value of a key of a Map, or nil.
func (n *Node) At(key string) *Node {
	if n == nil || n.Shape != Map {
		return nil
	}
	for i, k := range n.Keys {
		if k.Value == key {
			return n.Items[i]
		}
	}
	return nil
}

// KeyNode returns the node of a key itself, or nil.
func (n *Node) KeyNode(key string) *Node {
	if n == nil || n.Shape != Map {
		return nil
	}
	for _, k := range n.Keys {
		if k.Value == key {
			return k
		}
	}
	return nil
}

// Parse reads one YAML document. It returns the root where there is one, also beside problems, so that a reader can
// go on and report everything at once; the root is nil where nothing could be made of the file.
func Parse(file string, b []byte) (*Node, Problems) {
	if len(b) > MostBytes {
		return nil, Problems{{File: file, Message: fmt.Sprintf("the file is larger than %d bytes", MostBytes)}}
	}
	if bytes.HasPrefix(b, []byte("\xff\xfe")) || bytes.HasPrefix(b, []byte("\xfe\xff")) {
		return nil, Problems{{File: file, Line: 1, Column: 1, Message: "the file is UTF-16; save it as UTF-8"}}
	}
	b = bytes.TrimPrefix(b, []byte("\xef\xbb\xbf"))
	if ps := characters(file, b); len(ps) > 0 {
		return nil, ps
	}
	dec := yaml.NewDecoder(bytes.NewReader(b))
	var doc yaml.Node
	if err := dec.Decode(&doc); err != nil {
		if errors.Is(err, io.EOF) {
			return nil, Problems{{File: file, Line: 1, Column: 1, Message: "the file is empty"}}
		}
		return nil, Problems{syntax(file, b, err)}
	}
	ends := bytes.Count(b, []byte("\n")) + bytes.Count(b, []byte("\r")) - bytes.Count(b, []byte("\r\n"))
	w := walker{file: file, text: &text{content: b}, last: ends + 1}
	if bytes.ContainsRune(b, '!') {
		w.marked = split(b)
	}
	var next yaml.Node
	if err := dec.Decode(&next); err == nil {
		w.problem(next.Line, 1, "a second document begins here; a file holds one")
	} else if !errors.Is(err, io.EOF) {
		w.problems = append(w.problems, syntax(file, b, err))
	}
	if len(doc.Content) == 0 {
		return nil, Problems{{File: file, Line: 1, Column: 1, Message: "the file is empty"}}
	}
	root := w.node(doc.Content[0], 1)
	if w.beyond != nil {
		return nil, Problems{*w.beyond} // what else is wrong follows from what was left out
	}
	return root, w.problems
}

// characters refuses what a text file must not hold, with its place.
func characters(file string, b []byte) (ps Problems) {
	line, column := 1, 1
	for i := 0; i < len(b) && len(ps) < MostProblems; {
		r, w := utf8.DecodeRune(b[i:])
		if m := refused(r, w); m != "" {
			ps = append(ps, Problem{file, line, column, m})
		}
		i += w
		column++
		if r == '\n' || r == '\r' && (i == len(b) || b[i] != '\n') {
			line, column = line+1, 1
		}
	}
	return ps
}

func refused(r rune, width int) string {
	switch {
	case r == utf8.RuneError && width == 1:
		return "not valid UTF-8"
	case r < 0x20 && r != '\n' && r != '\r' && r != '\t', r == 0x7f, r >= 0x80 && r < 0xa0 && r != 0x85:
		return fmt.Sprintf("control character U+%04X is not allowed", r)
	case r == 0x85, r == 0x2028, r == 0x2029:
		return fmt.Sprintf("line break U+%04X is not allowed: it ends a comment unseen", r)
	case r >= 0x202a && r <= 0x202e, r >= 0x2066 && r <= 0x2069, r == 0x200e, r == 0x200f, r == 0x61c:
		return fmt.Sprintf("bidirectional control U+%04X is not allowed: it shows text in another order than it is read", r)
	case r == 0xfeff:
		return "byte-order mark U+FEFF is allowed only at the start of the file"
	}
	return ""
}

// syntax turns an error of the YAML library into a problem. It leaves the line out when it is the first, and where an
// alias names no anchor.
func syntax(file string, b []byte, err error) Problem {
	m := strings.TrimPrefix(err.Error(), "yaml: ")
	p := Problem{File: file, Line: 1, Column: 1}
	if name, ok := strings.CutPrefix(m, "unknown anchor '"); ok {
		name, _, _ = strings.Cut(name, "'")
		if before, _, found := strings.Cut(string(b), "*"+name); found {
			p.Line = 1 + strings.Count(before, "\n")
			p.Column = 1 + utf8.RuneCountInString(before[strings.LastIndex(before, "\n")+1:])
		}
		p.Message = fmt.Sprintf("aliases (*%s) are not allowed; write the value out", name)
		return p
	}
	if rest, ok := strings.CutPrefix(m, "line "); ok {
		if n, after, ok := strings.Cut(rest, ": "); ok {
			if line, err := strconv.Atoi(n); err == nil {
				p.Line, m = line, after
			}
		}
	}
	p.Message = "not readable as YAML, at or just after this line: " + Plain(m)
	return p
}

type walker struct {
	file     string
	text     *text
	last     int      // line
	marked   []string // the lines of a file that has a !
	nodes    int
	problems Problems
	beyond   *Problem // the first bound that the file passes
}

// from is the line from a node on, where the file has a ! at all.
func (w *walker) from(y *yaml.Node) string {
	if y.Line < 1 || y.Line > len(w.marked) {
		return ""
	}
	line := []rune(w.marked[y.Line-1])
	return string(line[min(max(y.Column-1, 0), len(line)):])
}

// tag refuses a tag. Text that begins with ! looks like one to YAML, which drops a ! with a space behind it: the node
// holds the text that was meant.
func (w *walker) tag(y *yaml.Node, n *Node) {
	mark := "!"
	if y.Style&yaml.TaggedStyle != 0 {
		mark = y.Tag
	}
	if y.Kind != yaml.ScalarNode || strings.HasPrefix(mark, "!!") || strings.HasPrefix(mark, "tag:") {
		w.problem(y.Line, y.Column, "tags (%s) are not allowed; write the plain value", Plain(mark))
		return
	}
	n.Value, n.Quoted = strings.TrimSpace(mark+" "+y.Value), true
	w.problem(y.Line, y.Column, "to YAML a text that begins with `!` is a tag; put it in quotes: '%s'",
		Plain(strings.ReplaceAll(n.Value, "'", "''")))
}

// bound notes the first bound that is passed.
func (w *walker) bound(y *yaml.Node, format string, most int) {
	if w.beyond == nil {
		w.beyond = &Problem{w.file, y.Line, y.Column, fmt.Sprintf(format, most)}
	}
}

func (w *walker) problem(line, column int, format string, args ...any) {
	w.problems = append(w.problems, Problem{w.file, line, column, fmt.Sprintf(format, args...)})
}

// node turns a YAML node into one of ours. Nodes past the bounds are reported once and left out.
func (w *walker) node(y *yaml.Node, depth int) *Node {
	w.nodes++
	n := &Node{Line: y.Line, Column: y.Column, Value: y.Value, style: y.Style, text: w.text}
	if n.Line > w.last {
		n.Line, n.Column = w.last, 1 // the library places what is left empty at the end past the last line
	}
	if w.nodes > MostNodes {
		w.bound(y, "the file has more than %d values", MostNodes)
		return n
	}
	if depth > MostDepth {
		w.bound(y, "nested deeper than %d levels", MostDepth)
		return n
	}
	if y.Anchor != "" {
		w.problem(y.Line, y.Column, "anchors (&%s) are not allowed; write the value out", Plain(y.Anchor))
	}
	if y.Style&yaml.TaggedStyle != 0 || strings.HasPrefix(w.from(y), "!") {
		w.tag(y, n)
	}
	switch y.Kind {
	case yaml.AliasNode:
		w.problem(y.Line, y.Column, "aliases (*%s) are not allowed; write the value out", Plain(y.Value))
	case yaml.ScalarNode:
		n.Quoted = n.Quoted || y.Style&(yaml.SingleQuotedStyle|yaml.DoubleQuotedStyle|yaml.LiteralStyle|yaml.FoldedStyle) != 0
		n.Null = !n.Quoted && y.ShortTag() == "!!null"
	case yaml.SequenceNode:
		n.Shape = Sequence
		for _, c := range y.Content {
			n.Items = append(n.Items, w.node(c, depth+1))
		}
	case yaml.MappingNode:
		n.Shape = Map
		seen := make(map[string]int, len(y.Content)/2)
		for i := 0; i+1 < len(y.Content); i += 2 {
			k := w.node(y.Content[i], depth+1)
			v := w.node(y.Content[i+1], depth+1)
			first, repeated := seen[k.Value]
			switch {
			case k.Shape != Scalar || y.Content[i].Kind == yaml.AliasNode:
				w.problem(k.Line, k.Column, "a key must be plain text")
				continue
			case !k.Quoted && k.Value == "<<":
				w.problem(k.Line, k.Column, "merge keys (<<) are not allowed; write the keys out")
				continue
			case repeated:
				w.problem(k.Line, k.Column, "%s is already given in line %d; give it once", Quote(k.Value), first)
				continue
			}
			seen[k.Value] = k.Line
			n.Keys = append(n.Keys, k)
			n.Items = append(n.Items, v)
		}
	}
	return n
}
