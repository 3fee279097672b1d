package form

import (
	"corerod/parts"
	"corerod/parts/source"
)

// side is a feature across the pressing axis.
func side(p *parts.Part) *Form {
	var s parts.Side
	toward := func() *Form {
		return angle(&s.Toward, -360, 360, "Direction in plan from x, degrees.").lies(Turn)
	}
	kinds := []Key{
		maybe("hole", func() *Form {
			return keys("A hole across the axis.", must("diameter", size(&s.Width, "Its diameter.")), must("toward", toward()),
				must("z", length(&s.At, "Height of its axis.").lies(Z)), may("through", yes(&s.Through,
					"It goes on past the axis of its feature, through the other side.").usually("false")))
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
