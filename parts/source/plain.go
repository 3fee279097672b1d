package source

import (
	"strconv"
	"strings"
)

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
