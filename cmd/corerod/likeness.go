package main

import (
	"bytes"
	"io"
	"io/fs"
	"regexp"
	"strings"
	"sync"
	"unicode/utf8"

	"corerod/parts/form"
	"corerod/parts/source"
)

// likeness is how much a file looks like a part.
type likeness int

const (
	none   likeness = iota
	partly          // it cannot be read, and has a key like the one of a part
	wholly
)

// looks tells a part file by its `part` key, however it is written: plain, quoted, with escapes, in braces. Text in UTF-16 or UTF-32 with
// such a key is one too: the reader says what is wrong with it.
func looks(b []byte) likeness {
	if wide := wideText(b); wide != nil {
		if looks(wide) == none {
			return none
		}
		return wholly
	}
	for line := range bytes.Lines(b) {
		if rest, ok := bytes.CutPrefix(line, []byte("part")); ok && bytes.HasPrefix(bytes.TrimLeft(rest, " \t"), []byte(":")) {
			return wholly
		}
	}
	if !utf8.Valid(b) {
		return partly // in another encoding it may say anything
	}
	text := unescaped(b)
	if !bytes.Contains(text, []byte("part")) {
		return none
	}
	n, ps := source.Parse("", b)
	switch {
	case n != nil && form.IsPart(n):
		return wholly
	case len(ps) > 0 && partKey().Match(text):
		return partly
	}
	return none
}

// looksLong looks through a file that is too long to be a part for the key of one at its outermost level.
func looksLong(root fs.FS, p string) (likeness, error) {
	in, err := open(root, p)
	if err != nil {
		return partly, err
	}
	defer in.Close()
	b, err := io.ReadAll(io.LimitReader(in, mostLooked+1))
	switch {
	case err != nil:
		return partly, err
	case len(b) > mostLooked, longKey().Match(unescaped(b)):
		return wholly, nil
	}
	return none, nil
}

// wideText is text of two or four bytes a letter without what is wide in it, told by its mark or by zeros; nil for other text.
func wideText(b []byte) []byte {
	marked := bytes.HasPrefix(b, []byte{0xfe, 0xff}) || bytes.HasPrefix(b, []byte{0xff, 0xfe})
	if !marked && bytes.IndexByte(b, 0) < 0 {
		return nil
	}
	return bytes.Map(func(r rune) rune {
		if r == 0 || r == utf8.RuneError || r == 0xfeff {
			return -1
		}
		return r
	}, b)
}

// unescaped is text with the escapes of letters written out.
func unescaped(b []byte) []byte {
	if !bytes.ContainsRune(b, '\\') {
		return b
	}
	return escape().ReplaceAllFunc(b, func(e []byte) []byte {
		if e[1] == '\n' || e[1] == '\r' {
			return nil
		}
		v := 0
		for _, c := range e[2:] {
			v = v<<4 | strings.IndexByte("0123456789abcdef", c|0x20)&0xf
		}
		return []byte(string(rune(v)))
	})
}

// partKey is how the key of a part looks in text that cannot be read as YAML; a key that is an alias may be one, too.
var partKey = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(
		`(?m)(^|[{,\[\x{85}\x{2028}\x{2029}])[ \t]*(\?[ \t]*)?(![^ \n]*[ \t]+|&[^ \n]+[ \t]+)*(["']?part["']?|\*[^ \n]+)\s*:`)
})

// mostLooked is how much of a file is looked through for the key of a part, bytes.
const mostLooked = 64 << 20

// longKey is the key of a part where it begins a line, or is the first of braces at the beginning.
var longKey = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`(?m)^(\? *)?["']?part["']?\s*:|\A[\s\x{feff}]*\{\s*["']?part["']?\s*:`)
})

// escape is a character that a double-quoted key writes by its number, or a line that goes on below.
var escape = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`\\(x[0-9a-fA-F]{2}|u[0-9a-fA-F]{4}|U[0-9a-fA-F]{8}|\r?\n[ \t]*)`)
})
