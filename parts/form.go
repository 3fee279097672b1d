package parts

import (
	"slices"
	"sync"

	"corerod/parts/source"
)

// The forms of a part file: what each key is, for the reader and for editors.

// Names and paths of a part file as patterns.
const (
	namePattern = "^[a-z][a-z0-9-]{0,63}$"
	facePattern = `^[a-z][a-z0-9-]{0,63}\.(top|bottom)$`
)

func text(doc string) *source.Form { return &source.Form{Doc: doc} }
func name(doc string) *source.Form { return &source.Form{Doc: doc, Pattern: namePattern} }
func face(doc string) *source.Form { return &source.Form{Doc: doc, Pattern: facePattern} }
func yes(doc string) *source.Form  { return &source.Form{Doc: doc, Type: source.FormBoolean} }

func word(doc string, words ...string) *source.Form {
	return &source.Form{Doc: doc, Type: source.FormWord, Words: words}
}

// length is a length or coordinate in the part's units; size is one above zero.
func length(doc string) *source.Form {
	return &source.Form{Doc: doc, Type: source.FormNumber, Bounded: true, Bounds: [2]float64{-MostLength, MostLength}}
}

func size(doc string) *source.Form {
	return &source.Form{Doc: doc, Type: source.FormNumber, Bounded: true, Open: true, Bounds: [2]float64{0, MostLength}}
}

// room is a length of 0 or more.
func room(doc string) *source.Form {
	return &source.Form{Doc: doc, Type: source.FormNumber, Bounded: true, Bounds: [2]float64{0, MostLength}}
}

func within(doc string, least, most float64) *source.Form {
	return &source.Form{Doc: doc, Type: source.FormNumber, Bounded: true, Bounds: [2]float64{least, most}}
}

func whole(doc string, least, most float64) *source.Form {
	return &source.Form{Doc: doc, Type: source.FormNumber, Whole: true, Bounded: true, Bounds: [2]float64{least, most}}
}

func positive(doc string, most float64) *source.Form {
	return &source.Form{Doc: doc, Type: source.FormNumber, Bounded: true, Open: true, Bounds: [2]float64{0, most}}
}

func list(doc string, least, most int, each *source.Form) *source.Form {
	return &source.Form{Doc: doc, Type: source.FormList, Items: [2]int{least, most}, Each: each}
}

func point(doc string) *source.Form { return list(doc, 2, 2, length("")) }

func either(doc string, forms ...*source.Form) *source.Form {
	return &source.Form{Doc: doc, Type: source.FormEither, Either: forms}
}

func keys(doc string, all ...source.Key) *source.Form {
	return &source.Form{Doc: doc, Type: source.FormMap, Keys: all}
}

func named(doc string, each *source.Form) *source.Form {
	return &source.Form{Doc: doc, Type: source.FormNamed, Names: namePattern, Each: each}
}

func may(name string, f *source.Form) source.Key { return source.Key{Name: name, Form: f} }
func must(name string, f *source.Form) source.Key {
	return source.Key{Name: name, Form: f, Required: true}
}

// shared gives a form once in a schema.
func shared(name string, f *source.Form) *source.Form {
	f.Shared = name
	return f
}

// formSet are the forms of a part file, built when they are first needed.
type formSet struct {
	part, body, cut, material, draft, repeat, blend, edge, chamfer, round, side, mark, dimension *source.Form
	line, arc                                                                                    *source.Form // steps of a path
	profile, sides                                                                               map[string]*source.Form
}

// PartForm is the form of a whole part file.
func PartForm() *source.Form { return forms().part }

var forms = sync.OnceValue(func() *formSet {
	atForm := shared("at", point("Where it lies in plan, [x, y]; [0, 0] by default."))
	turnForm := shared("turn", within("Degrees by which it is turned counter-clockwise.", -360, 360))
	cornerForm := shared("corner", room("Radius of its corners."))
	madeBy := shared("made_by", word("How it is made: by the press (the default), or after it.", "pressing", "machining", "sizing"))

	stepForm := shared("step", either("",
		keys("", must("line", point("End of a straight line."))),
		keys("", must("arc", point("End of an arc.")), must("radius", size("Radius of the arc.")),
			must("turn", word("Which way it turns, seen from above.", "cw", "ccw")), may("large", yes("The longer way round; the shorter by default.")))))

	profileForms := []source.Key{
		may("circle", shared("circle", keys("A circle.", must("diameter", size("Its diameter.")), may("at", atForm)))),
		may("rectangle", shared("rectangle", keys("A rectangle.", must("length", size("Along x.")), must("width", size("Along y.")), may("at", atForm), may("turn", turnForm), may("corner", cornerForm)))),
		may("slot", shared("slot", keys("A slot with round ends.", must("length", size("Over all, along x.")), must("width", size("Across.")), may("at", atForm), may("turn", turnForm)))),
		may("polygon", shared("polygon", keys("Straight lines between points.", must("points", list("Its corners, [x, y] each.", 3, 0, point(""))),
			may("corner", either("Radius of its corners: one for all, or one for each.", room(""), list("", 3, 0, room(""))))))),
		may("path", shared("path", keys("Lines and arcs, closed by a line where it ends elsewhere than it began.", must("start", point("Where it begins.")),
			must("steps", list("Its lines and arcs.", 1, 0, stepForm)), may("corner", room("Rounds every joint that is not tangent."))))),
		may("hexagon", shared("hexagon", keys("A regular hexagon.", must("across_flats", size("Between parallel sides.")), may("at", atForm), may("turn", turnForm), may("corner", cornerForm)))),
		may("flatted", shared("flatted", keys("A circle with one or two flats.", must("diameter", size("Its diameter.")), must("flats", list("Distance of each flat from the centre.", 1, 2, size(""))),
			may("at", atForm), may("turn", turnForm), may("corner", cornerForm)))),
		may("gear", shared("gear", keys("Involute teeth on the basic rack of ISO 53.", must("module", size("Normal module.")), must("teeth", whole("Their number.", leastGearTeeth, MostVertices)),
			may("pressure_angle", within("Degrees; 20 by default.", 10, 45)), may("shift", within("Profile shift in modules.", -2, 2)), may("tip_radius", room("Radius at the tips; sharp by default.")),
			may("root_radius", room("Radius at the roots; 0.38 module as far as it fits by default.")), may("helix", within("Helix angle in degrees.", 0, 60)), may("hand", word("Of the helix.", "left", "right")),
			may("internal", yes("The void of a ring gear.")), may("addendum", within("In modules; 1 by default.", 0.1, 3)), may("dedendum", within("In modules; 1.25 by default.", 0.1, 3)), may("at", atForm), may("turn", turnForm)))),
		may("spline", shared("spline", keys("Straight-sided teeth.", must("major", size("Outer diameter.")), must("minor", size("Inner diameter.")), must("teeth", whole("Their number.", leastSplineTeeth, MostVertices)),
			must("tooth_width", size("Width of a tooth.")), may("corner", room("Radius at tips and roots.")), may("at", atForm), may("turn", turnForm)))),
		may("serration", shared("serration", keys("V teeth.", must("major", size("Outer diameter.")), must("minor", size("Inner diameter.")), must("teeth", whole("Their number.", leastSerrations, MostVertices)),
			must("angle", within("Between the flanks, degrees.", 1, 170)), may("tip_radius", room("Radius at the tips.")), may("root_radius", room("Radius at the roots.")), may("at", atForm), may("turn", turnForm)))),
		may("turned", shared("turned", keys("A half section turned about the axis through `at`.", may("at", atForm), must("section", list("Points [radius, z] and arc steps, closed by a line.", 3, MostVertices, either("", point(""), stepForm)))))),
		may("ball", shared("ball", keys("A ball.", must("diameter", size("Its diameter.")), may("band", room("Height of a cylinder at its equator.")), may("at", atForm), may("z", length("Height of its centre; 0 by default."))))),
	}

	draftForm := shared("draft", keys("A draft: the drawn profile is the wide end.", must("angle", within("Degrees from the pressing axis.", 0, 89)), must("narrows", word("The way in which it gets smaller.", "up", "down"))))
	repeatForm := shared("repeat", keys("Copies: round a centre, or along a line with `step`.", must("count", whole("How many, with the first.", 2, MostVertices)), may("about", point("The centre; [0, 0] by default.")),
		may("over", within("Degrees over which they are spread; 360 by default.", leastSpread, 360)), may("turn", yes("They are turned too; yes by default.")), may("step", point("From one to the next, [dx, dy]."))))
	punchForm := shared("punch", word("Whether its level has a punch of its own or is a step in a punch face.", "own", "face"))

	bodyForm := shared("body", profiled(profileForms, "A body: a profile, from one height to another.", may("from", length("Its lower end along z.")), may("to", length("Its upper end along z.")),
		may("draft", draftForm), may("punch", punchForm), may("repeat", repeatForm)))
	cutForm := shared("cut", profiled(profileForms, "A cut: right through, from one height to another, or open at a face with a depth.", may("from", length("Its lower end along z.")), may("to", length("Its upper end along z.")),
		may("draft", draftForm), may("punch", punchForm), may("repeat", repeatForm), may("open", word("The face it is open to.", "top", "bottom")), may("depth", size("From that face.")),
		may("made_by", madeBy), may("section", word("Of a groove that is not rectangular.", "round", "v"))))
	for _, p := range profileKeys {
		if !slices.Contains(sectionKeys, p) {
			bodyForm.Pairs = append(bodyForm.Pairs, [2]string{p, "from"}, [2]string{p, "to"})
		}
	}
	cutForm.Pairs = [][2]string{{"from", "to"}, {"to", "from"}, {"open", "depth"}, {"depth", "open"}}

	blendForm := keys("A plan radius where two features meet.", must("of", list("The two features.", 2, 2, name(""))), must("radius", size("The radius.")))
	chamferForm := keys("A chamfer.", must("width", size("In plan.")), must("slope", within("Degrees.", 1, 89)), may("slope_from", word("What the slope is counted from; the face by default.", "face", "axis")),
		may("flat", room("Flat on the punch's rim outside the chamfer.")), may("land", room("Straight wall below the chamfer.")))
	roundForm := keys("A radius.", must("radius", size("The radius.")))
	edgeForm := &source.Form{Doc: "How the rim where a wall meets an end face is treated, or the foot of a wall.", Type: source.FormMap, Sole: [][]string{{"chamfer", "round"}, {"face", "at"}},
		Keys: []source.Key{must("of", name("A body or cut.")), may("face", word("The end face.", "top", "bottom")), may("at", word("At the foot of its wall.", "foot")), may("chamfer", chamferForm), may("round", roundForm)}}

	sideForms := map[string]*source.Form{
		"hole":   keys("A hole across the axis.", must("diameter", size("Its diameter.")), must("toward", within("Direction in plan from x, degrees.", -360, 360)), must("z", length("Height of its axis."))),
		"groove": keys("A groove round it.", must("width", size("Along the axis.")), must("depth", size("Its depth.")), must("z", length("Height of its middle."))),
		"thread": keys("A screw thread.", must("size", text("Such as M6.")), may("inside", yes("In a bore."))),
		"knurl":  keys("A knurl.", must("pattern", word("Its lines.", "straight", "crossed"))),
		"flat":   keys("A flat across the axis.", must("distance", size("From the axis of the feature.")), must("toward", within("Direction in plan from x, degrees.", -360, 360)), must("z", length("Height of its lower end."))),
	}
	sideForm := &source.Form{Doc: "A feature across the pressing axis.", Type: source.FormMap, Sole: [][]string{sideKinds}, Keys: append(ofSides(sideForms), must("in", name("The feature it is in.")), may("made_by", madeBy))}

	markForm := &source.Form{Doc: "Lettering or a logo on an end face.", Type: source.FormMap, Sole: [][]string{{"raised", "recessed"}}, Keys: []source.Key{must("on", face("The face: NAME.top or NAME.bottom.")),
		may("raised", size("Its height.")), may("recessed", size("Its depth.")), must("box", list("[x, y, length, width]; x and y of its centre.", 4, 4, length(""))), may("text", text("What it says.")),
		may("made_by", madeBy), may("repeat", repeatForm)}}

	tolerances := []string{"class", "limits", "plus_minus", "flatness", "runout", "coaxiality"}
	dimensionForm := &source.Form{Doc: "A toleranced size, or a tolerance of form or position.", Type: source.FormMap, Sole: [][]string{tolerances}, Pairs: [][2]string{{"runout", "to"}, {"coaxiality", "to"}},
		Keys: []source.Key{must("of", text("A number of the file, by its path or short name; of a form tolerance a feature or face.")), may("class", text("Tolerance class of ISO 286-1, such as H7.")),
			may("limits", list("Least and greatest size.", 2, 2, length(""))), may("plus_minus", size("Either way.")), may("flatness", size("Of an end face.")), may("runout", size("Against `to`.")),
			may("coaxiality", size("Against `to`.")), may("to", name("The feature that a run-out or coaxiality refers to."))}}

	materialForm := keys("The powder.", may("name", text("A material of the pack.")), may("density", positive("Sintered, g/cm3.", 25)))
	part := keys("One pressed and sintered part: what its drawing says.",
		may("format", within("Of this file; 1.", 1, 1)),
		must("part", name("Its plain name.")),
		may("title", text("As the drawing has it.")), may("drawing", text("Number of the drawing.")), may("revision", text("Of the drawing.")), may("customer", text("Whom the part is made for.")),
		must("units", word("Of all lengths; angles are degrees.", "mm", "in")),
		may("material", materialForm),
		may("pressing", word("The ends from which the powder is pressed; both by default.", "both", "top")),
		may("sized", yes("It is sized after sintering.")),
		may("quantity", positive("Parts a year.", 1e12)),
		may("seats", list("Faces it stands or stacks on: NAME.top or NAME.bottom.", 0, 0, face(""))),
		must("bodies", &source.Form{Doc: "Material, joined where bodies overlap or touch.", Type: source.FormNamed, Names: namePattern, Each: bodyForm, Items: [2]int{1, 0}}),
		may("cuts", named("Voids taken out of the joined bodies.", cutForm)),
		may("blends", named("Plan radii where two features meet.", blendForm)),
		may("edges", named("Treatment of rims.", edgeForm)),
		may("sides", named("Features across the pressing axis.", sideForm)),
		may("marks", named("Lettering.", markForm)),
		may("dimensions", named("Toleranced sizes.", dimensionForm)),
		may("hold", list("Numbers that no change may touch, by path or short name.", 0, 0, text(""))),
	)
	set := &formSet{part: part, body: bodyForm, cut: cutForm, material: materialForm, draft: draftForm, repeat: repeatForm, blend: blendForm, edge: edgeForm,
		chamfer: chamferForm, round: roundForm, side: sideForm, mark: markForm, dimension: dimensionForm, line: stepForm.Either[0], arc: stepForm.Either[1],
		profile: map[string]*source.Form{}, sides: sideForms}
	for _, k := range profileForms {
		set.profile[k.Name] = k.Form
	}
	return set
})

// profiled is a feature: one of the profiles, and its other keys.
func profiled(profiles []source.Key, doc string, more ...source.Key) *source.Form {
	f := &source.Form{Doc: doc, Type: source.FormMap, Sole: [][]string{profileKeys}}
	f.Keys = append(append(f.Keys, profiles...), more...)
	return f
}

func ofSides(sideForms map[string]*source.Form) (all []source.Key) {
	for _, k := range sideKinds {
		all = append(all, may(k, sideForms[k]))
	}
	return all
}
