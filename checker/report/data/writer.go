package data

import (
	"encoding/json"
	"fmt"
	"io"
	"strconv"
	"strings"
	"unicode/utf16"
)

// jsonWriter writes a JSON document piece by piece, set in as encoding/json does it, so that nobody needs the whole of it.
type jsonWriter struct {
	w     io.Writer
	ends  []byte // of what is open
	fresh bool   // nothing stands in what was opened last
	keyed bool   // a key waits for its value
	err   error  // the first
}

// open begins an object or a list.
func (j *jsonWriter) open(bracket byte) {
	j.next()
	j.write(string(bracket))
	j.ends = append(j.ends, bracket+2) // } and ] follow { and [ by two
	j.fresh = true
}

// close ends what was opened last; the outermost ends the document.
func (j *jsonWriter) close() {
	last := len(j.ends) - 1
	end := string(j.ends[last])
	j.ends = j.ends[:last]
	if !j.fresh {
		end = "\n" + j.indent() + end
	}
	if last == 0 {
		end += "\n"
	}
	j.write(end)
	j.fresh = false
}

// key names the value that comes next.
func (j *jsonWriter) key(key string) {
	j.next()
	j.write(`"` + key + `": `)
	j.keyed = true
}

// value writes a value: the one of a key, or the next of a list.
func (j *jsonWriter) value(v any) {
	j.next()
	b, err := json.MarshalIndent(v, j.indent(), "  ")
	if j.err == nil {
		j.err = err
	}
	j.write(visible(string(b)))
}

// line writes a value that is JSON already, in one line.
func (j *jsonWriter) line(b []byte) {
	j.next()
	j.write(visible(string(b)))
}

// member writes a key and its value.
func (j *jsonWriter) member(key string, v any) {
	j.key(key)
	j.value(v)
}

// next goes to where the next value stands.
func (j *jsonWriter) next() {
	switch {
	case j.keyed || len(j.ends) == 0:
	case j.fresh:
		j.write("\n" + j.indent())
	default:
		j.write(",\n" + j.indent())
	}
	j.keyed, j.fresh = false, false
}

func (j *jsonWriter) indent() string { return strings.Repeat("  ", len(j.ends)) }

func (j *jsonWriter) write(text string) {
	if j.err == nil {
		_, j.err = io.WriteString(j.w, text)
	}
}

// indented writes one value as a document.
func indented(w io.Writer, v any) error {
	j := jsonWriter{w: w}
	j.value(v)
	j.write("\n")
	return j.err
}

// visible writes characters that nobody sees, blanks that are none, and what shows others in another order, as JSON's escapes:
// those that source.Plain escapes for a terminal.
func visible(s string) string {
	unseen := func(r rune) bool { return !strconv.IsPrint(r) && r != '\n' }
	if strings.IndexFunc(s, unseen) < 0 {
		return s
	}
	var b strings.Builder
	for _, r := range s {
		switch {
		case !unseen(r):
			b.WriteRune(r)
		case r > 0xffff:
			hi, lo := utf16.EncodeRune(r)
			fmt.Fprintf(&b, `\u%04x\u%04x`, hi, lo)
		default:
			fmt.Fprintf(&b, `\u%04x`, r)
		}
	}
	return b.String()
}
