package report

import (
	"fmt"
	"math"
	"strings"

	"corerod/checker"
	"corerod/checker/report/words"
	"corerod/parts/source"
	"corerod/parts/subject"
	"corerod/parts/tooling"
)

// toolPage is the layout of a tool in words.
type toolPage struct {
	heading
	class   string
	wayUp   string
	cannot  []string
	members []section // what it is made of, and why
	columns section   // of powder, with bars
	density []section
	making  []section // ejection, sizes, press, what was assumed and what is not known
}

// toolWords word a layout, in the unit of the part.
type toolWords struct {
	unit string
	l    *tooling.Layout
	s    *subject.Part
}

// toolOf words the layout of the tool for a part.
func toolOf(d *checker.Derived) *toolPage {
	t := &toolWords{d.Part.Unit, d.Layout, d.Subject}
	p := &toolPage{heading: headingOf(d.Part), class: t.class(), wayUp: wayUp(&d.Layout.WayUp, d.Part.Unit),
		members: []section{t.members(), t.choices()}, columns: t.columns(),
		density: t.density()}
	for _, c := range t.l.Cannot {
		p.cannot = append(p.cannot, "No tool forms it as drawn: "+source.Plain(c)+".")
	}
	p.making = append(append(append([]section{t.ejection()}, t.sizes()...), t.press()), t.assumed()...)
	return p
}

func (t *toolWords) length(o subject.Optional) string {
	if !o.Known {
		return "-"
	}
	return t.mm(o.Value)
}

// area writes an area in the square of the part's own unit, without it.
func (t *toolWords) area(o subject.Optional) string {
	if !o.Known {
		return "-"
	}
	text, _, _ := strings.Cut(words.Area(o.Value, t.unit), " ")
	return text
}

// mm writes a length in the part's own unit, to a thousandth of a millimetre, without the unit.
func (t *toolWords) mm(v float64) string {
	places := 3
	if t.unit == "in" {
		v, places = v/25.4, 4
	}
	return words.Rounded(v, places)
}

func plain(o subject.Optional) string {
	if !o.Known {
		return "-"
	}
	return words.Digits(o.Value)
}

func (t *toolWords) class() string {
	l := t.l
	members := []string{words.Plural(l.Upper, "upper punch"), words.Plural(l.Lower, "lower punch")}
	if l.Shelves > 0 {
		members = append(members, words.Plural(l.Shelves, "shelf"))
	}
	rods := 0
	for _, m := range l.Of(tooling.CoreRod) {
		rods += m.Count
	}
	members = append(members, words.Plural(rods, "core rod"))
	text := fmt.Sprintf("class %s: a die, %s; %s %s high", words.Class(l.Class), strings.Join(members, ", "), t.mm(t.s.Height), t.unit)
	if t.s.Pressing == "top" {
		return text + ", pressed from above alone"
	}
	return text + ", pressed from both ends"
}

// wayUp says how the part lies in the die, and why.
func wayUp(w *tooling.WayUp, unit string) string {
	text := "pressed as drawn"
	if w.Over {
		text = "pressed turned over"
	}
	length := func(mm float64) string {
		if unit == "in" {
			return words.Rounded(mm/25.4, 2) + " in"
		}
		return words.Rounded(mm, 1) + " mm"
	}
	switch {
	case w.Better != nil:
		return text + ", as the part file says; the other way up is better: " + source.Plain(w.Better(length))
	case w.Pinned:
		return text + ", as the part file says"
	case w.Why != nil:
		return text + ": " + source.Plain(w.Why(length))
	}
	return text + "; either way up serves"
}

// kinds of members for people.
var kinds = map[string]string{tooling.Die: "die", tooling.UpperPunch: "upper punch", tooling.LowerPunch: "lower punch",
	tooling.CoreRod: "core rod"}

// called is a member's kind and name.
func called(m *tooling.Member) string {
	text := kinds[m.Kind]
	if m.Kind != tooling.Die {
		text += ", " + source.Plain(m.Name)
	}
	if m.Count > 1 {
		text += fmt.Sprintf(", %d alike", m.Count)
	}
	return text
}

// members are the parts of the tool with their figures.
func (t *toolWords) members() section {
	rows := [][]string{{"", "area " + t.unit + "2", "section " + t.unit, "step section " + t.unit, "fill " + t.unit, "stroke " + t.unit,
		"pressure MPa", "force kN"}}
	for _, m := range t.l.Members {
		rows = append(rows, []string{called(m), t.area(m.Area), t.length(m.Section), t.length(m.StepSection), t.length(m.Fill),
			t.length(m.Stroke), plain(m.Pressure), plain(m.Force)})
	}
	s := section{title: "Members", table: rows}
	if t.l.Force.Known {
		s.notes = []string{fmt.Sprintf("Press force in all: %s kN.", words.Digits(t.l.Force.Value))}
	}
	return s
}

// choices gives the reason for each member, and what one punch for two heights comes to.
func (t *toolWords) choices() section {
	s := section{title: "Why these members"}
	for _, m := range t.l.Members {
		s.notes = append(s.notes, fmt.Sprintf("%s: %s.", called(m), source.Plain(strings.Join(m.Why, "; "))))
	}
	for i := range t.l.Steps {
		if text := t.step(&t.l.Steps[i]); text != "" {
			s.notes = append(s.notes, text+".")
		}
	}
	return s
}

// step says what one punch for the two levels of a step comes to; "" where fill is not known.
func (t *toolWords) step(s *tooling.Shared) string {
	text := fmt.Sprintf("%s in one punch face", source.Plain(s.Step.Name))
	if s.Declared {
		text += " as declared"
	}
	if !s.Fill.Known {
		return ""
	}
	text += fmt.Sprintf(": filled for %s the powder over %s is %s %s deep, pressed to %s %s: %s g/cm3 if none moves sideways",
		source.Plain(s.Front),
		source.Plain(s.Back), t.mm(s.Fill.Value), t.unit, t.mm(s.Low), t.unit, words.Digits(s.Needs.Value))
	switch {
	case s.Impossible && s.Declared:
		text += fmt.Sprintf(", impossible: without pores it has %s. So it is given its own punch here", words.Digits(s.PoreFree))
	case s.Impossible:
		text += fmt.Sprintf(", more than the %s it has without pores, so powder must move to where it is taller", words.Digits(s.PoreFree))
	}
	return text
}

// columns are those of powder with their heights at fill, level with the top of the die at the right, and pressed.
func (t *toolWords) columns() section {
	s := section{title: fmt.Sprintf("Columns, %s: # loose powder under the top of the die, at the right; = pressed", t.unit)}
	top, scale := math.Inf(-1), t.s.Height
	for _, c := range t.l.Columns {
		top = math.Max(top, c.Head())
		scale = math.Max(scale, c.Fill.Value)
	}
	for _, c := range t.l.Columns {
		name := source.Plain(c.Name)
		if c.Count > 1 {
			name += fmt.Sprintf(", %d alike", c.Count)
		}
		e := entry{head: name + ": " + words.Area(c.Area, t.unit)}
		if c.Fill.Known {
			text := fmt.Sprintf("fill %s, %s of its height", t.mm(c.Fill.Value), words.Digits(c.Ratio.Value))
			if v := c.Transfer.Value; v > 0 {
				text += fmt.Sprintf("; %s must come from beside", t.mm(v))
			} else if v < 0 {
				text += fmt.Sprintf("; %s must move beside", t.mm(-v))
			}
			e.bars = append(e.bars, bar{"#", c.Fill.Value / scale, 0, text})
		}
		e.bars = append(e.bars, bar{"=", c.Height / scale, (top - c.Head()) / scale, t.mm(c.Height)})
		s.entries = append(s.entries, e)
	}
	return s
}

// density is that of the pressed part along its height; nothing where it is not known.
func (t *toolWords) density() []section {
	if !t.l.Green.Known {
		return nil
	}
	s := section{title: fmt.Sprintf("Green density %s g/cm3", words.Digits(t.l.Green.Value))}
	if g := t.l.Strength; g.Known {
		s.lead = append(s.lead, fmt.Sprintf("Green strength about %s MPa, by the powder's own line%s.",
			words.Digits(g.Value), t.handling()))
	}
	if !t.l.Mean.Known {
		return []section{s}
	}
	s.lead = append(s.lead, fmt.Sprintf("%s MPa mean pressure, from the powder's curve.", words.Digits(t.l.Mean.Value)))
	rows := [][]string{{"along the height", "upper punch", "least", "lower punch g/cm3", "least at, below the upper punch " + t.unit,
		"spread g/cm3"}}
	for _, c := range t.l.Columns {
		at := func(x float64) string {
			d, _ := t.l.Density(c, x)
			if !d.Known {
				return "past the curve"
			}
			return words.Rounded(d.Value, 3)
		}
		spread := "-"
		if c.Spread.Known {
			spread = words.Rounded(c.Spread.Value, 3)
		}
		rows = append(rows, []string{source.Plain(c.Name), at(0), at(c.Profile.Neutral), at(1), t.mm(c.Profile.Neutral * c.Height), spread})
	}
	s.table = rows
	return []section{s}
}

// handling holds green strength against what handling needs.
func (t *toolWords) handling() string {
	h := t.l.Handling
	switch {
	case !h.Known:
		return ""
	case t.l.Strength.Value < h.Value:
		return fmt.Sprintf(": less than the %s MPa that handling needs", words.Digits(h.Value))
	}
	return fmt.Sprintf("; handling needs %s MPa", words.Digits(h.Value))
}

// ejection is the force, over which walls and which stroke.
func (t *toolWords) ejection() section {
	b := t.l
	walls := fmt.Sprintf("walls of %s on the die and %s on core rods", words.Area(b.DieWall, t.unit), words.Area(b.CoreWall, t.unit))
	stroke := fmt.Sprintf("a stroke of %s %s and the clearance of the press.", t.mm(t.s.Height), t.unit)
	text := "force not known; " + walls + "; " + stroke
	if b.Ejection.Known {
		text = words.Digits(b.Ejection.Value) + " kN, over " + walls + "; over " + stroke
	}
	return section{title: "Ejection", notes: []string{text}}
}

// sizes are those of the tool for the drawn sizes; nothing where there are none.
func (t *toolWords) sizes() []section {
	if len(t.l.Sizes) == 0 {
		return nil
	}
	rows := [][]string{{"", "drawn", "tool", "by the material's range"}}
	for _, s := range t.l.Sizes {
		between := "-"
		if s.Low.Known {
			between = t.fine(s.Low.Value) + " to " + t.fine(s.High.Value)
		}
		tool := "-"
		if s.Cavity.Known {
			tool = t.fine(s.Cavity.Value)
		}
		rows = append(rows, []string{source.Plain(s.Of), words.Coordinate(s.Final, t.unit), tool, between})
	}
	return []section{{title: "Sizes of the die, core rods and punches for the drawn sizes, " + t.unit, table: rows}}
}

// fine writes a length of the tool, to a tenth of a micrometre.
func (t *toolWords) fine(v float64) string { return words.Coordinate(v, t.unit) }

// press is what a press must offer, and which one does.
func (t *toolWords) press() section {
	c := t.l.Press
	s := section{title: "Press"}
	say := func(format string, args ...any) { s.notes = append(s.notes, fmt.Sprintf(format, args...)) }
	var need []string
	for _, x := range []struct {
		what, unit string
		v          subject.Optional
		length     bool
	}{{"capacity", "kN", c.Capacity, false}, {"fill", t.unit, c.Fill, true}, {"ejection", "kN", c.Ejection, false},
		{"ejection stroke", t.unit, c.Stroke, true}} {
		switch {
		case !x.v.Known:
			need = append(need, x.what+" not known")
		case x.length:
			need = append(need, fmt.Sprintf("%s %s %s", x.what, t.mm(x.v.Value), x.unit))
		default:
			need = append(need, fmt.Sprintf("%s %s %s", x.what, words.Digits(x.v.Value), x.unit))
		}
	}
	say("It must offer: %s, %s, %s.", strings.Join(need, ", "), words.Plural(c.Upper, "upper punch"), words.Plural(c.Lower, "lower punch"))
	switch {
	case c.Press == nil && !c.Listed:
		say("No pack in force lists presses.")
	case c.Press == nil:
		say("Too little is known to choose among the presses listed.")
	case c.Serves:
		say("%s serves, loaded to %s %% of its capacity and %s %% of its fill.", source.Plain(c.Press.Name), words.Digits(100*c.Load),
			words.Digits(100*c.FillShare))
	default:
		say("None of the presses listed serves; %s comes nearest, loaded to %s %% of its capacity.", source.Plain(c.Press.Name),
			words.Digits(100*c.Load))
	}
	for _, why := range c.Why {
		say("%s.", source.Plain(why))
	}
	return s
}

// assumed are the figures that the layout stands on and the drawing does not state, and what is not known.
func (t *toolWords) assumed() (all []section) {
	if len(t.l.Assumed) > 0 {
		s := section{title: "Assumed, and where a shop puts its own figure"}
		for _, a := range t.l.Assumed {
			s.table = append(s.table, []string{source.Plain(a.What), strings.TrimSpace(words.Digits(a.Value) + " " + a.Unit),
				basisWords(a.Basis), source.Plain(a.From)})
		}
		all = append(all, s)
	}
	if len(t.l.Unknown) > 0 {
		s := section{title: "Not known"}
		for _, u := range t.l.Unknown {
			s.notes = append(s.notes, source.Plain(u)+".")
		}
		all = append(all, s)
	}
	return all
}
