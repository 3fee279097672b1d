package source

import (
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"gopkg.in/yaml.v3"
)

// Inside returns the line and column of the i-th rune of a scalar's decoded value, whatever YAML style it is written
// in; i may be the length of the value, meaning its end. What the file holds is read again and compared with the
// decoded value: where the two differ, and for a node that is no scalar, it is the node's own place.
func (n *Node) Inside(i int) (line, column int) {
	at := n.places()
	if i < 0 || i >= len(at) {
		return n.Line, n.Column
	}
	return at[i].line, at[i].column
}

// spot is one place of the file, counted from 1.
type spot struct{ line, column int }

// places returns the place of every rune of the value and of its end, or nil where they cannot be told.
func (n *Node) places() []spot {
	if n.Shape != Scalar || n.text == nil || n.Line < 1 || n.Line > len(n.text.lines()) {
		return nil
	}
	s := scan{lines: n.text.lines(), line: n.Line - 1, want: utf8.RuneCountInString(n.Value)}
	if !s.move(n.Column - 1) {
		return nil
	}
	ok := false
	switch {
	case n.style&(yaml.LiteralStyle|yaml.FoldedStyle) != 0:
		ok = s.block(n.Value, n.style&yaml.FoldedStyle != 0)
	case n.style&yaml.DoubleQuotedStyle != 0:
		ok = s.quoted('"')
	case n.style&yaml.SingleQuotedStyle != 0:
		ok = s.quoted('\'')
	default:
		ok = s.plain()
	}
	if !ok || string(s.value) != n.Value {
		return nil
	}
	return s.at
}

// scan reads a scalar again from the lines of its file and notes where each rune stands.
type scan struct {
	lines []string
	line  int // from 0
	off   int // bytes into the line
	want  int // runes of the decoded value
	value []rune
	at    []spot
}

// move steps over runes of the line.
func (s *scan) move(runes int) bool {
	for ; runes > 0; runes-- {
		_, w := utf8.DecodeRuneInString(s.rest())
		if w == 0 {
			return false
		}
		s.off += w
	}
	return true
}

func (s *scan) rest() string { return s.lines[s.line][s.off:] }

func (s *scan) here() spot {
	return spot{s.line + 1, utf8.RuneCountInString(s.lines[s.line][:s.off]) + 1}
}

func (s *scan) add(r rune, at spot) {
	s.value = append(s.value, r)
	s.at = append(s.at, at)
}

// take reads one rune as it stands.
func (s *scan) take() {
	r, w := utf8.DecodeRuneInString(s.rest())
	s.add(r, s.here())
	s.off += w
}

// plain reads an unquoted scalar: it ends where the value does.
func (s *scan) plain() bool {
	for len(s.value) < s.want {
		if !s.fold() {
			return false
		}
		if len(s.value) < s.want {
			s.take()
		}
	}
	s.at = append(s.at, s.here())
	return true
}

// quoted reads a scalar in quotes of one kind, to its closing quote.
func (s *scan) quoted(quote byte) bool {
	if !strings.HasPrefix(s.rest(), string(quote)) {
		return false
	}
	s.off++
	for len(s.value) <= s.want {
		if !s.fold() {
			return false
		}
		t := s.rest()
		switch {
		case quote == '\'' && strings.HasPrefix(t, "''"):
			s.add('\'', s.here())
			s.off += 2
		case t[0] == quote:
			s.at = append(s.at, s.here())
			return true
		case quote == '"' && t[0] == '\\':
			if !s.escape() {
				return false
			}
		default:
			s.take()
		}
	}
	return false
}

// fold reads the blanks and line breaks at the end of a line of a plain or quoted scalar: one break is a space, each
// further one a new line. It returns false where the file ends.
func (s *scan) fold() bool {
	if strings.TrimLeft(s.rest(), " \t") != "" {
		return true
	}
	at, breaks := s.here(), s.skip()
	if breaks < 0 {
		return false
	}
	if breaks == 1 {
		s.add(' ', at)
	}
	for ; breaks > 1; breaks-- {
		s.add('\n', at)
	}
	return s.fold()
}

// skip goes to the first character of the next line that has one, and returns the lines passed, or -1.
func (s *scan) skip() int {
	breaks := 0
	for strings.TrimLeft(s.rest(), " \t") == "" {
		if s.line+1 >= len(s.lines) {
			return -1
		}
		s.line, s.off = s.line+1, 0
		breaks++
	}
	s.off = len(s.lines[s.line]) - len(strings.TrimLeft(s.rest(), " \t"))
	return breaks
}

// simple escapes of a scalar in double quotes.
var simple = map[byte]rune{'0': 0, 'a': 7, 'b': 8, 't': 9, '\t': 9, 'n': 10, 'v': 11, 'f': 12, 'r': 13, 'e': 27, ' ': ' ',
	'"': '"', '/': '/', '\\': '\\', 'N': 0x85, '_': 0xa0, 'L': 0x2028, 'P': 0x2029}

// digits of the escapes that give a character by number.
var digits = map[byte]int{'x': 2, 'u': 4, 'U': 8}

// escape reads an escape of a scalar in double quotes; an escaped line break is nothing, further ones are new lines.
func (s *scan) escape() bool {
	at, t := s.here(), s.rest()
	if len(t) == 1 {
		s.off++
		breaks := s.skip()
		for ; breaks > 1; breaks-- {
			s.add('\n', at)
		}
		return breaks > 0
	}
	if r, ok := simple[t[1]]; ok {
		s.add(r, at)
		s.off += 2
		return true
	}
	n := digits[t[1]]
	if n == 0 || len(t) < 2+n {
		return false
	}
	v, err := strconv.ParseUint(t[2:2+n], 16, 32)
	s.add(rune(v), at)
	s.off += 2 + n
	return err == nil
}

// block reads a literal or folded scalar. Its indentation is that of its first line with text, unless the header
// states one, relative to a parent that is not known here: then each is tried, and the value decides.
func (s *scan) block(value string, folded bool) bool {
	header, _, _ := strings.Cut(s.rest(), "#")
	if header == "" || header[0] != '|' && header[0] != '>' {
		return false
	}
	first := s.line + 1
	most := indentation(s.lines[min(first, len(s.lines)):])
	least := most
	if strings.ContainsAny(header, "123456789") {
		least = 0
	}
	for indent := most; indent >= least; indent-- {
		s.value, s.at = nil, nil
		s.blockLines(first, indent, folded)
		if s.trim(value) {
			return true
		}
	}
	return false
}

// indentation is the number of spaces before the first line that has more than spaces.
func indentation(lines []string) int {
	for _, l := range lines {
		if t := strings.TrimLeft(l, " "); t != "" {
			return len(l) - len(t)
		}
	}
	return 0
}

// blockLines reads the lines of a block scalar with every line break at its end kept.
func (s *scan) blockLines(first, indent int, folded bool) {
	breaks, end, started, deep := 0, spot{}, false, false
	for s.line = first; s.line < len(s.lines); s.line++ {
		l := s.lines[s.line]
		spaces := len(l) - len(strings.TrimLeft(l, " "))
		if spaces < indent && spaces < len(l) {
			break
		}
		if spaces == len(l) && spaces <= indent {
			if !started {
				s.add('\n', spot{s.line + 1, 1})
			} else {
				breaks++
			}
			continue
		}
		text := l[indent:]
		deeper := text[0] == ' ' || text[0] == '\t'
		if started {
			s.join(breaks, end, folded && !deep && !deeper)
		}
		started, deep, breaks = true, deeper, 1
		s.off = indent
		for s.rest() != "" {
			s.take()
		}
		end = s.here()
	}
	s.join(breaks, end, false)
}

// join writes the line breaks between two lines of a block scalar.
func (s *scan) join(breaks int, at spot, folded bool) {
	if folded {
		breaks--
		if breaks == 0 {
			s.add(' ', at)
		}
	}
	for ; breaks > 0; breaks-- {
		s.add('\n', at)
	}
}

// trim drops line breaks at the end that the value does not have, and notes the place of the end.
func (s *scan) trim(value string) bool {
	for len(s.value) > s.want && s.value[len(s.value)-1] == '\n' {
		s.value, s.at = s.value[:len(s.value)-1], s.at[:len(s.at)-1]
	}
	if string(s.value) != value {
		return false
	}
	end := spot{min(s.line+1, len(s.lines)), 1}
	if k := len(s.at); k > 0 {
		end = spot{s.at[k-1].line, s.at[k-1].column}
		if s.value[k-1] != '\n' {
			end.column++
		}
	}
	s.at = append(slices.Clip(s.at), end)
	return true
}
