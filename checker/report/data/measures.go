package data

import (
	"bytes"
	"encoding/json"
	"io"

	"corerod/parts/subject"
	"corerod/rules"
)

// Measures writes every subject and measure of a part, by the names that rules use; absent measures are left out. What was
// in force for it stands at the end.
func Measures(w io.Writer, p *subject.Part, packs []*rules.Pack, shop *rules.Shop) error {
	j := jsonWriter{w: w}
	j.open('{')
	one := func(s subject.Subject) {
		var b bytes.Buffer
		if err := subjectJSON(&b, s); err != nil && j.err == nil {
			j.err = err
		}
		j.line(b.Bytes())
	}
	j.key("part")
	one(p)
	for _, k := range subject.Kinds()[1:] {
		j.key(k.List)
		j.open('[')
		for _, s := range subject.Of(p, k) {
			one(s)
		}
		j.close()
	}
	force, err := json.Marshal(forceJSON(packs, shop))
	if err != nil {
		return err
	}
	j.key("in_force")
	j.line(force)
	j.close()
	return j.err
}

// subjectJSON writes one subject's measures in the order of their declaration.
func subjectJSON(b *bytes.Buffer, s subject.Subject) error {
	b.WriteByte('{')
	write := func(key string, v any) error {
		text, err := json.Marshal(v)
		if err != nil {
			return err
		}
		if b.Bytes()[b.Len()-1] != '{' {
			b.WriteString(", ")
		}
		b.WriteString("\"" + key + "\": " + visible(string(text)))
		return nil
	}
	for i := range s.Kind().Fields {
		f := &s.Kind().Fields[i]
		var v any
		switch f.Type {
		case subject.Number:
			n, known := f.Number(s)
			if !known {
				continue
			}
			v = number(n)
		case subject.Text:
			v = f.Text(s)
		case subject.Boolean:
			v = f.Boolean(s)
		case subject.Texts:
			v = append([]string{}, f.Texts(s)...)
		default:
			continue
		}
		if err := write(f.Name, v); err != nil {
			return err
		}
	}
	if ps := s.Place().Places; len(ps) > 0 {
		var all []jsonPlace
		for _, p := range ps {
			all = append(all, placeJSON(p))
		}
		if err := write("places", all); err != nil {
			return err
		}
	}
	b.WriteByte('}')
	return nil
}
