package form

import (
	"math"

	"corerod/parts"
	"corerod/parts/source"
)

// Bounds of what punches form in end faces, degrees: a tilt, the angle of a tooth space, and how far round a ramp goes.
const (
	mostTilt       = 60
	leastSpace     = 10
	mostSpace      = 170
	mostRamp       = 350
	leastRamp      = 1
	mostFaceTeeth  = 360
	mostFaceRamps  = 36
	leastTiltAngle = 0.01
)

// onFace is the end face of a body that a relief is in.
func onFace(x *parts.Relief) *Form {
	return word(&x.On, "The end face that it is in.", "top", "bottom").lies(Ends)
}

// relief is the key of one kind of relief of a body.
func relief(f *parts.Feature, name string, each func(x *parts.Relief) *Form) Key {
	return maybe(name, func() *Form {
		x := &parts.Relief{}
		form := each(x).shared(name).stands(&x.Place)
		form.done = func(_ *reader, _ *source.Node, sound bool) {
			if sound {
				f.Reliefs = append(f.Reliefs, *x)
			}
		}
		return form
	})
}

func tilt(x *parts.Relief) *Form {
	x.Tilt = &parts.Tilt{}
	return keys("An end face that is tilted: its highest point stays as drawn.", must("face", onFace(x)),
		must("angle", angle(&x.Tilt.Angle, leastTiltAngle, mostTilt, "Degrees from the face as drawn.")),
		must("toward", angle(&x.Tilt.Toward, -360, 360, "Direction in plan from x in which it goes into the body, degrees.").lies(Turn)))
}

func faceTeeth(x *parts.Relief) *Form {
	t := &parts.FaceTeeth{}
	x.Teeth = t
	return keys("Teeth in an end face, between V spaces that run outward from the body's axis.", must("face", onFace(x)),
		must("count", count(&t.Count, 2, "Their number.").upTo(mostFaceTeeth)),
		must("depth", size(&t.Depth, "Of the spaces, along z.").lies(AlongZ)),
		must("angle", angle(&t.Angle, leastSpace, mostSpace, "Between the flanks of a space, degrees.")),
		must("inner", size(&t.Inner, "Diameter at which the spaces begin.")), must("outer", size(&t.Outer, "Diameter at which they end.")),
		may("turn", turn(&t.Turn))).checked(func(r *reader, n *source.Node, _ string) {
		switch {
		case t.Count == 0 || t.Depth == 0 || t.Angle == 0 || t.Inner == 0 || t.Outer == 0:
			return // one of them was not read
		case t.Outer <= t.Inner:
			r.Report(n.At("outer"), "the outer diameter must be more than the inner one, %s", n.At("inner").Value)
			return
		}
		half := t.Depth * math.Tan(t.Angle*math.Pi/360)
		room := t.Inner / 2 * math.Sin(math.Pi/float64(t.Count))
		if half <= room {
			return
		}
		depth := math.Floor(room/math.Tan(t.Angle*math.Pi/360)/r.scale*1000) / 1000
		r.Report(n.At("depth"), "at the inner diameter the spaces run into each other; a depth of up to %s fits", decimal(depth))
	})
}

func ramp(x *parts.Relief) *Form {
	t := &parts.Ramp{Count: 1}
	x.Ramp = t
	return keys("A helical ramp in an end face, about the body's axis: at its end the face is as drawn.", must("face", onFace(x)),
		must("start_angle", angle(&t.Start, -360, 360, "Where it is deepest, degrees from x.").lies(Turn)),
		must("end_angle", angle(&t.End, -360, 360, "Where it ends in the face, degrees from x.").lies(Turn)),
		must("rise", size(&t.Rise, "From its start to its end, along z.").lies(AlongZ)),
		must("inner", size(&t.Inner, "Diameter at which it begins.")),
		may("outer", size(&t.Outer, "Diameter at which it ends; the outside of the body by default.")),
		may("count", count(&t.Count, 1, "How many, evenly round; 1 by default.").upTo(mostFaceRamps).usually("1"))).
		checked(func(r *reader, n *source.Node, _ string) {
			switch span := math.Abs(t.End - t.Start); {
			case n.At("end_angle") == nil || n.At("start_angle") == nil || t.Inner == 0:
				return // one of them was not read
			case t.Outer > 0 && t.Outer <= t.Inner:
				r.Report(n.At("outer"), "the outer diameter must be more than the inner one, %s", n.At("inner").Value)
			case span < leastRamp || span > mostRamp:
				r.Report(n.At("end_angle"), "a ramp goes round by %d to %d degrees, and this one by %g", leastRamp, mostRamp, span)
			case span*float64(t.Count) > 360+LeastLength:
				r.Report(n.At("count"), "%d ramps of %g degrees go further than round; with them each may have up to %g degrees",
					t.Count, span, 360/float64(t.Count))
			}
		})
}

// reliefs checks those of a body together.
func (r *reader) reliefs(f *parts.Feature, n *source.Node, what string) {
	on := map[string]string{}
	for _, key := range []string{"tilt", "face_teeth", "ramp"} {
		v := n.At(key)
		if v == nil {
			continue
		}
		face := v.At("face")
		if face == nil {
			continue
		}
		other := on[face.Value]
		switch stock := n.At("face_stock").At(face.Value); {
		case other != "":
			r.Report(n.KeyNode(key), "%s has `%s` and `%s` in its %s; one of them fits there", what, other, key, face.Value)
		case stock != nil:
			r.Report(stock, "nothing is ground off a face with `%s`; leave the stock out", key)
		case f.Profile != nil && InSection(f.Profile):
			r.Report(n.KeyNode(key), "%s is drawn in section; `%s` needs a profile in plan with `from` and `to`", what, key)
		case key != "tilt" && f.Profile != nil && !HasCentre(f.Profile):
			r.Report(n.KeyNode(key), "%s is drawn through points, about no axis; `%s` needs a profile with a centre", what, key)
		}
		on[face.Value] = key
	}
}

// island is the form of a body that stands in a cut.
func island(f *parts.Feature) *Form {
	x := &parts.Feature{MadeBy: "pressing", Punch: "none"}
	form := &Form{Doc: "A body that stands in the recess, as high as it is deep, and is drafted the other way.", Type: source.FormMap,
		Sole: []Group{{"profile", nil}}, called: "the island"}
	for _, row := range profiles() {
		if row.extent != nil {
			continue
		}
		form.Sole[0].Keys = append(form.Sole[0].Keys, row.key)
		form.Keys = append(form.Keys, profileOf(row, x))
	}
	form.shared("island").stands(&x.Place)
	form.done = func(_ *reader, _ *source.Node, sound bool) {
		if sound && x.Profile != nil {
			x.Shape, f.Island = x.Place, x
		}
	}
	return form
}

// stands completes the island of a cut, and refuses it where the cut is no recess in a face.
func (r *reader) stands(f *parts.Feature, n *source.Node) {
	k := n.KeyNode("island")
	if k == nil {
		return
	}
	switch {
	case f.Extent.Open != "top" && f.Extent.Open != "bottom":
		r.Report(k, "an island stands in a recess of a face: the cut needs `open` and `depth`")
		f.Island = nil
	case f.Section != "":
		r.Report(k, "a groove with a `section` has no flat floor for an island to stand on; leave one of them out")
		f.Island = nil
	}
	if f.Island == nil {
		return
	}
	x := f.Island
	if row := rowOf(x); row.mesh != nil && row.mesh(x.Profile).Internal {
		r.Report(n.At("island").At(row.key).KeyNode("internal"), "an island is a body; leave `internal` out")
	}
	x.Of, x.Name, x.Extent, x.Repeat = f, f.Name+".island", f.Extent, f.Repeat
	if f.Draft != nil {
		x.Draft = &parts.Draft{Angle: f.Draft.Angle, Up: !f.Draft.Up, Place: f.Draft.Place}
	}
}
