package source

import (
	"fmt"
	"slices"
	"strings"
)

// Reader reads typed values from nodes and collects what is wrong with them. A method that reports a problem
// returns a zero value and false; reading goes on, so that all problems of a file are reported together.
type Reader struct {
	File     string
	Problems Problems
	misspelt map[*Node][]string // keys that a map is told to mean: they are not missing too
}

// Report adds a problem at a node.
func (r *Reader) Report(at *Node, format string, args ...any) {
	r.Problems = append(r.Problems, Problem{r.File, at.Line, at.Column, fmt.Sprintf(format, args...)})
}

// Map checks that a node is a map with only the known keys and reports unknown ones with the nearest known key.
// what names the construct in messages: "a body". It returns false where the node is no map at all.
func (r *Reader) Map(n *Node, what string, known ...string) bool {
	if n.Shape != Map {
		keys := "keys with values"
		if len(known) > 0 {
			keys += " (" + some(known) + ")"
		}
		r.Report(n, "%s needs %s, not %s", what, keys, found(n))
		return false
	}
	for i, k := range n.Keys {
		if slices.Contains(known, k.Value) {
			continue
		}
		if i > 0 && n.Items[i].Null && isDigits(k.Value) && isDigits(n.Items[i-1].Value) {
			r.Report(k, "a comma stands between values; the number is written with a point: %s.%s", n.Items[i-1].Value, k.Value)
			continue
		}
		if near := nearestKey(k.Value, known, n); near != "" {
			r.Report(k, "unknown key %s in %s; did you mean `%s`?", Quote(k.Value), what, near)
			if r.misspelt == nil {
				r.misspelt = map[*Node][]string{}
			}
			r.misspelt[n] = append(r.misspelt[n], near)
		} else {
			r.Report(k, "unknown key %s in %s; known are %s", Quote(k.Value), what, some(known))
		}
	}
	return true
}

func isDigits(s string) bool { return s != "" && strings.Trim(s, "0123456789") == "" }

// Require reports a missing key of a map and returns its value.
func (r *Reader) Require(n *Node, what, key string) *Node {
	v := n.At(key)
	if v == nil && !slices.Contains(r.misspelt[n], key) {
		r.Report(n, "%s needs `%s`", what, key)
	}
	return v
}

// List checks that a node is a list.
func (r *Reader) List(n *Node, what string) ([]*Node, bool) {
	if n.Shape != Sequence {
		r.Report(n, "%s needs a list, not %s", what, found(n))
		return nil, false
	}
	return n.Items, true
}

// Text reads text, kept as written: 007 stays 007.
func (r *Reader) Text(n *Node, what string) (string, bool) {
	if n.Shape != Scalar || n.Null {
		r.Report(n, "%s needs text, not %s", what, found(n))
		return "", false
	}
	return n.Value, true
}

// Word reads one of the listed words.
func (r *Reader) Word(n *Node, what string, words ...string) (string, bool) {
	if n.Shape == Scalar && slices.Contains(words, n.Value) {
		return n.Value, true
	}
	if near := nearestUnit(n.Value, words); n.Shape == Scalar && near != "" {
		r.Report(n, "%s is %s; did you mean `%s`?", what, Quote(n.Value), near)
	} else {
		r.Report(n, "%s is %s; it must be %s%s", what, found(n), map[bool]string{true: "one of "}[len(words) > 1], some(words))
	}
	return "", false
}

// Name reads a name: [a-z][a-z0-9-]{0,63}.
func (r *Reader) Name(n *Node, what string) (string, bool) {
	if n.Shape == Scalar && !n.Null && IsName(n.Value) {
		return n.Value, true
	}
	r.Report(n, "%s is %s; a name is a lower-case letter followed by at most 63 lower-case letters, digits or hyphens", what, found(n))
	return "", false
}

// IsName tells whether s is a name of a feature or pack: [a-z][a-z0-9-]{0,63}.
func IsName(s string) bool {
	if s == "" || len(s) > 64 || s[0] < 'a' || s[0] > 'z' {
		return false
	}
	for _, c := range []byte(s) {
		if !(c >= 'a' && c <= 'z' || c >= '0' && c <= '9' || c == '-') {
			return false
		}
	}
	return true
}

// PartName reads the name of a part, as drawing offices number them.
func (r *Reader) PartName(n *Node, what string) (string, bool) {
	if n.Shape == Scalar && !n.Null && IsPartName(n.Value) {
		return n.Value, true
	}
	r.Report(n, "%s is %s; %s", what, found(n), PartNames)
	return "", false
}

// PartNames says which names of parts there are.
const PartNames = "the name of a part has at most 64 letters, digits, hyphens, points and underscores, and begins with a letter or digit"

// IsPartName tells whether s is a name of a part: [A-Za-z0-9][A-Za-z0-9._-]{0,63}.
func IsPartName(s string) bool {
	if s == "" || len(s) > 64 {
		return false
	}
	for i, c := range []byte(s) {
		sign := c == '-' || c == '.' || c == '_'
		if !(c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9' || sign && i > 0) {
			return false
		}
	}
	return true
}

// Boolean reads true or false.
func (r *Reader) Boolean(n *Node, what string) (bool, bool) {
	if n.Shape == Scalar && !n.Quoted && (n.Value == "true" || n.Value == "false") {
		return n.Value == "true", true
	}
	r.Report(n, "%s is %s; it must be true or false", what, found(n))
	return false, false
}

// found says what a node is, for messages.
func found(n *Node) string {
	switch {
	case n.Shape != Scalar:
		return n.Shape.String()
	case n.Null:
		return "nothing"
	}
	return Quote(n.Value)
}

// some lists words for a message.
func some(words []string) string {
	const most = 24
	quoted := make([]string, 0, len(words))
	for _, w := range words {
		quoted = append(quoted, "`"+w+"`")
	}
	if len(quoted) > most {
		quoted = append(quoted[:most], "...")
	}
	return strings.Join(quoted, ", ")
}
