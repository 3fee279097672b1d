package form

import (
	"corerod/parts"
	"corerod/parts/source"
)

func edge(p *parts.Part) *Form {
	var e parts.Edge
	f := &Form{Doc: "How the rim where a wall meets an end face is treated, or the foot of a wall.", Type: source.FormMap,
		called: "the edge",
		Sole:   []Group{{"treatment", []string{"chamfer", "round"}}, {"", []string{"face", "at"}}},
		Keys: []Key{must("of", feature(&e.Of, "A body or cut.")), may("face", word(&e.Face, "The end face.", "top", "bottom").lies(Ends)),
			may("at", word(func(string) {}, "At the foot of its wall.", "foot")),
			maybe("chamfer", func() *Form { e.Chamfer = &parts.Chamfer{}; return chamfer(e.Chamfer) }),
			maybe("round", func() *Form { return keys("A radius.", must("radius", size(&e.Radius, "The radius."))) })}}
	f.begin = func(name string, at parts.Place) { e.Name, e.Place = name, at }
	f.check = func(r *reader, n *source.Node, what string) {
		switch face, foot := n.At("face"), n.KeyNode("at"); {
		case face != nil && foot != nil:
			r.Report(foot, "%s has both `face` and `at`; give `face: top`, `face: bottom` or `at: foot`", what)
		case face == nil && foot == nil:
			r.Report(n, "%s needs `face: top`, `face: bottom` or `at: foot`", what)
		case foot != nil && e.Chamfer != nil:
			r.Report(n.KeyNode("chamfer"), "the foot of a wall takes a `round`, not a chamfer")
		}
		for i := range p.Edges {
			if other := &p.Edges[i]; e.Of != "" && other.Of == e.Of && other.Face == e.Face {
				r.Report(n, "%s treats the same edges as %s; give one of them", what, other.Name)
			}
		}
	}
	f.done = func(_ *reader, _ *source.Node, _ bool) { p.Edges = append(p.Edges, e) }
	return f
}

func chamfer(c *parts.Chamfer) *Form {
	return keys("A chamfer.", must("width", size(&c.Width, "In plan.")), must("slope", angle(&c.Slope, 1, 89, "Degrees.")),
		may("slope_from", word(func(w string) {
			if w == "axis" {
				c.Slope = 90 - c.Slope
			}
		}, "What the slope is counted from; the face by default.", "face", "axis").usually("face")),
		may("flat", room(&c.Flat, "Flat on the punch's rim outside the chamfer.").usually("0").adds()),
		may("land", room(&c.Land, "Straight wall below the chamfer.").lies(AlongZ).usually("0").counts()))
}

func mark(p *parts.Part) *Form {
	var m parts.Mark
	f := &Form{Doc: "Lettering or a logo on an end face.", Type: source.FormMap, called: "the mark",
		Sole: []Group{{"height", []string{"raised", "recessed"}}},
		Keys: []Key{must("on", face(&m.On, "The face: NAME.top or NAME.bottom.")), may("raised", size(&m.Rise, "Its height.").lies(AlongZ)),
			may("recessed", size(func(v float64) { m.Rise = -v }, "Its depth.").lies(AlongZ)),
			must("box", tuple("[x, y, length, width]; x and y of its centre.",
				"four numbers, [x, y, length, width] with x and y of its centre",
				length(&m.At.X, "").lies(X), length(&m.At.Y, "").lies(Y), size(&m.Length, ""), size(&m.Width, ""))),
			may("text", text(&m.Text, "What it says.").later()), may("made_by", madeBy(&m.MadeBy)),
			maybe("repeat", func() *Form { return repeat(&m.Repeat) })}}
	f.begin = func(name string, at parts.Place) { m.Name, m.Place = name, at }
	f.done = func(_ *reader, _ *source.Node, _ bool) {
		if m.Repeat.Polar {
			m.Repeat.Upright = true // a box lies along x and y
		}
		p.Marks = append(p.Marks, m)
	}
	return f
}

// side is a feature across the pressing axis.
func side(p *parts.Part) *Form {
	var s parts.Side
	toward := func() *Form {
		return angle(&s.Toward, -360, 360, "Direction in plan from x, degrees.").lies(Turn)
	}
	kinds := []Key{
		maybe("hole", func() *Form {
			return keys("A hole across the axis.", must("diameter", size(&s.Width, "Its diameter.")), must("toward", toward()),
				must("z", length(&s.At, "Height of its axis.").lies(Z)))
		}),
		maybe("groove", func() *Form {
			return keys("A groove round it.", must("width", size(&s.Width, "Along the axis.").lies(AlongZ)),
				must("depth", size(&s.Depth, "Its depth.")),
				must("z", length(&s.At, "Height of its middle.").lies(Z)))
		}),
		maybe("thread", func() *Form {
			return keys("A screw thread.", must("size", text(&s.Size, "Such as M6.")),
				may("inside", yes(&s.Inside, "In a bore.").usually("false")))
		}),
		maybe("knurl", func() *Form {
			pattern := func(w string) { s.Crossed = w == "crossed" }
			return keys("A knurl.", must("pattern", word(pattern, "Its lines.", "straight", "crossed")))
		}),
		maybe("flat", func() *Form {
			return keys("A flat across the axis.", must("distance", size(&s.Away, "From the axis of the feature.")),
				must("toward", toward()),
				must("z", length(&s.At, "Height of its lower end.").lies(Foot)))
		}),
	}
	f := &Form{Doc: "A feature across the pressing axis.", Type: source.FormMap, called: "the side feature",
		Keys: append(kinds, must("in", feature(&s.In, "The feature it is in.")), may("made_by", madeBy(&s.MadeBy)))}
	sole := Group{Kind: "kind"}
	for i, k := range kinds {
		sole.Keys = append(sole.Keys, k.Name)
		f.Keys[i].form = func() *Form { return k.Form().calls("a " + k.Name) }
	}
	f.Sole = []Group{sole}
	f.begin = func(name string, at parts.Place) { s.Name, s.Place = name, at }
	f.done = func(_ *reader, n *source.Node, _ bool) {
		for _, kind := range sole.Keys {
			if n.At(kind) != nil && s.Kind == "" {
				s.Kind = kind
			}
		}
		if s.Kind != "" {
			p.Sides = append(p.Sides, s)
		}
	}
	return f
}
