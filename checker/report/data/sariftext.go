package data

import (
	"path"
	"strings"

	"corerod/checker/report/words"
	"corerod/parts/source"
)

// wordJoiner is U+2060, which is not seen and keeps what stands on its two sides apart for programs that make links of text.
const wordJoiner = "\u2060"

func sarifSays(text string) sarifMessage { return sarifMessage{sarifText(text)} }

// sarifText writes text as a plain message of SARIF, on one line. Braces, which hold the place of arguments there, are
// doubled as the standard has it. Programs that show a message make links of [text](place), and often mentions, links and
// comments of what looks like one: in each of those something unseen stands between.
func sarifText(s string) string {
	runes := []rune(source.Plain(s))
	var b strings.Builder
	for i, r := range runes {
		switch {
		case r == '{' || r == '}':
			b.WriteRune(r)
		case r == '.' && i > 2 && strings.EqualFold(string(runes[i-3:i]), "www"):
			b.WriteString(wordJoiner)
		}
		b.WriteRune(r)
		if i+1 < len(runes) && acts(r, runes[i+1]) {
			b.WriteString(wordJoiner)
		}
	}
	return b.String()
}

// acts tells whether two characters side by side may begin a mention, a reference, a link, an image, an element or a comment.
func acts(r, next rune) bool {
	switch r {
	case '@', '#':
		return words.Wordly(next)
	case ']':
		return strings.ContainsRune("([:", next)
	case '!':
		return next == '['
	case '<':
		return words.Wordly(next) || strings.ContainsRune("!/?", next)
	case ':':
		return words.Wordly(next) || next == '/'
	}
	return false
}

// onDrive tells a whole path of Windows, with the slashes of names as shown.
var onDrive = source.Pattern("^[A-Za-z]:/")

// sarifURI is the name of a file as a reference: relative, or of the scheme file where the name is a whole path. All but
// letters, digits and - . _ ~ / stand as their bytes, so no text of a name is a scheme, a host, a query or a fragment.
func sarifURI(name string) string {
	name = path.Clean(name)
	var b strings.Builder
	switch {
	case name[0] == '/':
		b.WriteString("file://")
	case onDrive().MatchString(name):
		b.WriteString("file:///" + name[:2])
		name = name[2:]
	}
	const hex = "0123456789ABCDEF"
	for _, c := range []byte(name) {
		if c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9' || strings.IndexByte("-._~/", c) >= 0 {
			b.WriteByte(c)
		} else {
			b.WriteString("%" + string(hex[c>>4]) + string(hex[c&15]))
		}
	}
	return b.String()
}
