package rules

import (
	"fmt"
	"slices"
	"strings"
	"unicode"

	"corerod/parts/source"
)

// instead gives what to write for signs and words of other languages.
var instead = map[string]string{"and": "&&", "or": "||", "not": "!", "=": "==", "=>": ">=", "=<": "<=", "<>": "!=", "&": "&&",
	"|": "||", "≥": ">=", "≤": "<=", "≠": "!=", "is": "==", "===": "==", "!==": "!=", "×": "*", "·": "*", "÷": "/", "−": "-", "–": "-",
	"“": "\"", "”": "\"", "„": "\"", "‘": "'", "’": "'", "between": "a <= x && x <= b", "^": "*", "**": "*", "~": "!"}

// together are signs that other languages write as one.
var together = []string{"===", "!==", "=>", "=<", "<>", "**"}

// wordAt is the token at a rune, with signs that other languages write together kept together.
func (x *expression) wordAt(at int) string {
	rest := string(x.text[at:min(at+3, len(x.text))])
	for _, t := range together {
		if strings.HasPrefix(rest, t) {
			return t
		}
	}
	return string(x.text[at:tokenEnd(x.text, at)])
}

// misread finds, in a text that the expression library cannot read and left at a rune, the habit of another language
// that is the likely cause: the first one in the text, so that one slip gives one message.
func (x *expression) misread(stopped int) (fault, bool) {
	var open brackets
	before := ""
	for i := 0; i < len(x.text) && i <= stopped; {
		if unicode.IsSpace(x.text[i]) {
			i++
			continue
		}
		word := x.wordAt(i)
		end := i + len([]rune(word))
		if !strings.HasPrefix(word, "//") {
			if f, ok := x.habit(word, before, i, end, open.inCall()); ok {
				return f, true
			}
			if f, ok := open.take(word, before, i); !ok {
				return f, true
			}
			before = word
		}
		i = end
	}
	if n := len(open); n > 0 && x.next(stopped) == "" {
		return fault{open[n-1].at, fmt.Sprintf("this `%s` is not closed", open[n-1].sign)}, true
	}
	return fault{}, false
}

// brackets are those opened and not yet closed. A call's, like a list's, holds items parted by commas.
type brackets []struct {
	sign  string
	at    int
	items bool
}

func (b brackets) inCall() bool { return len(b) > 0 && b[len(b)-1].items }

// take opens or closes a bracket; a bracket that closes none is a fault.
func (b *brackets) take(word, before string, at int) (fault, bool) {
	switch word {
	case "(", "[", "{":
		*b = append(*b, struct {
			sign  string
			at    int
			items bool
		}{word, at, word != "(" || isWord(before)})
	case ")", "]", "}":
		n := len(*b)
		if n == 0 || strings.Index("([{", (*b)[n-1].sign) != strings.Index(")]}", word) {
			return fault{at, fmt.Sprintf("this `%s` closes no bracket; leave it out or open one before it", word)}, false
		}
		*b = (*b)[:n-1]
	}
	return fault{}, true
}

// isWord tells whether a token is a name.
func isWord(word string) bool {
	r := []rune(word)
	return len(r) > 0 && (r[0] == '_' || unicode.IsLetter(r[0])) && word != "in"
}

// isNumber tells whether a token begins as a number.
func isNumber(word string) bool { return word != "" && word[0] >= '0' && word[0] <= '9' }

// ends tells whether an operand can end with a token.
func ends(word string) bool {
	return isWord(word) || isNumber(word) || slices.Contains([]string{")", "]", "}"}, word) || strings.HasPrefix(word, "'") ||
		strings.HasPrefix(word, "\"")
}

// habit tells what is wrong with one token after another. inCall is true where commas part arguments or items. In one piece:
// a list of cases, each with its message, of which the first that holds is told.
func (x *expression) habit(word, before string, at, end int, inCall bool) (fault, bool) {
	next := x.next(end)
	right, known := instead[strings.ToLower(word)]
	switch {
	case word == "=>" && isWord(before) && inCall:
		return fault{at, "`=>` cannot stand here; the first argument names each element, as in `all(w, w.web)`"}, true
	case strings.EqualFold(word, "not") && strings.EqualFold(next, "in") && ends(before):
		return fault{at, "`not in` cannot stand here; write `!(a in b)`"}, true
	case known && !isWord(word):
		return fault{at, fmt.Sprintf("`%s` cannot stand here; write `%s`", word, right)}, true
	case known && before != "." && next != "." && (strings.ToLower(word) == "not" && !ends(before) && ends(next) || ends(before)):
		return fault{at, fmt.Sprintf("`%s` cannot stand here; write `%s`", source.Plain(word), right)}, true
	case word[0] == '\'' || word[0] == '"':
		if len([]rune(word)) < 2 || word[len(word)-1] != word[0] || x.text[end-2] == '\\' && x.text[end-3] != '\\' {
			return fault{at, fmt.Sprintf("the text that begins with this %c is not closed", word[0])}, true
		}
	case isNumber(word) && !isFigure(word):
		return fault{at, fmt.Sprintf("%s is no number; write the number alone, without unit: expressions count in mm, deg, mm2, mm3, g, "+
			"g/cm3, MPa and kN", source.Quote(word))}, true
	case isNumber(before) && word == "," && !inCall && isNumber(next):
		return fault{at, "a comma cannot stand here; numbers are written with a point"}, true
	case isNumber(before) && isWord(word) && slices.Contains(figureUnits, word) || isNumber(before) && word == "%" && !ends(next):
		return fault{at, fmt.Sprintf("%s cannot stand here; write the number alone, without unit", source.Quote(word))}, true
	case word == ";":
		return fault{at, "`;` cannot stand here; a condition is one expression, joined by `&&`"}, true
	}
	return fault{}, false
}

// next is the token that follows at or after a rune; "" at the end.
func (x *expression) next(i int) string {
	for i < len(x.text) && unicode.IsSpace(x.text[i]) {
		i++
	}
	if i == len(x.text) {
		return ""
	}
	return x.wordAt(i)
}

// isFigure tells whether a token that begins with a digit is a number as expressions write it.
func isFigure(word string) bool {
	rest := strings.TrimLeft(word, "0123456789")
	rest = strings.TrimLeft(strings.TrimPrefix(rest, "."), "0123456789")
	return rest == "" || slices.Contains([]string{"u", "U"}, rest) || strings.HasPrefix(strings.ToLower(word), "0x") ||
		(rest[0] == 'e' || rest[0] == 'E') && strings.Trim(rest[1:], "0123456789") == ""
}
