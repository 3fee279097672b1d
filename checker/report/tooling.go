package report

import (
	"fmt"
	"io"
	"math"
	"strings"
	"text/tabwriter"

	"corerod/checker"
	"corerod/checker/report/words"
	"corerod/parts/source"
	"corerod/parts/stock"
	"corerod/parts/subject"
	"corerod/parts/tooling"
	"corerod/rules"
)

// Cautions close every layout of a tool for people: what can hurt, and who decides.
var Cautions = []string{
	"Presses: ANSI B11.16 (the same document as MPIF 47) covers powder presses; machine guarding and lock-out rules apply.",
	"Dust: fine iron and other metal powders burn and explode; NFPA 660, formerly 484 (the number from memory), and the report 2011-4-I-TN of the US Chemical Safety Board on accidents with iron dust.",
	"Furnace atmospheres: hydrogen is explosive from 4 to 75 % in air; endothermic gas carries about 20 % carbon monoxide and much hydrogen, poisonous and explosive; NFPA 86.",
	words.Caution,
}

// Tooling writes the layout of the tool for people: the members with their figures, the reason for each, the columns at
// fill and pressed, density, ejection, die sizes, the press, what was assumed and what is not known.
func Tooling(w io.Writer, d *checker.Derived, packs []*rules.Pack, shop *rules.Shop) error {
	t := &toolingWriter{unit: d.Part.Unit, l: d.Layout, s: d.Subject}
	t.head(d.Part)
	t.line("  %s", t.class())
	for _, c := range t.l.Cannot {
		t.line("  No tool forms it as drawn: %s.", source.Plain(c))
	}
	t.members()
	t.choices()
	t.columns()
	t.density()
	t.ejection()
	t.sizes()
	t.press()
	t.assumed()
	t.line("")
	t.force(packs, shop)
	for _, c := range Cautions {
		t.line("%s", c)
	}
	_, err := io.WriteString(w, t.b.String())
	return err
}

type toolingWriter struct {
	textWriter
	unit string
	l    *tooling.Layout
	s    *subject.Part
}

// title starts a section.
func (t *toolingWriter) title(text string) {
	if t.apart {
		t.blocks = append(t.blocks, block{title: text})
		return
	}
	t.line("")
	t.line("  %s", text)
}

// table writes rows with aligned columns.
func (t *toolingWriter) table(rows [][]string) {
	if t.apart {
		last := &t.blocks[len(t.blocks)-1]
		last.rows = append(last.rows, rows...)
		return
	}
	w := tabwriter.NewWriter(&t.b, 0, 0, 2, ' ', 0)
	for _, r := range rows {
		fmt.Fprintln(w, "    "+strings.Join(r, "\t"))
	}
	_ = w.Flush() // to a builder
}

func (t *toolingWriter) length(o subject.Optional) string {
	if !o.Known {
		return "-"
	}
	return t.mm(o.Value)
}

// area writes an area in the square of the part's own unit, without it.
func (t *toolingWriter) area(o subject.Optional) string {
	if !o.Known {
		return "-"
	}
	text, _, _ := strings.Cut(words.Area(o.Value, t.unit), " ")
	return text
}

// mm writes a length in the part's own unit, to a thousandth of a millimetre, without the unit.
func (t *toolingWriter) mm(v float64) string {
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

func (t *toolingWriter) class() string {
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
		return text + ", pressed from the top alone"
	}
	return text + ", pressed from both ends"
}

// kinds of members for people.
var kinds = map[string]string{tooling.Die: "die", tooling.UpperPunch: "upper punch", tooling.LowerPunch: "lower punch", tooling.CoreRod: "core rod"}

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

func (t *toolingWriter) members() {
	t.title("Members")
	rows := [][]string{{"", "area " + t.unit + "2", "section " + t.unit, "step section " + t.unit, "fill " + t.unit, "stroke " + t.unit, "pressure MPa", "force kN"}}
	for _, m := range t.l.Members {
		rows = append(rows, []string{called(m), t.area(m.Area), t.length(m.Section), t.length(m.StepSection), t.length(m.Fill), t.length(m.Stroke), plain(m.Pressure), plain(m.Force)})
	}
	t.table(rows)
	if t.l.Force.Known {
		t.line("    Press force in all: %s kN.", words.Digits(t.l.Force.Value))
	}
}

// choices gives the reason for each member, what one punch for two heights comes to, and what turning over saves.
func (t *toolingWriter) choices() {
	t.title("Why these members")
	for _, m := range t.l.Members {
		t.line("    %s: %s.", called(m), source.Plain(strings.Join(m.Why, "; ")))
	}
	for i := range t.l.Steps {
		t.step(&t.l.Steps[i])
	}
	if o := t.l.Turned; o != nil {
		t.line("    Turned over, %s.", t.turned(o))
	}
}

// turned says what turning the part over is good for.
func (t *toolingWriter) turned(o *tooling.Turned) string {
	var good []string
	if o.Saves > 0 {
		good = append(good, fmt.Sprintf("the part needs %s fewer: %s then stands on a shelf of the die", words.Plural(o.Saves, "punch"), source.Plain(strings.Join(o.OnShelf, ", "))))
	}
	if o.Moved.Known && o.MovedTurned.Value < o.Moved.Value/2 {
		moved := "no powder"
		if o.MovedTurned.Value > 0 {
			moved = "powder to a depth of " + t.mm(o.MovedTurned.Value) + " " + t.unit
		}
		good = append(good, fmt.Sprintf("%s must move sideways instead of up to %s %s", moved, t.mm(o.Moved.Value), t.unit))
	}
	return fmt.Sprintf("%s; it then has %s and %s", strings.Join(good, ", and "), words.Plural(o.Upper, "upper punch"), words.Plural(o.Lower, "lower punch"))
}

// step says what one punch for the two levels of a step comes to.
func (t *toolingWriter) step(s *tooling.Shared) {
	text := fmt.Sprintf("%s in one punch face", source.Plain(s.Step.Name))
	if s.Declared {
		text += " as declared"
	}
	if !s.Fill.Known {
		return
	}
	text += fmt.Sprintf(": filled for %s the powder over %s is %s %s deep, pressed to %s %s: %s g/cm3 if none moves sideways", source.Plain(s.Front),
		source.Plain(s.Back), t.mm(s.Fill.Value), t.unit, t.mm(s.Low), t.unit, words.Digits(s.Needs.Value))
	switch {
	case s.Impossible && s.Declared:
		text += fmt.Sprintf(", impossible: without pores it has %s. So it is given its own punch here", words.Digits(s.PoreFree))
	case s.Impossible:
		text += fmt.Sprintf(", more than the %s it has without pores, so powder must move to where it is taller", words.Digits(s.PoreFree))
	}
	t.line("    %s.", text)
}

// width of the picture of the columns, characters.
const pictureWidth = 56

// columns draws the columns at fill, level with the top of the die at the right, and pressed.
func (t *toolingWriter) columns() {
	t.title(fmt.Sprintf("Columns, %s: # loose powder under the top of the die, at the right; = pressed", t.unit))
	top, scale := math.Inf(-1), t.s.Height
	for _, c := range t.l.Columns {
		top = math.Max(top, c.ZHigh)
		scale = math.Max(scale, c.Fill.Value)
	}
	bar := func(mark string, length, gap float64) string {
		chars := func(v float64) int { return int(math.Round(v / scale * pictureWidth)) }
		n := max(1, chars(length))
		right := min(chars(gap), pictureWidth-n)
		return "|" + strings.Repeat(" ", pictureWidth-n-right) + strings.Repeat(mark, n) + strings.Repeat(" ", right) + "|"
	}
	for _, c := range t.l.Columns {
		name := source.Plain(c.Name)
		if c.Count > 1 {
			name += fmt.Sprintf(", %d alike", c.Count)
		}
		t.line("    %s: %s", name, words.Area(c.Area, t.unit))
		if c.Fill.Known {
			text := fmt.Sprintf("fill %s, %s of its height", t.mm(c.Fill.Value), words.Digits(c.Ratio.Value))
			if v := c.Transfer.Value; v > 0 {
				text += fmt.Sprintf("; %s must come from beside", t.mm(v))
			} else if v < 0 {
				text += fmt.Sprintf("; %s must move beside", t.mm(-v))
			}
			t.b.WriteString("      " + bar("#", c.Fill.Value, 0) + " " + text + "\n")
		}
		t.b.WriteString("      " + bar("=", c.Height, top-c.ZHigh) + " " + t.mm(c.Height) + "\n")
	}
}

func (t *toolingWriter) density() {
	if !t.l.Green.Known {
		return
	}
	t.title(fmt.Sprintf("Green density %s g/cm3", words.Digits(t.l.Green.Value)))
	if s := t.l.Strength; s.Known {
		t.line("    Green strength about %s MPa, by the powder's own line%s.", words.Digits(s.Value), t.handling())
	}
	if !t.l.Mean.Known {
		return
	}
	t.line("    %s MPa mean pressure, from the powder's curve.", words.Digits(t.l.Mean.Value))
	rows := [][]string{{"along the height", "top", "least", "bottom g/cm3", "least at, below the top " + t.unit, "spread g/cm3"}}
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
	t.table(rows)
}

// handling holds green strength against what handling needs.
func (t *toolingWriter) handling() string {
	h := t.l.Handling
	switch {
	case !h.Known:
		return ""
	case t.l.Strength.Value < h.Value:
		return fmt.Sprintf(": less than the %s MPa that handling needs", words.Digits(h.Value))
	}
	return fmt.Sprintf("; handling needs %s MPa", words.Digits(h.Value))
}

func (t *toolingWriter) ejection() {
	t.title("Ejection")
	b := t.l
	if b.Ejection.Known {
		t.line("    %s kN, over walls of %s on the die and %s on core rods; over a stroke of %s %s and the clearance of the press.", words.Digits(b.Ejection.Value),
			words.Area(b.DieWall, t.unit), words.Area(b.CoreWall, t.unit), t.mm(t.s.Height), t.unit)
		return
	}
	t.line("    force not known; walls of %s on the die and %s on core rods; a stroke of %s %s and the clearance of the press.", words.Area(b.DieWall, t.unit), words.Area(b.CoreWall, t.unit), t.mm(t.s.Height), t.unit)
}

func (t *toolingWriter) sizes() {
	if len(t.l.Sizes) == 0 {
		return
	}
	t.title("Sizes of the die, core rods and punches for the drawn sizes, " + t.unit)
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
	t.table(rows)
}

// fine writes a length of the tool, to a tenth of a micrometre.
func (t *toolingWriter) fine(v float64) string { return words.Coordinate(v, t.unit) }

func (t *toolingWriter) press() {
	c := t.l.Press
	t.title("Press")
	var need []string
	for _, x := range []struct {
		what, unit string
		v          subject.Optional
		length     bool
	}{{"capacity", "kN", c.Capacity, false}, {"fill", t.unit, c.Fill, true}, {"ejection", "kN", c.Ejection, false}, {"ejection stroke", t.unit, c.Stroke, true}} {
		switch {
		case !x.v.Known:
			need = append(need, x.what+" not known")
		case x.length:
			need = append(need, fmt.Sprintf("%s %s %s", x.what, t.mm(x.v.Value), x.unit))
		default:
			need = append(need, fmt.Sprintf("%s %s %s", x.what, words.Digits(x.v.Value), x.unit))
		}
	}
	t.line("    It must offer: %s, %s, %s.", strings.Join(need, ", "), words.Plural(c.Upper, "upper punch"), words.Plural(c.Lower, "lower punch"))
	switch {
	case c.Press == nil && !c.Listed:
		t.line("    No pack in force lists presses.")
	case c.Press == nil:
		t.line("    Too little is known to choose among the presses listed.")
	case c.Serves:
		t.line("    %s serves, loaded to %s %% of its capacity and %s %% of its fill.", source.Plain(c.Press.Name), words.Digits(100*c.Load), words.Digits(100*c.FillShare))
	default:
		t.line("    None of the presses listed serves; %s comes nearest, loaded to %s %% of its capacity.", source.Plain(c.Press.Name), words.Digits(100*c.Load))
	}
	for _, why := range c.Why {
		t.line("    %s.", source.Plain(why))
	}
}

func (t *toolingWriter) assumed() {
	if len(t.l.Assumed) > 0 {
		t.title("Assumed, and where a shop puts its own figure")
		rows := [][]string{}
		for _, a := range t.l.Assumed {
			rows = append(rows, []string{source.Plain(a.What), strings.TrimSpace(words.Digits(a.Value) + " " + a.Unit), basisWords(a.Basis), source.Plain(a.From)})
		}
		t.table(rows)
	}
	if len(t.l.Unknown) > 0 {
		t.title("Not known")
		for _, u := range t.l.Unknown {
			t.line("    %s.", source.Plain(u))
		}
	}
}

func basisWords(b stock.Basis) string {
	switch b {
	case stock.Practice:
		return "common practice, no source"
	case stock.Memory:
		return "from memory, unverified"
	case stock.Shop:
		return "the shop's own"
	}
	return string(b)
}
