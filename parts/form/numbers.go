package form

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
	Least   float64 // bounds, as the file format sets them, in the file's units or degrees
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

// unitOf is the unit of a file's lengths.
func unitOf(root *source.Node) string {
	if u := root.At("units"); u != nil && u.Value == "in" {
		return "in"
	}
	return "mm"
}

// unit of a number in a file whose lengths are in own; "" for counts and factors.
func (f *Form) unit(own string) string {
	switch f.Quantity {
	case Length, Tolerance:
		return own
	case Angle:
		return "deg"
	case Density:
		return "g/cm3"
	}
	return ""
}

// ranging fills in the unit, step and bounds of a number.
func (n *Number) ranging(f *Form, own string) {
	n.Unit, n.Step, n.Least, n.Most = f.unit(own), angleStep, f.Bounds[0], f.Bounds[1]
	if n.Unit != own {
		return
	}
	n.Step = lengthStep[own]
	if f.Quantity == Tolerance {
		n.Step = toleranceStep[own]
	}
	if f.Open {
		n.Least += LeastLength
	}
	if own == "in" {
		n.Least, n.Most = n.Least/inch, n.Most/inch
	}
}

// Numbers lists the numbers of a part file in the order of its sections. Left out are counts and factors, density and
// quantity, and features that are made by machining or sizing.
func Numbers(root *source.Node) []Number {
	l := &numberList{root: root, unit: unitOf(root), held: map[*source.Node]bool{}, follow: map[*source.Node][]Along{}}
	l.hold()
	l.limits()
	l.walk(forms(), root, "")
	return l.tied()
}

type numberList struct {
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
		if t, wrong := numbersOf(l.root, it.Value); wrong == "" {
			for _, v := range t.numbers {
				l.held[v.node] = true
			}
		}
	}
}

// limits finds the limits of sizes, which move with the number that they are of.
func (l *numberList) limits() {
	n := l.root.At("dimensions")
	if n == nil || n.Shape != source.Map {
		return
	}
	for i, k := range n.Keys {
		of, items := n.Items[i].At("of"), n.Items[i].At("limits")
		if of == nil || items == nil || len(items.Items) != 2 {
			continue
		}
		t, wrong := numbersOf(l.root, of.Value)
		if wrong != "" {
			continue
		}
		for j, number := range t.numbers {
			for side, v := range items.Items {
				path := "dimensions." + k.Value + ".limits[" + strconv.Itoa(side) + "]"
				l.follow[number.node] = append(l.follow[number.node],
					Along{Path: path, Line: v.Line, From: v.Value, Value: value(v), Back: t.height && j == 0})
				l.held[number.node] = l.held[number.node] || l.held[v]
			}
		}
	}
}

// walk lists the numbers of a value by its form.
func (l *numberList) walk(f *Form, n *source.Node, path string) {
	if f = f.choose(n); f == nil {
		return
	}
	switch f.Type {
	case source.FormMap, source.FormNamed:
		if n.Shape != source.Map || madeLater(n) {
			return
		}
		l.tie(f, n, path)
		for i, k := range n.Keys {
			if form := f.Key(k.Value); form != nil {
				l.walk(form, n.Items[i], below(path, k.Value))
			}
		}
	case source.FormList:
		for i, it := range n.Items {
			l.walk(f.item(i), it, path+"["+strconv.Itoa(i)+"]")
		}
	case source.FormNumber:
		l.number(f, n, path)
	case source.FormText:
		if f.Quantity == Grade {
			l.class(n, path)
		}
	}
}

// madeLater tells whether a feature is made after pressing.
func madeLater(n *source.Node) bool {
	by := n.At("made_by")
	return by != nil && by.Value != "pressing"
}

// number adds one number.
func (l *numberList) number(f *Form, n *source.Node, path string) {
	v, ok := (&source.Reader{}).Number(n, "")
	if !ok || f.Fixed {
		return
	}
	m := Number{Path: path, Line: n.Line, Feature: featureOf(path), From: n.Value, Value: v, Along: l.follow[n], Held: l.held[n],
		write: "%s"}
	m.ranging(f, l.unit)
	l.all = append(l.all, m)
}

// class adds the tolerance grade of a class such as H7, which moves by whole grades.
func (l *numberList) class(n *source.Node, path string) {
	letter, grade, ok := fit.Split(n.Value)
	if !ok {
		return
	}
	l.all = append(l.all, Number{Path: path, Line: n.Line, From: n.Value, Value: float64(grade), Step: 1, Least: fit.LeastGrade,
		Most: fit.MostGrade,
		Held: l.held[n], write: letter + "%s"})
}

// featureOf is the name of the feature that a path leads into.
func featureOf(path string) string {
	if keys := strings.SplitN(path, ".", 3); len(keys) == 3 && keys[0] != "dimensions" {
		return keys[1]
	}
	return ""
}

// Absent lists numbers of a feature that the file does not give and that are 0 so far: radii, the flat of a chamfer, the
// band of a ball, a draft either way. An edit of one adds it.
func Absent(root *source.Node, feature string) (all []Number) {
	e := entry(root, feature)
	if e.node == nil || e.node.Shape != source.Map || madeLater(e.node) {
		return nil
	}
	own := unitOf(root)
	for i := range e.form.Sole {
		for _, key := range e.form.Sole[i].Keys {
			in, form := e.node.At(key), e.form.Key(key)
			if in == nil || form.Type != source.FormMap {
				continue
			}
			for _, k := range form.Keys {
				f := k.Form()
				if f.Type == source.FormEither {
					f = f.Either[0]
				}
				if f.Adds && in.At(k.Name) == nil {
					n := Number{Path: e.path + "." + key + "." + k.Name, Line: in.Line, Feature: feature, write: "%s"}
					n.ranging(f, own)
					all = append(all, n)
				}
			}
			if e.form.Key("draft") != nil && e.node.At("draft") == nil && !inSection(key) {
				for _, way := range []string{"up", "down"} {
					all = append(all, Number{Path: e.path + ".draft", Line: e.node.Line, Feature: feature, Step: angleStep,
						Most:  MostLength,
						write: "{angle: %s, narrows: " + way + "}"})
				}
			}
		}
	}
	return all
}

// inSection tells whether a key is that of a profile that is drawn in section.
func inSection(key string) bool {
	return slices.ContainsFunc(profiles(), func(p *profile) bool { return p.key == key && p.extent != nil })
}
