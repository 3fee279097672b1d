package subject

import "slices"

// Type is the type of a measure.
type Type int

const (
	Number  Type = iota // a float64 with a unit
	Text                // one word, or free text
	Boolean             //
	Texts               // a list of text
	List                // a list of subjects of the part
	Alike               // the subjects that one stands for, each at its own place: CopiesOf
)

// Units of measures. Ratio and Count are numbers without a dimension.
const (
	MM      = "mm"
	MM2     = "mm2"
	MM3     = "mm3"
	Deg     = "deg"
	Gram    = "g"
	Density = "g/cm3"
	MPa     = "MPa"
	KN      = "kN"
	Ratio   = "ratio"
	Count   = "count"
)

// Field declares one measure: its name in rules and JSON, its unit, and how it is found.
type Field struct {
	Name     string
	Doc      string // what it is and how it is found, one sentence
	Type     Type
	Unit     string   // of a Number
	Words    []string // all values a Text can have; nil for free text
	Of       *Kind    // of a List
	Optional bool     // may be absent: rules read it only under has()
	Positive bool     // above zero, or zero where something comes to nothing: rules may divide by it
	Placing  bool     // it says where a subject lies or how often, not what it is: subjects alike may differ in it
	Label    bool     // it names or counts, and says nothing of the shape: revisions are not compared by it

	// Exactly one of these is set, by Type. They take a subject of the kind that declares the field.
	number  func(Subject) Optional
	text    func(Subject) string
	boolean func(Subject) bool
	texts   func(Subject) []string
	list    func(Subject) []Subject
}

// Number returns the value of a Number field, snapped, and whether the subject has it.
func (f *Field) Number(s Subject) (float64, bool) {
	v := f.number(s)
	return Snap(v.Value), v.Known
}

// Text returns the value of a Text field.
func (f *Field) Text(s Subject) string { return f.text(s) }

// Boolean returns the value of a Boolean field.
func (f *Field) Boolean(s Subject) bool { return f.boolean(s) }

// Texts returns the value of a Texts field.
func (f *Field) Texts(s Subject) []string { return f.texts(s) }

// List returns the subjects of a List field.
func (f *Field) List(s Subject) []Subject { return f.list(s) }

// Kind declares one kind of subject.
type Kind struct {
	Name   string // as in `over:` and as the variable in expressions
	List   string // the list on part, in expressions and in JSON
	Doc    string
	Fields []Field

	Outline string // what it covers in plan, from which distances are measured: its subjects' Footprints; "" for none
}

// Field finds a field by name, or nil.
func (k *Kind) Field(name string) *Field {
	for i := range k.Fields {
		if k.Fields[i].Name == name {
			return &k.Fields[i]
		}
	}
	return nil
}

func number[S Subject](name, unit, doc string, get func(S) float64) Field {
	return Field{Name: name, Doc: doc, Unit: unit, number: func(s Subject) Optional { return Some(get(s.(S))) }}
}

// size is a number that is above zero, or zero where something comes to nothing.
func size[S Subject](name, unit, doc string, get func(S) float64) Field {
	f := number(name, unit, doc, get)
	f.Positive = true
	return f
}

func optional[S Subject](name, unit, doc string, get func(S) Optional) Field {
	return Field{Name: name, Doc: doc, Unit: unit, Optional: true, number: func(s Subject) Optional { return get(s.(S)) }}
}

// optionalSize is a number that is above zero where it is not absent.
func optionalSize[S Subject](name, unit, doc string, get func(S) Optional) Field {
	f := optional(name, unit, doc, get)
	f.Positive = true
	return f
}

func text[S Subject](name, doc string, get func(S) string, words ...string) Field {
	return Field{Name: name, Doc: doc, Type: Text, Words: words, text: func(s Subject) string { return get(s.(S)) }}
}

func boolean[S Subject](name, doc string, get func(S) bool) Field {
	return Field{Name: name, Doc: doc, Type: Boolean, boolean: func(s Subject) bool { return get(s.(S)) }}
}

func texts[S Subject](name, doc string, get func(S) []string) Field {
	return Field{Name: name, Doc: doc, Type: Texts, texts: func(s Subject) []string { return get(s.(S)) }}
}

func list[T Subject](of *Kind, get func(*Part) []T) Field {
	return Field{Name: of.List, Doc: of.Doc, Type: List, Of: of, list: func(s Subject) []Subject {
		from := get(s.(*Part))
		to := make([]Subject, len(from))
		for i, x := range from {
			to[i] = x
		}
		return to
	}}
}

// label is a text that says nothing of the shape.
func label[S Subject](name, doc string, get func(S) string) Field {
	f := text(name, doc, get)
	f.Label = true
	return f
}

// common returns a kind's fields: those every subject has, then its own. A kind with a count of its own keeps that one.
func common(own ...Field) []Field {
	all := whole()
	for i := range all {
		all[i].Placing = all[i].Type == Number
	}
	alike := Field{Name: "places", Type: Alike, Placing: true, Doc: "All that are alike, as from `repeat`, each at its own place with " +
		"its own x and y. In JSON their places, where there are several."}
	if !slices.ContainsFunc(own, func(f Field) bool { return f.Name == "count" }) {
		count := size("count", Count, "Number of its `places`; 1 for a single one.", func(s Subject) float64 { return float64(CountOf(s)) })
		count.Placing, count.Label = true, true
		all = append(all, count)
	}
	return slices.Concat(all, []Field{alike}, own)
}

// whole returns the fields of the part, of which there is one: its name, features and range, then its own.
func whole(own ...Field) []Field {
	at := func(get func(*Common) float64) func(Subject) float64 {
		return func(s Subject) float64 { return get(s.Place()) }
	}
	all := []Field{
		label("name", "Readable name: the features that make it, and an ordinal where several are alike.",
			func(s Subject) string { return s.Place().Name }),
		texts("features", "Names of the features in the part file that make it; none for the whole part.",
			func(s Subject) []string { return s.Place().Features }),
		number("x", MM, "Where it lies in plan, x.", at(func(c *Common) float64 { return c.X })),
		number("y", MM, "Where it lies in plan, y.", at(func(c *Common) float64 { return c.Y })),
		number("z_low", MM, "Lower end of its range along the pressing axis.", at(func(c *Common) float64 { return c.ZLow })),
		number("z_high", MM, "Upper end of its range along the pressing axis.", at(func(c *Common) float64 { return c.ZHigh })),
	}
	return append(all, own...)
}
