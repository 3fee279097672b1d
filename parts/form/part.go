package form

import (
	"slices"
	"sync"

	"corerod/parts"
	"corerod/parts/source"
)

// sections hold what has a name of its own, in the order in which they are read.
var sections = []string{"bodies", "cuts", "blends", "edges", "sides", "marks", "dimensions"}

// static is the form of a part file that is bound to a part which nobody looks at.
var static struct {
	once sync.Once
	form *Form
}

// forms is the form of a part file for the walks of what is there, made once.
func forms() *Form {
	static.once.Do(func() { static.form = frozen(part(&parts.Part{})) })
	return static.form
}

// frozen is a form whose parts are made once and for all, so that walks can share them.
func frozen(f *Form) *Form {
	g := *f
	g.Keys = slices.Clone(f.Keys)
	for i := range g.Keys {
		k := frozen(f.Keys[i].Form())
		g.Keys[i].form = func() *Form { return k }
	}
	if f.Each != nil {
		each := frozen(f.Each())
		g.Each = func() *Form { return each }
	}
	g.Tuple, g.Either = slices.Clone(f.Tuple), slices.Clone(f.Either)
	for i, e := range g.Tuple {
		g.Tuple[i] = frozen(e)
	}
	for i, e := range g.Either {
		g.Either[i] = frozen(e)
	}
	return &g
}

// part is the form of a part file.
func part(p *parts.Part) *Form {
	p.Unit, p.Pressing, p.WayUp = "mm", "both", "best"
	format := number(func(float64) {}, Count, 1, 1, "Of this file; 1.").fixed()
	format.refusal = "format %s is not known; this version reads format 1"
	bodies := named("Material, joined where bodies overlap or touch.", func() *Form { return body(p) })
	bodies.Items, bodies.needs = [2]int{1, 0}, "a part has at least one body"
	dimensions := named("Toleranced sizes.", func() *Form { return dimension(p) })
	dimensions.apart = true
	return keys("One pressed and sintered part: what its drawing says.",
		may("format", format),
		must("part", (&Form{Doc: "Its name, as its drawing or the office has it.", Pattern: partPattern, to: &p.Name}).
			calls("the part's name").stands(&p.Place)),
		may("title", text(&p.Title, "As the drawing has it.")), may("drawing", text(&p.Drawing, "Number of the drawing.")),
		may("revision", text(&p.Revision, "Of the drawing.")), may("customer", text(&p.Customer, "Whom the part is made for.")),
		must("units", word(&p.Unit, "Of all lengths; angles are degrees.", "mm", "in").checked(func(r *reader, _ *source.Node, _ string) {
			r.scale = map[string]float64{"mm": 1, "in": inch}[p.Unit]
		})),
		may("material", material(&p.Material)),
		may("pressing", word(&p.Pressing, "The ends from which the powder is pressed; both by default.", "both", "top").usually("both")),
		may("way_up", word(&p.WayUp, "How it lies in the die: the better way (the default), or as it is said here.", "best", "as-drawn",
			"turned-over").usually("best")),
		may("sized", yes(&p.Sized, "It is sized after sintering.")),
		may("quantity", above0(&p.Quantity, Amount, 1e12, "Parts a year.")),
		may("seats", list("Faces it stands or stacks on: NAME.top or NAME.bottom.", "", 0, 0, func() *Form { return seat(p) }).anyOrder()),
		Key{Name: "bodies", Required: true, form: func() *Form { return bodies }},
		may("cuts", named("Voids taken out of the joined bodies.", func() *Form { return cut(p) })),
		may("blends", named("Plan radii where two features meet.", func() *Form { return blend(p) })),
		may("edges", named("Treatment of rims.", func() *Form { return edge(p) })),
		may("sides", named("Features across the pressing axis.", func() *Form { return side(p) })),
		may("marks", named("Lettering.", func() *Form { return mark(p) })),
		may("dimensions", dimensions),
		may("hold", list("Numbers that no change may touch, by path or short name.", "", 0, 0,
			func() *Form { return held(p) }).anyOrder())).
		checked(func(r *reader, _ *source.Node, _ string) { r.countVertices() })
}

func material(m *parts.Material) *Form {
	return keys("The powder.", may("name", text(&m.Name, "A material of the pack.").calls("the material's name")),
		may("density", above0(&m.Density, Density, 25, "Sintered, g/cm3.").stands(&m.At))).stands(&m.Place)
}

// seat is a face that the part stands or stacks on.
func seat(p *parts.Part) *Form {
	var s parts.Seat
	f := face(&s.Face, "").calls("a seat").stands(&s.Place)
	f.done = func(_ *reader, _ *source.Node, sound bool) {
		if sound {
			p.Seats = append(p.Seats, s)
		}
	}
	return f
}

// held is a number that no change may touch, by its path or a feature's short name.
func held(p *parts.Part) *Form {
	var name string
	f := text(&name, "").calls("an entry of hold").refers(ToNumber)
	f.done = func(r *reader, n *source.Node, sound bool) {
		if !sound {
			return
		}
		if _, wrong := numbersOf(r.root, name); wrong != "" {
			r.Report(n, "hold names %s, %s", source.Quote(name), wrong)
			return
		}
		p.Hold = append(p.Hold, name)
	}
	return f
}

// countVertices bounds the work that one file can ask for.
func (r *reader) countVertices() {
	n := 0
	for _, f := range r.part.Features() {
		if n += vertices(f); n > MostVertices {
			r.Report(&source.Node{Line: f.Place.Line, Column: f.Place.Column},
				"the profiles have more than %d vertices after repeats; with `%s` they pass it", MostVertices, f.Name)
			return
		}
	}
}
