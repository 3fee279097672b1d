package source

import "regexp"

// Form declares what a value of a file may be. A reader takes the keys that a map may have from it, and schemas for
// editors are made of it; what depends on more than one value is the reader's business alone.
type Form struct {
	Doc     string // what it is, in one sentence
	Type    FormType
	Keys    []Key       // of a FormMap, in the order in which they are shown
	Sole    [][]string  // of a FormMap: of each group exactly one key
	Pairs   [][2]string // of a FormMap: the first key needs the second
	Each    *Form       // of a FormNamed or a FormList: what each is
	Names   string      // of a FormNamed: the pattern of names
	Words   []string    // of a FormWord
	Pattern string      // of a FormText, "" for any
	Items   [2]int      // of a FormList or FormNamed: the least and the greatest number, 0 for any
	Bounds  [2]float64  // of a FormNumber with Bounded
	Bounded bool
	Open    bool    // Bounds leave the lower end out
	Whole   bool    // of a FormNumber
	Null    bool    // it may be left empty
	Either  []*Form // of a FormEither
	Shared  string  // name under which a schema gives it once, "" where it stands
}

// FormType is what kind of value a Form declares.
type FormType int

// The types of values.
const (
	FormText    FormType = iota // any scalar, as written
	FormNumber                  //
	FormBoolean                 //
	FormWord                    // one of some words
	FormList                    // a sequence
	FormMap                     // a map with known keys
	FormNamed                   // a map of named things
	FormEither                  // one of several forms
	FormAny                     // any value
)

// Key is one key of a map.
type Key struct {
	Name     string
	Form     *Form
	Required bool
}

// Known are the names of a map's keys, for Reader.Map.
func (f *Form) Known() []string {
	names := make([]string, len(f.Keys))
	for i, k := range f.Keys {
		names[i] = k.Name
	}
	return names
}

// Key finds the form of a key, or nil.
func (f *Form) Key(name string) *Form {
	for _, k := range f.Keys {
		if k.Name == name {
			return k.Form
		}
	}
	return nil
}

// Schema is the form as JSON Schema (draft 2020-12), with the shared forms that it uses under $defs.
func (f *Form) Schema(title string) map[string]any {
	defs := map[string]any{}
	s := f.schema(defs)
	s["$schema"] = "https://json-schema.org/draft/2020-12/schema"
	s["title"] = title
	if len(defs) > 0 {
		s["$defs"] = defs
	}
	return s
}

// schema is the form where it stands; shared ones are put into defs once.
func (f *Form) schema(defs map[string]any) map[string]any {
	if f.Shared == "" {
		return f.plain(defs)
	}
	if _, ok := defs[f.Shared]; !ok {
		defs[f.Shared] = nil // under way
		defs[f.Shared] = f.plain(defs)
	}
	return map[string]any{"$ref": "#/$defs/" + f.Shared}
}

func (f *Form) plain(defs map[string]any) map[string]any {
	s := map[string]any{}
	if f.Doc != "" {
		s["description"] = f.Doc
	}
	switch f.Type {
	case FormText:
		s["type"] = []string{"string", "number", "boolean"}
		if f.Pattern != "" {
			s["type"], s["pattern"] = []string{"string", "boolean"}, f.Pattern // true is a name too, as YAML is read here
			if regexp.MustCompile(f.Pattern).MatchString("0") {
				s["type"], s["minimum"] = []string{"string", "number", "boolean"}, 0
			}
		}
	case FormNumber:
		f.number(s)
	case FormBoolean:
		s["type"] = "boolean"
	case FormWord:
		s["enum"] = f.Words
	case FormList:
		s["type"], s["items"] = "array", f.Each.schema(defs)
		if f.Items[0] > 0 {
			s["minItems"] = f.Items[0]
		}
		if f.Items[1] > 0 {
			s["maxItems"] = f.Items[1]
		}
	case FormMap:
		f.keys(s, defs)
	case FormNamed:
		s["type"], s["additionalProperties"] = "object", f.Each.schema(defs)
		s["propertyNames"] = map[string]any{"pattern": f.Names}
		if f.Items[0] > 0 {
			s["minProperties"] = f.Items[0]
		}
	case FormEither:
		var all []any
		for _, e := range f.Either {
			all = append(all, e.schema(defs))
		}
		s["anyOf"] = all
	}
	if f.Null {
		if t, ok := s["type"].(string); ok {
			s["type"] = []string{t, "null"}
		}
	}
	return s
}

func (f *Form) number(s map[string]any) {
	s["type"] = "number"
	if f.Whole {
		s["type"] = "integer"
	}
	if !f.Bounded {
		return
	}
	low := "minimum"
	if f.Open {
		low = "exclusiveMinimum"
	}
	s[low], s["maximum"] = f.Bounds[0], f.Bounds[1]
}

func (f *Form) keys(s, defs map[string]any) {
	props, required := map[string]any{}, []string{}
	for _, k := range f.Keys {
		props[k.Name] = k.Form.schema(defs)
		if k.Required {
			required = append(required, k.Name)
		}
	}
	s["type"], s["properties"], s["additionalProperties"] = "object", props, false
	if len(required) > 0 {
		s["required"] = required
	}
	var all []any
	for _, group := range f.Sole {
		var one []any
		for _, k := range group {
			one = append(one, map[string]any{"required": []string{k}})
		}
		all = append(all, map[string]any{"oneOf": one})
	}
	if len(all) > 0 {
		s["allOf"] = all
	}
	if len(f.Pairs) > 0 {
		needs := map[string][]string{}
		for _, p := range f.Pairs {
			needs[p[0]] = append(needs[p[0]], p[1])
		}
		s["dependentRequired"] = needs
	}
}
