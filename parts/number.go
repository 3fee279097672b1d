package parts

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"corerod/parts/fit"
	"corerod/parts/source"
)

// Number is a number of a part file that a change may move unless it is held: a dimension, a position, an angle or a
// tolerance.
type Number struct {
	Path    string
	Line    int    // of the number, or of the feature that it would be added to
	Feature string // that it belongs to; "" for none
	From    string // as the file has it; "" where it is not there and 0 is meant
	Value   float64
	Unit    string  // mm, in or deg; "" for a tolerance grade
	Step    float64 // to the next number of the kind that drawings have, in the file's units or degrees
	Least   float64 // bounds, as the file format sets them
	Most    float64
	Along   []Along // what moves with it
	Held    bool    // no change may touch it

	write string // the value's text, with %s for the number
}

// Along is a number that moves with another, by as much or, with Back, the other way.
type Along struct {
	Path  string
	Line  int
	From  string
	Value float64
	Back  bool
}

// Steps of numbers on drawings: lengths and tolerances by unit of the file, and angles in degrees. Common practice, no source.
var (
	lengthStep    = map[string]float64{"mm": 0.05, "in": 0.002}
	toleranceStep = map[string]float64{"mm": 0.01, "in": 0.0005}
)

const angleStep = 0.5

// what the last key of a path says of its number; other numbers are lengths.
var (
	angleKeys     = []string{"turn", "toward", "over", "slope", "angle", "helix"}
	toleranceKeys = []string{"plus_minus", "flatness", "runout", "coaxiality", "limits"}
	fixedKeys     = []string{"format", "count", "teeth", "pressure_angle", "shift", "addendum", "dedendum", "density", "quantity"}
)

// Move returns the n-th number of the kind that drawings have, counted from this one, upward or, below 0, downward, and
// false where the file format does not allow it.
func (n *Number) Move(k int) (float64, bool) {
	v := n.Value
	switch {
	case k > 0:
		v = (math.Floor(n.Value/n.Step+onStep) + float64(k)) * n.Step
	case k < 0:
		v = (math.Ceil(n.Value/n.Step-onStep) + float64(k)) * n.Step
	}
	v = round(v)
	return v, v >= n.Least-atBound && v <= n.Most+atBound
}

// Edits give the number and what moves with it other values.
func (n *Number) Edits(to float64) []source.Edit {
	all := []source.Edit{{Path: n.Path, Text: strings.Replace(n.write, "%s", decimal(to), 1)}}
	for _, a := range n.Along {
		by := to - n.Value
		if a.Back {
			by = -by
		}
		all = append(all, source.Edit{Path: a.Path, Text: decimal(a.Value + by)})
	}
	return all
}

// At is the number with another value, and what moves with it as far along.
func (n *Number) At(to float64) Number {
	m := *n
	m.Along = slices.Clone(n.Along)
	for i := range m.Along {
		if m.Along[i].Back {
			m.Along[i].Value -= to - n.Value
		} else {
			m.Along[i].Value += to - n.Value
		}
	}
	m.Value = to
	return m
}

// round takes off what binary fractions leave behind the ninth digit.
func round(v float64) float64 { return math.Round(v*1e9)/1e9 + 0 }

// decimal writes a number as a drawing has it.
func decimal(v float64) string { return strconv.FormatFloat(round(v), 'f', -1, 64) }

// Numbers lists the numbers of a part file in the order of its sections. Left out are counts and factors, density and
// quantity, and features that are made by machining or sizing.
func Numbers(root *source.Node) []Number {
	l := &numberList{reader: reader{nodes: map[string]*source.Node{}}, root: root, unit: "mm", held: map[*source.Node]bool{}}
	if u := root.At("units"); u != nil && u.Value == "in" {
		l.unit = "in"
	}
	for _, section := range namedSections {
		if n := root.At(section); n != nil && n.Shape == source.Map && section != "dimensions" {
			for i, k := range n.Keys {
				l.nodes[k.Value] = n.Items[i]
			}
		}
	}
	l.hold()
	l.limits()
	l.walk(forms().part, root, "", "")
	return l.tied()
}

type numberList struct {
	reader
	root   *source.Node
	unit   string
	held   map[*source.Node]bool    // no change may touch them
	follow map[*source.Node][]Along // limits of a size, by the numbers that it is of
	all    []Number
	ties   [][]string // paths of coordinates that lie on one line along an axis
}

// hold marks the numbers that the file holds.
func (l *numberList) hold() {
	n := l.root.At("hold")
	if n == nil {
		return
	}
	for _, it := range n.Items {
		t, wrong := l.find(l.root, it.Value)
		if wrong != "" {
			continue
		}
		for _, v := range t.numbers {
			l.held[v] = true
		}
	}
}

// limits finds the limits of sizes, which move with the number that they are of.
func (l *numberList) limits() {
	l.follow = map[*source.Node][]Along{}
	n := l.root.At("dimensions")
	if n == nil || n.Shape != source.Map {
		return
	}
	for i, k := range n.Keys {
		of, items := n.Items[i].At("of"), n.Items[i].At("limits")
		if of == nil || items == nil || len(items.Items) != 2 {
			continue
		}
		t, wrong := l.find(l.root, of.Value)
		if wrong != "" {
			continue
		}
		for j, number := range t.numbers {
			for side, v := range items.Items {
				value, _ := (&source.Reader{}).Number(v, "")
				l.follow[number] = append(l.follow[number], Along{
					Path: "dimensions." + k.Value + ".limits[" + strconv.Itoa(side) + "]", Line: v.Line, From: v.Value, Value: value, Back: t.height && j == 0})
				l.held[number] = l.held[number] || l.held[v]
			}
		}
	}
}

// walk lists the numbers of a value by its form.
func (l *numberList) walk(f *source.Form, n *source.Node, path, key string) {
	if n == nil || f == nil {
		return
	}
	switch f.Type {
	case source.FormMap, source.FormNamed:
		l.walkMap(f, n, path)
	case source.FormList:
		for i, it := range n.Items {
			l.walk(f.Each, it, path+"["+strconv.Itoa(i)+"]", key)
		}
	case source.FormEither:
		l.walk(choose(f, n), n, path, key)
	case source.FormNumber:
		l.number(f, n, path, key)
	default:
		if key == "class" {
			l.class(n, path)
		}
	}
}

func (l *numberList) walkMap(f *source.Form, n *source.Node, path string) {
	if n.Shape != source.Map || madeLater(n) {
		return
	}
	l.tie(n, path)
	for i, k := range n.Keys {
		below := k.Value
		if path != "" {
			below = path + "." + k.Value
		}
		form := f.Each
		if f.Type == source.FormMap {
			form = f.Key(k.Value)
		}
		l.walk(form, n.Items[i], below, k.Value)
	}
}

// madeLater tells whether a feature is made after pressing.
func madeLater(n *source.Node) bool {
	by := n.At("made_by")
	return by != nil && by.Value != "pressing"
}

// choose finds which of several forms a value has.
func choose(f *source.Form, n *source.Node) *source.Form {
	for _, e := range f.Either {
		switch {
		case n.Shape == source.Sequence && e.Type == source.FormList, n.Shape == source.Scalar && e.Type == source.FormNumber:
			return e
		case n.Shape == source.Map && e.Type == source.FormMap && len(n.Keys) > 0 && e.Key(n.Keys[0].Value) != nil:
			return e
		case n.Shape == source.Map && e.Type == source.FormEither:
			if in := choose(e, n); in != nil {
				return in
			}
		}
	}
	return nil
}

// number adds one number.
func (l *numberList) number(f *source.Form, n *source.Node, path, key string) {
	v, ok := (&source.Reader{}).Number(n, "")
	if !ok || slices.Contains(fixedKeys, key) {
		return
	}
	m := Number{Path: path, Line: n.Line, Feature: featureOf(path), From: n.Value, Value: v, Unit: l.unit, Step: lengthStep[l.unit], Least: f.Bounds[0], Most: f.Bounds[1], write: "%s"}
	switch {
	case slices.Contains(angleKeys, key):
		m.Step, m.Unit = angleStep, "deg"
	case slices.Contains(toleranceKeys, key):
		m.Step = toleranceStep[l.unit]
	}
	if f.Open {
		m.Least = f.Bounds[0] + LeastLength
	}
	m.Along, m.Held = l.follow[n], l.held[n]
	l.all = append(l.all, m)
}

// class adds the tolerance grade of a class such as H7, which moves by whole grades.
func (l *numberList) class(n *source.Node, path string) {
	letter, grade, ok := fit.Split(n.Value)
	if !ok {
		return
	}
	l.all = append(l.all, Number{Path: path, Line: n.Line, From: n.Value, Value: float64(grade), Step: 1, Least: fit.LeastGrade, Most: fit.MostGrade, Held: l.held[n], write: letter + "%s"})
}

// featureOf is the name of the feature that a path leads into.
func featureOf(path string) string {
	if keys := strings.SplitN(path, ".", 3); len(keys) == 3 && keys[0] != "dimensions" {
		return keys[1]
	}
	return ""
}
