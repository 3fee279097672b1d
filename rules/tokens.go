package rules

import (
	"slices"
	"strings"
	"unicode"
)

// token is one word, number, text in quotes or operator of an expression: text[from:to].
type token struct {
	word     string
	from, to int
}

// tokens cuts an expression that the expression library has read into tokens; comments are left out.
func tokens(text []rune) (all []token) {
	for i := 0; i < len(text); {
		if unicode.IsSpace(text[i]) {
			i++
			continue
		}
		end := tokenEnd(text, i)
		if !strings.HasPrefix(string(text[i:end]), "//") {
			all = append(all, token{string(text[i:end]), i, end})
		}
		i = end
	}
	return all
}

// tokenEnd returns where the token that begins at i ends.
func tokenEnd(text []rune, i int) int {
	word := func(r rune) bool { return r == '_' || unicode.IsLetter(r) || unicode.IsDigit(r) }
	rest := string(text[i:min(i+2, len(text))])
	switch {
	case text[i] == '"' || text[i] == '\'':
		return quoteEnd(text, i)
	case rest == "//":
		for i < len(text) && text[i] != '\n' {
			i++
		}
		return i
	case word(text[i]):
		number := unicode.IsDigit(text[i])
		for i < len(text) && (word(text[i]) || number && text[i] == '.') {
			i++
		}
		return i
	case slices.Contains([]string{"&&", "||", "<=", ">=", "==", "!="}, rest):
		return i + 2
	}
	return i + 1
}

// quoteEnd returns where the text in quotes that begins at i ends.
func quoteEnd(text []rune, i int) int {
	quote := text[i]
	for i++; i < len(text); i++ {
		switch text[i] {
		case '\\':
			i++
		case quote:
			return i + 1
		}
	}
	return len(text)
}

// Tokens at which an operand ends.
var (
	boundary  = []string{"&&", "||", "?", ":", ","}
	relations = []string{"<", "<=", ">", ">=", "==", "!=", "in"}
)

// operands returns both sides of the comparison whose operator stands at a rune of the text, as written.
func operands(text []rune, at int) (left, right string) {
	all := tokens(text)
	i := slices.IndexFunc(all, func(t token) bool { return t.from == at })
	if i < 0 {
		return "", ""
	}
	return between(text, all, reach(all, i, -1, boundary), i), between(text, all, i+1, reach(all, i, 1, slices.Concat(boundary, relations)))
}

// clause returns the operand of logical operators around a rune of the text, as written.
func clause(text []rune, at int) string {
	all := tokens(text)
	i := slices.IndexFunc(all, func(t token) bool { return t.to > at })
	if i < 0 {
		return ""
	}
	from := reach(all, i, -1, append([]string{"!"}, boundary...))
	return between(text, all, from, reach(all, i-1, 1, boundary))
}

// reach goes from a token left (-1) or right (1) to the end of its operand: the first token of the operand to the
// left, the one after its last to the right.
func reach(all []token, i, step int, ends []string) int {
	open, closed := "([{", ")]}"
	if step < 0 {
		open, closed = closed, open
	}
	depth := 0
	for j := i + step; j >= 0 && j < len(all); j += step {
		w := all[j].word
		switch {
		case strings.Contains(open, w):
			depth++
		case strings.Contains(closed, w):
			depth--
		}
		if depth < 0 || depth == 0 && slices.Contains(ends, w) {
			return j + (1-step)/2
		}
	}
	if step < 0 {
		return 0
	}
	return len(all)
}

// between writes tokens as they stand, with white space run together and brackets around the whole left out.
func between(text []rune, all []token, from, to int) string {
	for to-from > 2 && all[from].word == "(" && reach(all, from, 1, nil) == to-1 {
		from, to = from+1, to-1
	}
	if from >= to {
		return ""
	}
	return strings.Join(strings.Fields(string(text[all[from].from:all[to-1].to])), " ")
}
