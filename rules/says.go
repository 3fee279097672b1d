package rules

import (
	"fmt"
	"slices"
	"strings"

	"corerod/parts/source"

	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/traits"
)

// piece is a part of a text: words as they stand, or an expression.
type piece struct {
	words string
	shows *phrase
}

// cut cuts a text into pieces: `{` opens an expression, which ends at the first `}` outside quotes; `{{` and `}}`
// are braces. A fault is at a rune of the text.
func cut(whole phrase) ([]piece, *fault) {
	text := []rune(whole.text)
	var pieces []piece
	var words strings.Builder
	for i := 0; i < len(text); i++ {
		doubled := i+1 < len(text) && text[i+1] == text[i]
		switch {
		case (text[i] == '{' || text[i] == '}') && doubled:
			words.WriteRune(text[i])
			i++
		case text[i] == '}':
			return nil, &fault{i, "a `}` without its `{`; a brace itself is written `}}`"}
		case text[i] == '{':
			end := closing(text, i+1)
			if end < 0 {
				return nil, &fault{i, "this `{` is not closed; a brace itself is written `{{`"}
			}
			pieces = append(pieces, piece{words: words.String()})
			words.Reset()
			p := whole
			p.text, p.from = string(text[i+1:end]), whole.from+i+1
			pieces = append(pieces, piece{shows: &p})
			i = end
		default:
			words.WriteRune(text[i])
		}
	}
	return append(pieces, piece{words: words.String()}), nil
}

// pieces are those of what the rule says; those of a kept rule are cut when they are said.
func (r *Rule) pieces() []piece {
	if r.says != nil {
		return r.says
	}
	pieces, _ := cut(phrase{rule: r.Name, text: r.Says, file: r.File, at: Origin{Line: r.Line, Column: r.Column}})
	return pieces
}

// closing finds the first closing brace outside quotes, or -1.
func closing(text []rune, i int) int {
	for i < len(text) {
		switch text[i] {
		case '}':
			return i
		case '"', '\'':
			i = quoteEnd(text, i)
		default:
			i++
		}
	}
	return -1
}

// say writes a text for one subject. White space, also line breaks, is run together, and characters that could act on
// a terminal, which an expression can write as escapes, are shown as escapes.
func (r *Rule) say(in *bound) (string, *Fault) {
	var b strings.Builder
	for _, p := range r.pieces() {
		b.WriteString(p.words)
		if p.shows == nil {
			continue
		}
		v, err := r.Pack.env().expression(p.shows.text).value(in)
		if err == nil {
			var s string
			s, err = shownText(v, in.scene.unit)
			b.WriteString(s)
		}
		if err != nil {
			return "", r.faulty(p.shows, "says", err)
		}
	}
	return source.Plain(strings.Join(strings.Fields(b.String()), " ")), nil
}

// shownText writes the value of an expression in a text.
func shownText(v any, unit string) (string, error) {
	switch v := v.(type) {
	case types.String:
		return string(v), nil
	case figure:
		return printed(v.function, v.value, unit), nil
	case traits.Lister:
		return series(v), nil
	}
	return "", fmt.Errorf("it gives neither text nor a number with a unit")
}

// series writes a list: a, b and c; subjects by their names, lists in it in parentheses. Where an item has an "and" of
// its own, as names of joints do, semicolons keep them apart.
func series(l traits.Lister) string {
	var all []string
	for it := l.Iterator(); it.HasNext() == types.True; {
		item := it.Next()
		text := fmt.Sprint(plainValue(item))
		if _, nested := item.(traits.Lister); nested {
			text = "(" + text + ")"
		}
		all = append(all, text)
	}
	if len(all) < 2 {
		return strings.Join(all, "")
	}
	if slices.ContainsFunc(all, func(s string) bool { return strings.Contains(s, " and ") }) {
		return strings.Join(all, "; ")
	}
	return strings.Join(all[:len(all)-1], ", ") + " and " + all[len(all)-1]
}
