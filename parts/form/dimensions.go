package form

import (
	"slices"
	"strings"

	"corerod/parts"
	"corerod/parts/fit"
	"corerod/parts/source"
)

// sizing is a dimension while it is read.
type sizing struct {
	parts.Dimension
	limits [2]float64 // mm
	key    string     // the tolerance that it has
}

func dimension(p *parts.Part) *Form {
	d := &sizing{Dimension: parts.Dimension{Kind: "size"}}
	tolerances := Group{"tolerance", []string{"class", "limits", "plus_minus", "flatness", "runout", "coaxiality"}}
	width := func(doc string) *Form { return tolerance(&d.Width, doc) }
	least, most := length(&d.limits[0], ""), length(&d.limits[1], "")
	least.Quantity, most.Quantity = Tolerance, Tolerance
	class := text(&d.Class, "Tolerance class of ISO 286-1, such as H7.")
	class.Quantity = Grade
	f := &Form{Doc: "A toleranced size, or a tolerance of form or position.", Type: source.FormMap, called: "the dimension",
		Sole: []Group{tolerances}, Pairs: [][2]string{{"runout", "to"}, {"coaxiality", "to"}},
		Keys: []Key{must("of", text(&d.Of, "A number of the file, by its path or short name; of a form tolerance a feature or face.").
			refers(ToNumber)),
			may("class", class), may("limits", tuple("Least and greatest size.", "two sizes, [least, greatest]", least, most)),
			may("plus_minus", width("Either way.")), may("flatness", width("Of an end face.")), may("runout", width("Against `to`.")),
			may("coaxiality", width("Against `to`.")),
			may("to", (&Form{Doc: "The feature that a run-out or coaxiality refers to.", Pattern: namePattern, to: &d.To}).
				refers(ToNumber))}}
	f.begin = func(name string, at parts.Place) { d.Name, d.Place = name, at }
	f.check = func(r *reader, n *source.Node, what string) {
		given := slices.DeleteFunc(slices.Clone(tolerances.Keys), func(key string) bool { return n.At(key) == nil })
		if of := n.At("of"); len(given) == 1 && of != nil && of.Shape == source.Scalar && !of.Null {
			d.key = given[0]
			r.dimension(d, n, what)
		}
	}
	f.done = func(_ *reader, _ *source.Node, sound bool) {
		if sound {
			p.Dimensions = append(p.Dimensions, d.Dimension)
		}
	}
	return f
}

// dimension checks what a dimension is of and finds its limits.
func (r *reader) dimension(d *sizing, n *source.Node, what string) {
	of := n.At("of")
	against := d.key == "runout" || d.key == "coaxiality"
	switch to := n.At("to"); {
	case against && to == nil:
		r.Require(n, what, "to")
	case to == nil || to.Shape != source.Scalar || to.Null: // told where it is read
	case !against:
		r.Report(n.KeyNode("to"), "`to` belongs to a runout or coaxiality; leave it out")
	case r.feature(to) && strings.Split(d.Of, ".")[0] == d.To:
		r.Report(to, "to is %s, which the dimension is of; name the feature that it refers to", source.Quote(d.To))
	}
	switch d.key {
	case "flatness", "runout", "coaxiality":
		d.Kind = d.key
		r.formOf(d, of)
	default:
		r.toleranced(d, of, n.At(d.key))
	}
}

// formOf checks a tolerance of form or position, of a feature or of one of its end faces.
func (r *reader) formOf(d *sizing, of *source.Node) {
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
	if r.feature(of) {
		d.Feature = d.Of
	}
}

// toleranced finds the limits of a size.
func (r *reader) toleranced(d *sizing, of, n *source.Node) {
	t, wrong := numbersOf(r.root, d.Of)
	switch {
	case wrong != "":
		r.Report(of, "of is %s, %s", source.Quote(d.Of), wrong)
		return
	case strings.HasPrefix(t.path, "dimensions."):
		r.Report(of, "of is %s, which is a tolerance; name a number of a body, cut, blend, edge, side or mark", source.Quote(d.Of))
		return
	case t.numbers[0].form == nil || t.numbers[0].form.Quantity != Length && t.numbers[0].form.Quantity != Tolerance:
		r.Report(of, "of is %s, which is no length", source.Quote(d.Of))
		return
	case len(t.numbers) != 1 && !t.height:
		r.Report(of, "of is %s, which is several numbers; write one of them, such as `\"%s[0]\"`", source.Quote(d.Of), source.Plain(d.Of))
		return
	}
	d.Feature, d.Axial = t.feature, t.height || t.numbers[0].form.Lies.Axial()
	d.Nominal = value(t.numbers[0].node) * r.scale
	if t.height {
		d.Nominal = value(t.numbers[1].node)*r.scale - d.Nominal
	}
	switch d.key {
	case "class":
		r.class(d, n)
	case "plus_minus":
		d.Low, d.High = -d.Width, d.Width
	case "limits":
		low, high := d.limits[0], d.limits[1]
		switch {
		case len(n.Items) != 2 || r.foundIn(n): // told there
		case low >= high:
			r.Report(n, "limits are [%s, %s]; the least size stands first", n.Items[0].Value, n.Items[1].Value)
		case high-low < LeastLength:
			r.Report(n, "limits are [%s, %s], under a nanometre apart", n.Items[0].Value, n.Items[1].Value)
		}
		d.Low, d.High = low-d.Nominal, high-d.Nominal
	}
	d.Width = d.High - d.Low
}

// class reads a tolerance class. Capitals are for holes, small letters for shafts.
func (r *reader) class(d *sizing, n *source.Node) {
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
	island := strings.Contains(d.Of, ".island.") // a body in a cut
	body, hole := r.root.At("bodies").At(d.Feature) != nil || island, r.root.At("cuts").At(d.Feature) != nil && !island
	if hole == capital || !hole && !body {
		return
	}
	right, which := strings.ToLower(d.Class), "a body"
	if hole {
		right, which = strings.ToUpper(d.Class), "a cut"
	}
	r.Report(n, "class %s: capitals are for holes and recesses, small letters for outsides; %s is %s, so %s",
		source.Quote(d.Class), d.Feature, which, source.Quote(right))
}
