package source

import (
	"fmt"
	"math"
	"slices"
	"strconv"
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

// nearestKey is the key that an unknown one of a map most likely stands for: one that the map does not have yet, also where
// the unknown one has a word more, as y_unit for unit.
func nearestKey(word string, known []string, n *Node) string {
	free := slices.DeleteFunc(slices.Clone(known), func(k string) bool { return n.At(k) != nil })
	if near := Nearest(word, free); near != "" {
		return near
	}
	for _, k := range free {
		if low := strings.ToLower(word); strings.HasSuffix(low, "_"+k) || strings.HasPrefix(low, k+"_") {
			return k
		}
	}
	return Nearest(word, known)
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
		r.Report(n, "%s is %s; it must be one of %s", what, found(n), some(words))
	}
	return "", false
}

// nearestUnit returns the nearest word; powers written small count as digits.
func nearestUnit(word string, words []string) string {
	plain := strings.NewReplacer("²", "2", "³", "3", "°", "deg").Replace(word)
	if slices.Contains(words, plain) {
		return plain
	}
	return Nearest(word, words)
}

// Name reads a name: [a-z][a-z0-9-]{0,63}.
func (r *Reader) Name(n *Node, what string) (string, bool) {
	if n.Shape == Scalar && !n.Null && IsName(n.Value) {
		return n.Value, true
	}
	r.Report(n, "%s is %s; a name is a lower-case letter followed by at most 63 lower-case letters, digits or hyphens", what, found(n))
	return "", false
}

// IsName tells whether s is a name of a part or feature: [a-z][a-z0-9-]{0,63}.
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

// Boolean reads true or false.
func (r *Reader) Boolean(n *Node, what string) (bool, bool) {
	if n.Shape == Scalar && !n.Quoted && (n.Value == "true" || n.Value == "false") {
		return n.Value == "true", true
	}
	r.Report(n, "%s is %s; it must be true or false", what, found(n))
	return false, false
}

// Number reads a finite decimal number.
func (r *Reader) Number(n *Node, what string) (float64, bool) {
	v, wrong := number(n)
	if wrong != "" {
		r.Report(n, "%s %s", what, wrong)
		return 0, false
	}
	return v, true
}

// number reads a decimal number, or says what is wrong with it.
func number(n *Node) (float64, string) {
	if n.Shape != Scalar || n.Null {
		return 0, "needs a number, not " + found(n)
	}
	s := n.Value
	if n.Quoted {
		return 0, fmt.Sprintf("needs a number, not text in quotes: %s", Quote(s))
	}
	digits := strings.TrimLeft(s, "+-")
	switch {
	case !decimal(s):
		switch low := strings.ToLower(digits); {
		case low == ".nan" || low == ".inf":
			return 0, fmt.Sprintf("is %s; only finite numbers are allowed", s)
		case strings.HasPrefix(low, "0x") || strings.HasPrefix(low, "0o") || strings.HasPrefix(low, "0b") || strings.Contains(s, "_"):
			return 0, fmt.Sprintf("is %s; write a plain decimal number", Quote(s))
		case decimal(strings.Replace(s, ",", ".", 1)):
			return 0, fmt.Sprintf("is `%s`; write a point, not a comma: %s", s, strings.Replace(s, ",", ".", 1))
		}
		return 0, "needs a number, not " + found(n)
	case len(digits) > 1 && digits[0] == '0' && digits[1] >= '0' && digits[1] <= '9':
		return 0, fmt.Sprintf("is `%s`; leave out the leading zero, which YAML reads as octal", s)
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil || math.IsInf(v, 0) {
		return 0, fmt.Sprintf("is `%s`, out of the range of numbers", s)
	}
	return v, ""
}

// decimal tells whether s is a plain decimal: sign, digits, point, exponent.
func decimal(s string) bool {
	s = strings.TrimPrefix(strings.TrimPrefix(s, "+"), "-")
	mantissa, exponent, has := strings.Cut(strings.ToLower(s), "e")
	whole, part, _ := strings.Cut(mantissa, ".")
	if has {
		exponent = strings.TrimPrefix(strings.TrimPrefix(exponent, "+"), "-")
		if exponent == "" || !allDigits(exponent) {
			return false
		}
	}
	return whole+part != "" && allDigits(whole) && allDigits(part)
}

func allDigits(s string) bool {
	return strings.Trim(s, "0123456789") == ""
}

// Quote shows text from a file inside a message: in backquotes, shortened, with nothing in it that could act on a
// terminal.
func Quote(s string) string {
	const most = 60
	if r := []rune(s); len(r) > most {
		s = string(r[:most]) + "..."
	}
	return "`" + Plain(s) + "`"
}

// Plain writes text so that no character of it can act on a terminal or hide: control, format and unprintable
// characters are escaped.
func Plain(s string) string {
	if strings.IndexFunc(s, func(r rune) bool { return !strconv.IsPrint(r) }) < 0 {
		return s
	}
	var b strings.Builder
	for _, r := range s {
		if strconv.IsPrint(r) {
			b.WriteRune(r)
		} else {
			q := strconv.QuoteRuneToASCII(r)
			b.WriteString(q[1 : len(q)-1])
		}
	}
	return b.String()
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

// Nearest returns the candidate most like the word, or "" where none is near enough to be what was meant.
func Nearest(word string, candidates []string) string {
	best, least := "", 0
	for _, c := range candidates {
		d := distance(strings.ToLower(word), c)
		if d <= max(1, len(c)/3) && (best == "" || d < least) {
			best, least = c, d
		}
	}
	return best
}

// Meant asks whether the nearest of some words was meant: the end of a message, "" where none is near.
func Meant(word string, known []string) string {
	if near := Nearest(word, known); near != "" {
		return fmt.Sprintf("; did you mean `%s`?", near)
	}
	return ""
}

// distance is the number of letters to insert, delete, replace or swap with their neighbour to turn a into b.
func distance(a, b string) int {
	if len(a) > 64 {
		return len(a)
	}
	x, y := []rune(a), []rune(b)
	rows := make([][]int, len(x)+1)
	for i := range rows {
		rows[i] = make([]int, len(y)+1)
		rows[i][0] = i
	}
	for j := range rows[0] {
		rows[0][j] = j
	}
	for i := 1; i <= len(x); i++ {
		for j := 1; j <= len(y); j++ {
			cost := 1
			if x[i-1] == y[j-1] {
				cost = 0
			}
			rows[i][j] = min(rows[i-1][j]+1, rows[i][j-1]+1, rows[i-1][j-1]+cost)
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				rows[i][j] = min(rows[i][j], rows[i-2][j-2]+1)
			}
		}
	}
	return rows[len(x)][len(y)]
}
