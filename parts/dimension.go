package parts

import (
	"fmt"
	"slices"
	"strings"

	"corerod/parts/fit"
	"corerod/parts/source"
)

// Dimension is a toleranced size, or a tolerance of form or position.
type Dimension struct {
	Name      string
	Kind      string  // "size", "flatness", "runout" or "coaxiality"
	Of        string  // as written: a number of the file, or a feature or face
	Feature   string  // the feature that it belongs to
	Axial     bool    // along the pressing axis
	Nominal   float64 // mm, of a size
	Low, High float64 // mm, deviations of a size from its nominal
	Width     float64 // mm, the whole tolerance
	Class     string  // of a size, where it is given by one
	To        string  // the feature that a run-out or coaxiality refers to
	Place     Place
}

// axialKeys are numbers of the file that lie along the pressing axis; notLengths are no lengths at all.
var (
	axialKeys  = []string{"height", "depth", "from", "to", "z", "raised", "recessed", "land"}
	notLengths = []string{"turn", "toward", "over", "count", "slope", "angle", "teeth", "pressure_angle", "helix", "shift", "addendum", "dedendum",
		"density", "quantity", "format"}
)

func (r *reader) dimensions(root *source.Node) {
	n := root.At("dimensions")
	if n == nil || !r.keyed(n, "dimensions") {
		return
	}
	for i, k := range n.Keys {
		if name, ok := r.Name(k, "a name in dimensions"); ok {
			r.dimension(root, name, Place{k.Line, k.Column, "dimensions." + name}, n.Items[i])
		}
	}
}

func (r *reader) dimension(root *source.Node, name string, at Place, n *source.Node) {
	what := "the dimension " + name
	if !r.Map(n, what, forms().dimension.Known()...) {
		return
	}
	d := Dimension{Name: name, Place: at, Kind: "size"}
	before := len(r.Problems)
	key := r.sole(n, what, "tolerance", []string{"class", "limits", "plus_minus", "flatness", "runout", "coaxiality"}, nil)
	of := r.Require(n, what, "of")
	if key == nil || of == nil {
		return
	}
	var ok bool
	if d.Of, ok = r.Text(of, "of"); !ok {
		return
	}
	if refers := key.Value == "runout" || key.Value == "coaxiality"; refers {
		if v := r.Require(n, what, "to"); v != nil {
			if d.To, _ = r.featureName(v); d.To != "" && strings.Split(d.Of, ".")[0] == d.To {
				r.Report(v, "to is %s, which the dimension is of; name the feature that it refers to", source.Quote(d.To))
			}
		}
	} else if k := n.KeyNode("to"); k != nil {
		r.Report(k, "`to` belongs to a runout or coaxiality; leave it out")
	}
	switch key.Value {
	case "flatness", "runout", "coaxiality":
		d.Kind = key.Value
		r.form(&d, of, n.At(key.Value))
	default:
		r.toleranced(root, &d, of, key.Value, n.At(key.Value))
	}
	if len(r.Problems) == before {
		r.part.Dimensions = append(r.part.Dimensions, d)
	}
}

// form reads a tolerance of form or position, of a feature or of one of its end faces.
func (r *reader) form(d *Dimension, of, n *source.Node) {
	d.Width = r.size(n, d.Kind)
	if strings.Contains(d.Of, ".") {
		d.Axial = true
		if d.Kind == "coaxiality" {
			r.Report(of, "coaxiality is of a feature; write its name alone")
		}
		d.Feature = r.face(of, "of").Feature
		return
	}
	if d.Kind == "flatness" {
		r.Report(of, "flatness is of an end face; write NAME.top or NAME.bottom")
		return
	}
	d.Feature, _ = r.featureName(of)
}

// toleranced reads the tolerance of a size.
func (r *reader) toleranced(root *source.Node, d *Dimension, of *source.Node, key string, n *source.Node) {
	t, wrong := r.find(root, d.Of)
	switch {
	case wrong != "":
		r.Report(of, "of is %s, %s", source.Quote(d.Of), wrong)
		return
	case slices.Contains(notLengths, t.key):
		r.Report(of, "of is %s, which is no length", source.Quote(d.Of))
		return
	case len(t.numbers) != 1 && !t.height:
		r.Report(of, "of is %s, which is two numbers; write %s", source.Quote(d.Of), source.Quote(d.Of+"[0]"))
		return
	}
	d.Feature, d.Axial = t.feature, slices.Contains(axialKeys, t.key)
	d.Nominal = r.value(t.numbers[0])
	if t.height {
		d.Nominal = r.value(t.numbers[1]) - d.Nominal
	}
	switch key {
	case "class":
		r.class(d, n)
	case "plus_minus":
		d.High = r.size(n, "plus_minus")
		d.Low = -d.High
	case "limits":
		items, ok := r.List(n, "limits")
		if ok && len(items) != 2 {
			r.Report(n, "limits needs two sizes, [least, greatest], not %d", len(items))
		}
		if len(items) != 2 {
			return
		}
		before := len(r.Problems)
		low, high := r.length(items[0], "limits[0]"), r.length(items[1], "limits[1]")
		switch {
		case len(r.Problems) > before: // they are no numbers, and their text is shown there as it may be
		case low >= high:
			r.Report(n, "limits are [%s, %s]; the least size stands first", items[0].Value, items[1].Value)
		case high-low < LeastLength:
			r.Report(n, "limits are [%s, %s], under a nanometre apart", items[0].Value, items[1].Value)
		}
		d.Low, d.High = low-d.Nominal, high-d.Nominal
	}
	d.Width = d.High - d.Low
}

// value of a number that was read, and reported where it is wrong, elsewhere.
func (r *reader) value(n *source.Node) float64 {
	v, _ := (&source.Reader{}).Number(n, "it")
	return v * r.scale
}

// class reads a tolerance class. Capitals are for holes, small letters for shafts.
func (r *reader) class(d *Dimension, n *source.Node) {
	var ok bool
	if d.Class, ok = r.Text(n, "class"); !ok {
		return
	}
	if d.Nominal <= 0 {
		r.Report(n, "class %s is of a size above 0, and %s is %.6g mm", source.Quote(d.Class), source.Quote(d.Of), d.Nominal)
		return
	}
	var err error
	if d.Low, d.High, err = fit.Class(d.Class, d.Nominal); err != nil {
		r.Report(n, "class %s %s", source.Quote(d.Class), source.Plain(err.Error()))
		return
	}
	letter, _, _ := fit.Split(d.Class)
	capital := letter == strings.ToUpper(letter)
	if hole := r.isCut(d.Feature); hole != capital && (hole || r.isBody(d.Feature)) {
		right, which := strings.ToLower(d.Class), "a body"
		if hole {
			right, which = strings.ToUpper(d.Class), "a cut"
		}
		r.Report(n, "class %s: capitals are for holes and recesses, small letters for outsides; %s is %s, so %s", source.Quote(d.Class), d.Feature, which, source.Quote(right))
	}
}

func (r *reader) isCut(name string) bool {
	return slices.ContainsFunc(r.part.Cuts, func(f *Feature) bool { return f.Name == name })
}

func (r *reader) isBody(name string) bool {
	return slices.ContainsFunc(r.part.Bodies, func(f *Feature) bool { return f.Name == name })
}

// keyed checks that a section has names with values.
func (r *reader) keyed(n *source.Node, section string) bool {
	if n.Shape == source.Map {
		return true
	}
	r.Report(n, "%s needs names with values, not %s", section, fmt.Sprint(n.Shape))
	return false
}
