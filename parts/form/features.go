package form

import (
	"slices"

	"corerod/parts"
	"corerod/parts/source"
)

// madeBy is how a feature is made.
func madeBy(to *string) *Form {
	*to = "pressing"
	return word(to, "How it is made: by the press (the default), or after it.", "pressing", "machining", "sizing").
		usually("pressing").later().shared("made_by")
}

// profiled is the form of a body or cut: one of the profiles, and its other keys.
func profiled(f *parts.Feature, doc, noun string, more ...Key) *Form {
	form := &Form{Doc: doc, Type: source.FormMap, Sole: []Group{{"profile", profileKeys()}}, called: noun}
	for _, row := range profiles() {
		form.Keys = append(form.Keys, profileOf(row, f))
	}
	form.Keys = append(form.Keys,
		may("from", length(&f.Extent.From, "Its lower end along z.").lies(Low)),
		may("to", length(&f.Extent.To, "Its upper end along z.").lies(High)),
		maybe("draft", func() *Form { return draft(f) }),
		may("punch", word(&f.Punch, "Whether its level has a punch of its own or is a step in a punch face.", "own", "face").
			shared("punch")),
		maybe("repeat", func() *Form { return repeat(&f.Repeat) }))
	form.Keys = append(form.Keys, more...)
	form.begin = func(name string, at parts.Place) { f.Name, f.Place = name, at }
	return form
}

// profileOf is the key of one profile of a feature.
func profileOf(row *profile, f *parts.Feature) Key {
	return maybe(row.key, func() *Form {
		p, made := row.declare()
		p.done = func(_ *reader, _ *source.Node, sound bool) {
			if sound {
				f.Profile = made()
			}
		}
		return p.shared(row.key)
	})
}

func body(p *parts.Part) *Form {
	f := &parts.Feature{MadeBy: "pressing", Punch: "none"}
	form := profiled(f, "A body: a profile, from one height to another.", "the body",
		maybe("face_stock", func() *Form { return stock(&f.Stock) }), relief(f, "tilt", tilt), relief(f, "face_teeth", faceTeeth),
		relief(f, "ramp", ramp)).shared("body")
	form.elsewhere = map[string]string{"made_by": "made_by stands on cuts, sides and marks, never on a body"}
	for _, row := range profiles() {
		if row.extent == nil {
			form.Pairs = append(form.Pairs, [2]string{row.key, "from"}, [2]string{row.key, "to"})
		}
	}
	form.check = func(r *reader, n *source.Node, what string) {
		r.ring(f, n, false)
		r.reliefs(f, n, what)
		switch {
		case r.standing(f, what, n):
			if stock := n.KeyNode("face_stock"); stock != nil && f.Profile != nil {
				if _, ball := AsBall(f.Profile); ball {
					r.Report(stock, "a ball has no flat end faces; leave `face_stock` out")
				}
			}
			return
		case n.At("from") == nil || n.At("to") == nil:
			f.Extent.Place = f.Place
			r.Report(n, "%s needs `from` and `to`, its lower and upper end along z", what)
		default:
			r.ends(f, what, n)
		}
		r.draft(f, n)
	}
	form.done = func(_ *reader, _ *source.Node, _ bool) {
		if f.Profile != nil {
			p.Bodies = append(p.Bodies, f)
		}
	}
	return form
}

// stock is what is ground off the end faces of a body.
func stock(s *parts.Stock) *Form {
	f := keys("What is ground off its end faces after sintering: as pressed it stands out by it.",
		may("top", size(&s.Top, "Off its upper face.").lies(AlongZ)), may("bottom", size(&s.Bottom, "Off its lower face.").lies(AlongZ)))
	f.Swaps = true
	return f
}

func cut(p *parts.Part) *Form {
	f := &parts.Feature{Punch: "none"}
	form := profiled(f, "A cut: right through, from one height to another, or open at a face with a depth.", "the cut",
		may("open", word(&f.Extent.Open, "The face it is open to.", "top", "bottom").lies(Ends)),
		may("depth", size(&f.Extent.Depth, "From that face.").lies(AlongZ)), may("made_by", madeBy(&f.MadeBy)),
		may("section", word(&f.Section, "Of a groove that is not rectangular.", "round", "v")),
		maybe("island", func() *Form { return island(f) }),
		may("keep", list("Bodies that the cut leaves alone.", "at least one body", 1, 0, func() *Form { return kept(f) }).anyOrder())).
		shared("cut")
	form.Pairs = [][2]string{{"from", "to"}, {"to", "from"}, {"open", "depth"}, {"depth", "open"}}
	form.check = func(r *reader, n *source.Node, what string) {
		r.ring(f, n, true)
		if r.standing(f, what, n) {
			f.Section = ""
			r.stands(f, n)
			return
		}
		r.extent(f, what, n)
		r.stands(f, n)
		r.draft(f, n)
		switch section := n.KeyNode("section"); {
		case section == nil:
		case f.Extent.Open != "top" && f.Extent.Open != "bottom":
			r.Report(section, "`section` is of a groove in a face: it needs `open` and `depth`")
		case f.Draft != nil:
			r.Report(section, "a groove has a `section` or a `draft`; give one")
		}
	}
	form.done = func(_ *reader, _ *source.Node, _ bool) {
		if f.Profile != nil {
			p.Cuts = append(p.Cuts, f)
		}
	}
	return form
}

// kept is a body that a cut leaves alone.
func kept(f *parts.Feature) *Form {
	var k parts.Kept
	form := feature(&k.Body, "A body.").calls("an entry of keep").stands(&k.Place)
	form.done = func(r *reader, n *source.Node, sound bool) {
		switch {
		case !sound:
		case r.root.At("bodies").At(k.Body) == nil && !r.isIsland(n):
			r.Report(n, "keep names %s, which is a cut; it names bodies", source.Quote(k.Body))
		case slices.ContainsFunc(f.Keep, func(o parts.Kept) bool { return o.Body == k.Body }):
			r.Report(n, "keep names %s twice", source.Quote(k.Body))
		default:
			f.Keep = append(f.Keep, k)
		}
	}
	return form
}

// standing gives a feature that is drawn in section its extent, and refuses another one.
func (r *reader) standing(f *parts.Feature, what string, n *source.Node) bool {
	i := slices.IndexFunc(profiles(), func(p *profile) bool { return n.KeyNode(p.key) != nil })
	if i < 0 {
		return false
	}
	row := profiles()[i]
	key := n.KeyNode(row.key)
	f.Shape = parts.Place{Line: key.Line, Column: key.Column, Path: f.Place.Path + "." + row.key}
	if row.extent == nil {
		return false
	}
	for _, key := range []string{"from", "to", "open", "depth", "draft", "section"} {
		if k := n.KeyNode(key); k != nil {
			r.Report(k, "%s is drawn in section, which says where it begins and ends; leave `%s` out", what, key)
		}
	}
	if f.Profile == nil {
		return true
	}
	z := row.extent(f.Profile)
	f.Extent, f.Draft = parts.Extent{From: z[0], To: z[1], Place: f.Shape}, nil
	if z[1]-z[0] <= LeastLength {
		r.Report(key, "%s has no height", what)
	}
	return true
}

// ends checks from and to.
func (r *reader) ends(f *parts.Feature, what string, n *source.Node) {
	from, to, e := n.At("from"), n.At("to"), &f.Extent
	e.Place = parts.Place{Line: from.Line, Column: from.Column, Path: f.Place.Path + ".from"}
	switch high := e.To - e.From; {
	case high > LeastLength:
		return
	case high > 0:
		r.Report(to, "%s is too low: its height, from %s to %s, must be more than 0.000001 mm", what, source.Quote(from.Value),
			source.Quote(to.Value))
	default:
		r.Report(to, "%s has no height: `to` %s must be above `from` %s", what, source.Quote(to.Value), source.Quote(from.Value))
	}
	e.To = e.From
}

// extent checks from and to, open and depth, or neither, of a cut.
func (r *reader) extent(f *parts.Feature, what string, n *source.Node) {
	from, to, open, depth := n.At("from"), n.At("to"), n.At("open"), n.At("depth")
	e := &f.Extent
	e.Place = f.Place
	if from != nil {
		e.Place = parts.Place{Line: from.Line, Column: from.Column, Path: f.Place.Path + ".from"}
	}
	switch {
	case from != nil && to != nil && open == nil && depth == nil:
		r.ends(f, what, n)
	case from == nil && to == nil && open != nil && depth != nil:
		e.Place = parts.Place{Line: depth.Line, Column: depth.Column, Path: f.Place.Path + ".depth"}
	case from == nil && to == nil && open == nil && depth == nil:
		e.Open = "through"
	default:
		r.Report(n, "%s needs `from` and `to`, or `open` and `depth`, or none of them for a cut right through", what)
	}
}

// ring checks that a gear is a body, and the void of a ring a cut.
func (r *reader) ring(f *parts.Feature, n *source.Node, cut bool) {
	row := rowOf(f)
	switch {
	case row == nil || row.mesh == nil || row.mesh(f.Profile).Internal == cut:
	case !cut:
		r.Report(n.At(row.key).KeyNode("internal"),
			"a gear with `internal: true` is the void of a ring gear; write it in `cuts`, inside a body for the ring")
	default:
		r.Report(n.KeyNode(row.key),
			"a gear in `cuts` is the void of a ring gear; write `internal: true`, with the ring's own addendum and dedendum")
	}
}

func draft(f *parts.Feature) *Form {
	d := &parts.Draft{}
	form := keys("A draft: the drawn profile is the wide end.", must("angle", angle(&d.Angle, 0, 89, "Degrees from the pressing axis.")),
		must("narrows", word(func(w string) { d.Up = w == "up" }, "The way in which it gets smaller.", "up", "down").lies(Way))).
		shared("draft").stands(&d.Place)
	form.done = func(_ *reader, _ *source.Node, _ bool) { f.Draft = d }
	return form
}

// draft checks the draft of a feature.
func (r *reader) draft(f *parts.Feature, n *source.Node) {
	if row := rowOf(f); row != nil && row.mesh != nil && row.mesh(f.Profile).Helix != 0 && f.Draft != nil && f.Draft.Angle > 0 {
		r.Report(n.KeyNode("draft"), "a helical gear cannot have a draft; leave one of them out")
	}
}

// repeat is one pattern of copies, or a list of them.
func repeat(to *parts.Repeat) *Form {
	each := func() *Form { return pattern(to).calls("a pattern") }
	return either("Copies: one pattern, or a list of two or three, each of which repeats what those before it give.", pattern(to),
		list("", "two or three patterns", 2, 3, each)).shared("repeat")
}

func pattern(to *parts.Repeat) *Form {
	p := &parts.Pattern{Over: 360}
	f := keys("Copies: round a centre, or along a line with `step`.",
		must("count", count(&p.Count, 2, "How many, with the first.")),
		may("about", point(&p.About, "The centre; [0, 0] by default.").usually("[0, 0]")),
		may("over", angle(&p.Over, leastSpread, 360, "Degrees over which they are spread; 360 by default.").lies(Spread).usually("360")),
		may("first", angle(&p.First, -360, 360, "Degrees by which the first is turned, counter-clockwise.").lies(Turn).usually("0")),
		may("turn", yes(func(turned bool) { p.Upright = !turned }, "They are turned too; yes by default.").usually("true")),
		may("step", point(&p.Step, "From one to the next, [dx, dy]."))).shared("pattern").stands(&p.Place).calls("repeat").
		checked(func(r *reader, n *source.Node, _ string) {
			step := n.At("step")
			if p.Polar = step == nil; p.Polar {
				return
			}
			for _, key := range []string{"about", "over", "first", "turn"} {
				if k := n.KeyNode(key); k != nil {
					r.Report(k, "`%s` belongs to a repeat round a centre, `step` to one along a line; give one or the other", key)
				}
			}
			if p.Step == (parts.Point{}) {
				r.Report(step, "step is [0, 0]; the copies would lie on each other")
			}
			p.About, p.Over, p.First, p.Upright = parts.Point{}, 0, 0, false
		})
	f.done = func(_ *reader, _ *source.Node, _ bool) { *to = append(*to, *p) }
	return f
}

func blend(p *parts.Part) *Form {
	var b parts.Blend
	each := func() *Form {
		b.Of = append(b.Of, "")
		return feature(&b.Of[len(b.Of)-1], "").calls("of")
	}
	f := keys("A plan radius where features meet.",
		must("of", list("The two features, or all that meet in one corner.",
			"the names of two features, or of all that meet in a corner", 2, 0, each).anyOrder()),
		must("radius", size(&b.Radius, "The radius."))).calls("the blend")
	f.begin = func(name string, at parts.Place) { b.Name, b.Place = name, at }
	f.done = func(_ *reader, _ *source.Node, _ bool) { p.Blends = append(p.Blends, b) }
	return f
}
