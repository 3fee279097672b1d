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
