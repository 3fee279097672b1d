package form

import "corerod/parts/source"

// File is the form of a part file as source declares forms, its lengths bounded as in a file in mm.
func File() *source.Form { return forms().plain(map[string]*source.Form{}) }

// Schema is the JSON Schema of a part file (draft 2020-12). A file in inches has bounds of its own beside those in mm, which are
// wider.
func Schema(title string) map[string]any {
	s := File().Schema(title)
	defs := s["$defs"].(map[string]any)
	s["if"] = map[string]any{"properties": map[string]any{"units": map[string]any{"const": "in"}}, "required": []string{"units"}}
	s["then"] = forms().inches(defs)
	return s
}

// inches is a schema of the bounds that lengths have in inches, and of nothing else; nil where there are none. Shared forms go into
// defs once, under their name with `_in`.
func (f *Form) inches(defs map[string]any) map[string]any {
	if f.Shared == "" {
		return f.inchesOf(defs)
	}
	name := f.Shared + "_in"
	if _, made := defs[name]; !made {
		defs[name] = f.inchesOf(defs)
	}
	if defs[name].(map[string]any) == nil {
		delete(defs, name)
		return nil
	}
	return map[string]any{"$ref": "#/$defs/" + name}
}

func (f *Form) inchesOf(defs map[string]any) map[string]any {
	s := map[string]any{}
	put := func(key string, in map[string]any) {
		if in != nil {
			s[key] = in
		}
	}
	switch f.Type {
	case source.FormNumber:
		if f.Quantity != Length && f.Quantity != Tolerance {
			return nil
		}
		if s["maximum"] = f.Bounds[1] / inch; f.Bounds[0] < 0 {
			s["minimum"] = f.Bounds[0] / inch
		}
	case source.FormList:
		put("items", f.item(0).inches(defs))
	case source.FormNamed:
		put("additionalProperties", f.Each().inches(defs))
	case source.FormEither: // each of them bounds only values of its own kind
		var all []any
		for _, e := range f.Either {
			if in := e.inches(defs); in != nil {
				all = append(all, in)
			}
		}
		if all != nil {
			s["allOf"] = all
		}
	case source.FormMap:
		props := map[string]any{}
		for _, k := range f.Keys {
			if in := k.Form().inches(defs); in != nil {
				props[k.Name] = in
			}
		}
		if len(props) > 0 {
			s["properties"] = props
		}
	}
	if len(s) == 0 {
		return nil
	}
	return s
}

// plain is a form as source declares it; shared ones are made once.
func (f *Form) plain(shared map[string]*source.Form) *source.Form {
	if s, ok := shared[f.Shared]; ok {
		return s
	}
	s := &source.Form{Doc: f.Doc, Type: f.Type, Words: f.Words, Pattern: f.Pattern, Items: f.Items, Pairs: f.Pairs, Shared: f.Shared}
	if f.Shared != "" {
		shared[f.Shared] = s
	}
	for _, k := range f.Keys {
		s.Keys = append(s.Keys, source.Key{Name: k.Name, Form: k.Form().plain(shared), Required: k.Required})
	}
	for _, g := range f.Sole {
		s.Sole = append(s.Sole, g.Keys)
	}
	for _, e := range f.Either {
		s.Either = append(s.Either, e.plain(shared))
	}
	switch {
	case f.Each != nil:
		s.Each = f.Each().plain(shared)
	case f.Tuple != nil:
		s.Each, s.Items = f.Tuple[0].plain(shared), [2]int{len(f.Tuple), len(f.Tuple)}
	}
	if f.Type == source.FormNamed {
		s.Names = namePattern
	}
	if f.Type == source.FormNumber {
		s.Bounded, s.Bounds, s.Open, s.Whole = true, f.Bounds, f.Open, f.Quantity == Count && f.refusal == ""
	}
	return s
}
