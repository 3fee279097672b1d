package source

import (
	"bytes"
	"encoding/json"
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// Pair is a key with its value as YAML on one line.
type Pair struct{ Key, Text string }

// Append returns the bytes of the file with a map added at the end of a list under a key of the root. The list is made
// where it is not there yet. Nothing else differs.
func (d *Document) Append(key string, item []Pair) ([]byte, error) {
	list := d.Root.At(key)
	switch {
	case list == nil:
		s, err := d.add(d.Root, key+":"+d.inLines(item, "  "))
		if err == nil && d.flow(d.Root) {
			s.text = ", " + key + ": [" + inBraces(item) + "]"
		}
		if err != nil {
			return nil, err
		}
		return d.apply([]splice{s})
	case list.Shape != Sequence || len(list.Items) == 0:
		if list.Shape == Map || list.Shape == Scalar && !list.Null {
			return nil, fmt.Errorf("%s is no list", Quote(key))
		}
		set, err := d.put(d.Root, list, "["+inBraces(item)+"]")
		if err != nil {
			return nil, err
		}
		return d.apply([]splice{set})
	}
	_, end, err := d.span(list.Items[len(list.Items)-1])
	if err != nil {
		return nil, err
	}
	if d.flow(list) {
		return d.apply([]splice{{end, end, ", " + inBraces(item)}})
	}
	for end < len(d.Bytes) && d.Bytes[end] != '\n' && d.Bytes[end] != '\r' {
		end++
	}
	return d.apply([]splice{{end, end, d.inLines(item, strings.Repeat(" ", list.Column-1))}})
}

// inLines is an item of a list on lines of its own, each after a line break.
func (d *Document) inLines(item []Pair, indent string) string {
	ending := "\n"
	if bytes.Contains(d.Bytes, []byte("\r\n")) {
		ending = "\r\n"
	}
	var b strings.Builder
	for i, p := range item {
		mark := "  "
		if i == 0 {
			mark = "- "
		}
		b.WriteString(ending + indent + mark + p.Key + ": " + p.Text)
	}
	return b.String()
}

func inBraces(item []Pair) string {
	var all []string
	for _, p := range item {
		all = append(all, p.Key+": "+p.Text)
	}
	return "{" + strings.Join(all, ", ") + "}"
}

// plainText is text that needs no quotes wherever it stands, unless it is a word that YAML takes for something else.
var plainText = Pattern(`^[A-Za-z][A-Za-z0-9_.-]*( [A-Za-z0-9_.-]+)*$`)

var yamlWords = []string{"true", "false", "yes", "no", "on", "off", "y", "n", "null"}

// Written writes text as a YAML scalar on one line, in quotes where it needs them.
func Written(s string) string {
	if plainText().MatchString(s) && !slices.Contains(yamlWords, strings.ToLower(s)) {
		return s
	}
	return inQuotes(s)
}

// inQuotes writes text as a YAML scalar in double quotes.
func inQuotes(s string) string {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	if err := e.Encode(s); err != nil {
		return `""` // never: text is UTF-8, or made so
	}
	return escaped(strings.TrimSuffix(b.String(), "\n"))
}

// escaped writes what cannot be seen, or may not stand in a file, by its number.
func escaped(s string) string {
	var b strings.Builder
	for _, r := range s {
		switch {
		case r == ' ' || strconv.IsPrint(r):
			b.WriteRune(r)
		case r > 0xffff:
			fmt.Fprintf(&b, `\U%08x`, r)
		default:
			fmt.Fprintf(&b, `\u%04x`, r)
		}
	}
	return b.String()
}
