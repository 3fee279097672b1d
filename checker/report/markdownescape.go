package report

import (
	"slices"
	"strings"
	"unicode"

	"corerod/checker/report/words"
	"corerod/parts/source"
)

// joiner is U+2060, which is not seen and keeps what stands on its two sides apart for programs that make links of text.
const joiner = "&#8288;"

// markdown writes text so that a Markdown document shows it as it is, on one line, wherever it stands: within a line, at
// its start, in a cell of a table. Whatever comes of it is text: no mention, reference, link, image, symbol picture, HTML,
// comment, emphasis or break of a table. Characters with a meaning are escaped. Programs also look for links in what is
// shown, escaped or not: dotted names, paths of files and digests, which could be taken for domains and commits, are set
// as code, where nobody looks; in @name, #12, http:// and the like a joiner parts what is looked for. Control and format
// characters are shown by their codes, as on a terminal.
func markdown(s string) string {
	runes := []rune(source.Plain(s))
	var b strings.Builder
	for i := 0; i < len(runes); {
		if n := codeWord(runes, i); n > 0 {
			b.WriteString("`" + string(runes[i:i+n]) + "`")
			i += n
			continue
		}
		if parted(runes, i) {
			b.WriteString(joiner)
		}
		b.WriteString(escaped(runes, i))
		if joined(runes, i) {
			b.WriteString(joiner)
		}
		i++
	}
	return b.String()
}

// codeWord is the length of a word that begins here and is set as code; 0 for none. It holds no character that ends code
// or a cell.
func codeWord(runes []rune, i int) int {
	if i > 0 && ofWord(runes[i-1]) {
		return 0
	}
	end := i
	for end < len(runes) && ofWord(runes[end]) {
		end++
	}
	word := strings.TrimRight(string(runes[i:end]), ".-[")
	commit := slices.ContainsFunc(digest().FindAllString(word, -1), func(d string) bool { return strings.ContainsAny(d, "abcdefABCDEF") })
	if commit || dotted().MatchString(word) {
		return len(word)
	}
	return 0
}

// ofWord tells the characters of dotted names and paths.
func ofWord(r rune) bool {
	return r <= unicode.MaxASCII && (unicode.IsLetter(r) || unicode.IsDigit(r) || strings.ContainsRune("_.-/[]", r))
}

var (
	dotted = source.Pattern(`[A-Za-z0-9\]]\.[A-Za-z]|[A-Za-z]\.[0-9]`)
	digest = source.Pattern(`\b[0-9a-fA-F]{7,}\b`)
)

// escaped writes one character.
func escaped(runes []rune, i int) string {
	r := runes[i]
	last := i == len(runes)-1
	switch {
	case r == '<', r == '>', r == '&', r == '|', r == '"':
		return entities[r]
	case r == ' ' && (i == 0 || last || runes[i-1] == ' '):
		return "&#32;" // indents code, breaks a line, or is dropped
	case strings.ContainsRune("\\`*_{}[]()#!~$^=@", r), i == 0 && strings.ContainsRune("-+:", r),
		strings.ContainsRune(".)", r) && numbered(runes[:i]) && (last || runes[i+1] == ' '):
		return `\` + string(r)
	}
	return string(r)
}

var entities = map[rune]string{'<': "&lt;", '>': "&gt;", '&': "&amp;", '|': "&#124;", '"': "&quot;"}

// numbered tells whether a text is digits alone, which a point makes an item of a list.
func numbered(runes []rune) bool {
	return len(runes) > 0 && strings.Trim(string(runes), "0123456789") == ""
}

// joined tells whether a joiner must follow a character, so that nothing is made of it and what comes after.
func joined(runes []rune, i int) bool {
	if i+1 >= len(runes) {
		return false
	}
	r, next := runes[i], runes[i+1]
	switch r {
	case '@', '#', '!', '$', '%', '~', '&', '^':
		return words.Wordly(next) || strings.ContainsRune("\"'[", next)
	case ':':
		return next != ' '
	case '/':
		return next == '/'
	case '-':
		return unicode.IsDigit(next) && i > 1 && strings.EqualFold(string(runes[i-2:i]), "gh") && (i == 2 || !words.Wordly(runes[i-3]))
	}
	return false
}

// parted tells whether a joiner must come before a character: a point after a word that goes on, or after www.
func parted(runes []rune, i int) bool {
	if runes[i] != '.' || i == 0 || !words.Wordly(runes[i-1]) {
		return false
	}
	if i > 2 && strings.EqualFold(string(runes[i-3:i]), "www") {
		return true
	}
	return i+1 < len(runes) && runes[i+1] != ' ' && !(unicode.IsDigit(runes[i-1]) && unicode.IsDigit(runes[i+1]))
}
