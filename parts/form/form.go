// Package form declares the keys of the part file, each once: what its value may be, what kind of number it is and within which
// bounds, what holds where it is not written, how it lies in the part, and the Go field that takes it.
//
// Everything that knows keys is a walk of that declaration: Parse reads a file into a part and reports all that is wrong with
// it, Schema writes it for editors, Numbers lists what a change may move, Find follows the name of a number, Values and Drawn
// say what a file draws, TurnOver turns a part over. A profile is one row of the table in profiles.go, with what draws it.
//
// A declaration is bound to the value that it fills: circle(&c) is the form of the circle c. Where nothing is read, the forms are
// bound to values that nobody looks at.
package form

import (
	"slices"

	"corerod/parts"
	"corerod/parts/source"
)

// Bounds of a part, beyond those of any file.
const (
	MostLength   = 1e6    // mm, of any number
	LeastLength  = 1e-6   // mm, of any number but 0
	MostVertices = 10_000 // of all profiles after repeats
	SlopeWeight  = 8      // so many upright profiles a sloped one counts as
	leastSpread  = 1e-3   // degrees, over which copies are spread
)

// inch in mm.
const inch = 25.4

// Names and paths of a part file as patterns.
const (
	partPattern = "^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"
	namePattern = "^[a-z][a-z0-9-]{0,63}$"
	drawPattern = `^[a-z][a-z0-9-]{0,63}(\.island)?$`
	facePattern = `^[a-z][a-z0-9-]{0,63}(\.island)?\.(top|bottom)$`
)

// Form declares what a value of a part file may be and what it means.
type Form struct {
	Doc      string // what it is, in one sentence
	Type     source.FormType
	Quantity Quantity   // of a number
	Bounds   [2]float64 // of a number; of a length in mm
	Open     bool       // the lower bound itself is left out
	Default  string     // what holds where the file does not give it, as a file would write it; "" for nothing
	Lies     Lies       // how it lies in the part
	Swaps    bool       // of a map: its keys top and bottom change places when the part is turned over
	Refers   Refers     // what a text is the name of
	Words    []string
	Pattern  string       // of a text; "" for any
	Keys     []Key        // of a map, in the order in which they are read
	Sole     []Group      // of a map: of each group exactly one key
	Pairs    [][2]string  // of a map: the first key needs the second
	Each     func() *Form // of a list or of named entries: a further one
	Tuple    []*Form      // of a list of a fixed length: its items
	Items    [2]int       // of a list or of named entries: the least and the greatest number, 0 for any
	Either   []*Form
	Shared   string // name under which a schema gives it once, "" where it stands

	Fixed   bool // no change may move it
	Adds    bool // a change may add it: it is 0 so far
	Later   bool // it says how a thing is made, or what a mark reads: it is no part of its shape
	Counts  bool // a digest of version shape1 includes it even when the file writes the default
	Outline bool // of a map or a point: an outline through points, one of its points
	Any     bool // of a list: its order says nothing
	Order   Order

	called    string                                       // in messages, where that is not its key; of entries the word before their name
	needs     string                                       // of a list or entries, in messages: what it needs
	refusal   string                                       // the message for a number past its bounds or a choice that is refused
	elsewhere map[string]string                            // keys of a map that belong elsewhere, with the answer
	apart     bool                                         // of entries: their names stand by themselves
	to        any                                          // takes the value: a pointer to it or a func of it
	place     *parts.Place                                 // takes where the value stands
	begin     func(name string, at parts.Place)            // of an entry, before it is read
	check     func(r *reader, n *source.Node, what string) // what values must be together, once all are read
	done      func(r *reader, n *source.Node, sound bool)  // at the end, sound where no fault was found in it
}

// Key is one key of a map.
type Key struct {
	Name     string
	Required bool
	form     func() *Form
}

// Form is what stands under the key.
func (k *Key) Form() *Form { return k.form() }

// Group is keys of which a map has exactly one. A group without a Kind is checked by the map itself.
type Group struct {
	Kind string // in messages: profile
	Keys []string
}

// Quantity is the kind of a number.
type Quantity int

// Quantities.
const (
	Length    Quantity = iota // in the file's unit
	Tolerance                 // in the file's unit, and finer
	Angle                     // degrees
	Count                     // a whole number
	Factor                    // of the module
	Density                   // g/cm3
	Amount                    // parts
	Grade                     // of a tolerance class: the digits of a text
)

// Lies is how a value lies in the part: what it is along, and so what becomes of it when the part is turned over about x.
type Lies int

// How values lie.
const (
	Across Lies = iota // in plan, or nowhere: it stays
	AlongZ             // an extent along the pressing axis: it stays
	X                  // a coordinate across: it stays
	Y                  // a coordinate that turns to the other side
	Z                  // a height
	Low                // the height of a lower end, beside a High
	High               // the height of an upper end, beside a Low
	Turn               // an angle in plan, counter-clockwise
	Spread             // an angle over which copies are spread, from the first counter-clockwise
	Ends               // a word for an end face: top or bottom
	Way                // a word for a way along the axis: up or down
	Sense              // a word for a way round: cw or ccw
	Foot               // the height of a lower end without an upper end: the file cannot describe it turned over
)

// Axial tells whether a number lies along the pressing axis.
func (l Lies) Axial() bool { return l == AlongZ || l == Z || l == Low || l == High || l == Foot }

// Order is what becomes of the order of a list when the part is turned over.
type Order int

// Orders.
const (
	asWritten        Order = iota
	backward               // the last comes first
	backwardButFirst       // the same, but that the first stays
)

// Refers is what a text is the name of.
type Refers int

// What texts name.
const (
	Nothing   Refers = iota
	ToFeature        // a body or cut
	ToFace           // an end face of one: NAME.top or NAME.bottom
	ToNumber         // a number of the file, or what a tolerance of form is of
)

func text(to *string, doc string) *Form { return &Form{Doc: doc, to: to} }

func yes(to any, doc string) *Form { return &Form{Doc: doc, Type: source.FormBoolean, to: to} }

func word(to any, doc string, words ...string) *Form {
	return &Form{Doc: doc, Type: source.FormWord, Words: words, to: to}
}

// feature is the name of a body or cut.
func feature(to *string, doc string) *Form {
	return &Form{Doc: doc, Pattern: drawPattern, Refers: ToFeature, to: to}
}

// face is an end face of a feature.
func face(to *parts.Face, doc string) *Form {
	return &Form{Doc: doc, Pattern: facePattern, Refers: ToFace, to: to}
}

func number(to any, q Quantity, least, most float64, doc string) *Form {
	return &Form{Doc: doc, Type: source.FormNumber, Quantity: q, Bounds: [2]float64{least, most}, to: to}
}

// length is a length or coordinate; size is one above 0, room one of 0 or more.
func length(to any, doc string) *Form { return number(to, Length, -MostLength, MostLength, doc) }
func room(to any, doc string) *Form   { return number(to, Length, 0, MostLength, doc) }
func size(to any, doc string) *Form   { return number(to, Length, 0, MostLength, doc).open() }

// tolerance is a width of tolerance.
func tolerance(to any, doc string) *Form { return number(to, Tolerance, 0, MostLength, doc).open() }

func angle(to any, least, most float64, doc string) *Form {
	return number(to, Angle, least, most, doc)
}

func count(to any, least float64, doc string) *Form {
	f := number(to, Count, least, MostVertices, doc)
	f.Fixed = true
	return f
}

func factor(to any, least, most float64, doc string) *Form {
	f := number(to, Factor, least, most, doc)
	f.Fixed = true
	return f
}

// above0 is a number above 0 that is no length.
func above0(to any, q Quantity, most float64, doc string) *Form {
	f := number(to, q, 0, most, doc).open()
	f.Fixed = true
	return f
}

// point is two coordinates in plan.
func point(to *parts.Point, doc string) *Form {
	return tuple(doc, "two numbers, [x, y]", length(&to.X, "").lies(X), length(&to.Y, "").lies(Y))
}

// sectionPoint is a point of a half section, [radius, z].
func sectionPoint(to *parts.Point, doc string) *Form {
	return tuple(doc, "two numbers, [radius, z]", length(&to.X, ""), length(&to.Y, "").lies(Z))
}

// tuple is a list of a fixed length; needs says in messages what it needs.
func tuple(doc, needs string, items ...*Form) *Form {
	return &Form{Doc: doc, Type: source.FormList, Tuple: items, needs: needs}
}

func list(doc, needs string, least, most int, each func() *Form) *Form {
	return &Form{Doc: doc, Type: source.FormList, Items: [2]int{least, most}, Each: each, needs: needs}
}

func either(doc string, forms ...*Form) *Form {
	return &Form{Doc: doc, Type: source.FormEither, Either: forms}
}

func keys(doc string, all ...Key) *Form { return &Form{Doc: doc, Type: source.FormMap, Keys: all} }

func named(doc string, each func() *Form) *Form {
	return &Form{Doc: doc, Type: source.FormNamed, Each: each}
}

func may(name string, f *Form) Key { return Key{Name: name, form: func() *Form { return f }} }
func must(name string, f *Form) Key {
	return Key{Name: name, Required: true, form: func() *Form { return f }}
}

// maybe is a key whose form is made when it is needed.
func maybe(name string, f func() *Form) Key { return Key{Name: name, form: f} }

func (f *Form) open() *Form                  { f.Open = true; return f }
func (f *Form) upTo(most float64) *Form      { f.Bounds[1] = most; return f }
func (f *Form) fixed() *Form                 { f.Fixed = true; return f }
func (f *Form) adds() *Form                  { f.Adds = true; return f }
func (f *Form) counts() *Form                { f.Counts = true; return f }
func (f *Form) later() *Form                 { f.Later = true; return f }
func (f *Form) anyOrder() *Form              { f.Any = true; return f }
func (f *Form) outline() *Form               { f.Outline = true; return f }
func (f *Form) inOrder(o Order) *Form        { f.Order = o; return f }
func (f *Form) lies(l Lies) *Form            { f.Lies = l; return f }
func (f *Form) refers(r Refers) *Form        { f.Refers = r; return f }
func (f *Form) usually(text string) *Form    { f.Default = text; return f }
func (f *Form) shared(name string) *Form     { f.Shared = name; return f }
func (f *Form) calls(name string) *Form      { f.called = name; return f }
func (f *Form) stands(at *parts.Place) *Form { f.place = at; return f }

// checked adds what values must be together.
func (f *Form) checked(check func(r *reader, n *source.Node, what string)) *Form {
	f.check = check
	return f
}

// Key finds the form of a key of a map, or of an entry; nil where none is declared.
func (f *Form) Key(name string) *Form {
	switch {
	case f == nil:
	case f.Type == source.FormNamed:
		return f.Each()
	case f.Type == source.FormMap:
		for i := range f.Keys {
			if f.Keys[i].Name == name {
				return f.Keys[i].Form()
			}
		}
	}
	return nil
}

// item is the form of an item of a list; nil where none is declared.
func (f *Form) item(i int) *Form {
	switch {
	case f == nil || f.Type != source.FormList:
	case f.Each != nil:
		return f.Each()
	case i < len(f.Tuple):
		return f.Tuple[i]
	}
	return nil
}

// known are the names of a map's keys.
func (f *Form) known() []string {
	names := make([]string, len(f.Keys))
	for i, k := range f.Keys {
		names[i] = k.Name
	}
	return names
}

// among finds the group that a key belongs to, nil where it stands by itself.
func (f *Form) among(key string) *Group {
	if i := slices.IndexFunc(f.Sole, func(g Group) bool { return slices.Contains(g.Keys, key) }); i >= 0 {
		return &f.Sole[i]
	}
	return nil
}

// choose finds which of several forms a value has; the form itself where it is no choice, nil where it has none of them.
func (f *Form) choose(n *source.Node) *Form {
	if f == nil || f.Type != source.FormEither {
		return f
	}
	for _, e := range f.Either {
		switch {
		case e.Type == source.FormEither:
			if in := e.choose(n); in != nil {
				return in
			}
		case n.Shape == source.Sequence && e.Type == source.FormList, n.Shape == source.Scalar && e.Type == source.FormNumber:
			return e
		case n.Shape == source.Map && e.Type == source.FormMap && len(n.Keys) > 0 && e.Key(n.Keys[0].Value) != nil:
			return e
		}
	}
	return nil
}
