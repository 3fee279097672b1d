package report

import (
	"fmt"
	"math"
	"strings"

	"corerod/checker"
	"corerod/parts/subject"
	"corerod/parts/tooling"
)

// tool writes the layout of the tool: the picture, the charts, and what the layout says.
func (h *page) tool(s *sheet) {
	p := s.p
	h.add("<h2 id=\"tool\">Tool</h2>\n<figure>\n")
	scale := s.tools(4, 4, pictureWide-8, pictureHigh-26)
	low, high := s.low, s.high
	s.members(8, high+4)
	h.picture(s, "die, punches and core rods along section A", low, high+20)
	h.add("<figcaption>Along A - A, scale %s where 1 mm of the picture is 1 mm.</figcaption>\n</figure>\n", scaleName(scale))
	t := &toolingWriter{unit: p.Part.Unit, l: p.Layout, s: p.Subject}
	t.apart = true
	t.title(t.class())
	for _, c := range t.l.Cannot {
		t.line("No tool forms it as drawn: %s.", c)
	}
	t.members()
	t.choices()
	h.blocks(t.blocks)
	h.heights(s)
	t.blocks = nil
	t.density()
	h.blocks(t.blocks)
	h.densities(s)
	t.blocks = nil
	t.ejection()
	t.sizes()
	t.press()
	t.assumed()
	h.blocks(t.blocks)
}

// blocks writes titled lines and tables. Their text is escaped for a terminal already, and here for the page.
func (h *page) blocks(all []block) {
	for _, b := range all {
		h.element("h3", "", b.title)
		if len(b.rows) > 0 {
			h.add("<div class=\"wide\" tabindex=\"0\">\n<table>\n")
			for i, row := range b.rows {
				cell := map[bool]string{true: "th", false: "td"}[i == 0]
				h.add("<tr>")
				for _, c := range row {
					h.add("<%s>%s</%s>", cell, inert(c), cell)
				}
				h.add("</tr>\n")
			}
			h.add("</table>\n</div>\n")
		}
		if len(b.lines) > 0 {
			h.add("<ul>\n")
			for _, l := range b.lines {
				h.element("li", "", l)
			}
			h.add("</ul>\n")
		}
	}
}

// heights charts the columns at fill and pressed.
func (h *page) heights(s *sheet) {
	p := s.p
	if !p.Layout.Fill.Known {
		return
	}
	all := p.Layout.Columns[:min(len(p.Layout.Columns), mostCharted)]
	most := p.Layout.Fill.Value
	for _, c := range all { // a density below that of loose powder fills less than it presses
		most = math.Max(most, c.Height)
	}
	const left, high = 14.0, 70.0
	wide := math.Min(40, (pictureWide-left-10)/float64(len(all)))
	y := func(v float64) float64 { return 82 - v/most*high }
	s.begin(thin)
	s.line(left, y(0), pictureWide-6, y(0), "")
	for k := range 5 {
		v := most * float64(k) / 4
		s.line(left-1, y(v), left, y(v), "")
		s.label(left-2, y(v)+1, "end", charted(v, p.Part.Unit))
	}
	for i, c := range all {
		x := left + 4 + wide*float64(i)
		s.add(`<rect x="%s" y="%s" width="%s" height="%s" stroke-dasharray="2 1"/>`+"\n", mm(x), mm(y(c.Fill.Value)), mm(wide*0.35), mm(y(0)-y(c.Fill.Value)))
		s.add(`<rect x="%s" y="%s" width="%s" height="%s" fill="currentColor" fill-opacity="0.35"/>`+"\n", mm(x+wide*0.38), mm(y(c.Height)), mm(wide*0.35), mm(y(0)-y(c.Height)))
		s.label(x+wide*0.17, y(c.Fill.Value)-1, "middle", charted(c.Fill.Value, p.Part.Unit))
		s.label(x+wide*0.55, y(c.Height)-1, "middle", charted(c.Height, p.Part.Unit))
		s.label(x+wide*0.36, y(0)+4, "middle", short(c.Name, int(wide/1.9)))
	}
	s.end()
	h.chart(s, "column heights at fill and pressed", 92,
		fmt.Sprintf("Height of each column, %s: broken, loose powder at fill; filled, pressed.", p.Part.Unit))
}

// charted writes a length in the part's own unit for a chart, to a hundredth of a millimetre.
func charted(v float64, unit string) string {
	if unit == "in" {
		return rounded(v/25.4, 3)
	}
	return rounded(v, 2)
}

// mostCharted is the number of columns in a chart; tables have all.
const mostCharted = 12

// chart puts what was drawn into the page as a figure.
func (h *page) chart(s *sheet, label string, high float64, caption string) {
	h.add(`<figure>`+"\n"+`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %s %s" font-family="sans-serif" role="img" aria-label="%s">`+"\n%s</svg>\n", mm(pictureWide), mm(high), label, s.b.String())
	h.element("figcaption", "", caption)
	h.add("</figure>\n")
	s.b.Reset()
}

// densities charts the green density along the height of each column.
func (h *page) densities(s *sheet) {
	p := s.p
	low, high := math.Inf(1), math.Inf(-1)
	lines := map[*tooling.Column][][2]float64{}
	for _, c := range p.Layout.Columns[:min(len(p.Layout.Columns), mostCharted)] {
		for k := range 41 {
			x := float64(k) / 40
			if d, _ := p.Layout.Density(c, x); d.Known {
				lines[c] = append(lines[c], [2]float64{x, d.Value})
				low, high = math.Min(low, d.Value), math.Max(high, d.Value)
			}
		}
	}
	if len(lines) == 0 {
		return
	}
	low, high = math.Floor(low*20-0.5)/20, math.Ceil(high*20+0.5)/20
	x := func(d float64) float64 { return 24 + (d-low)/(high-low)*160 }
	y := func(share float64) float64 { return 6 + share*70 }
	s.begin(thin)
	s.line(x(low), y(0), x(low), y(1), "")
	s.line(x(low), y(1), x(high), y(1), "")
	s.label(x(low)-2, y(0)+1, "end", "top")
	s.label(x(low)-2, y(1)+1, "end", "bottom")
	for k := range 5 {
		d := low + (high-low)*float64(k)/4
		s.line(x(d), y(1), x(d), y(1)+1, "")
		s.label(x(d), y(1)+4.5, "middle", rounded(d, 3))
	}
	n := 0
	for _, c := range p.Layout.Columns {
		ps := lines[c]
		if len(ps) == 0 {
			continue
		}
		var d strings.Builder
		for i, q := range ps {
			fmt.Fprintf(&d, "%s%s %s", map[bool]string{true: "M", false: "L"}[i == 0], mm(x(q[1])), mm(y(q[0])))
		}
		dash := []string{"", ` stroke-dasharray="4 1.5"`, ` stroke-dasharray="1 1"`, ` stroke-dasharray="6 1.5 1 1.5"`}[n%4]
		s.add(`<path d="%s" stroke-width="%s"%s/>`+"\n", d.String(), mm(thick), dash)
		s.line(192, 9+float64(n)*6, 202, 9+float64(n)*6, fmt.Sprintf(` stroke-width="%s"%s`, mm(thick), dash))
		s.label(204, 10+float64(n)*6, "start", short(c.Name, 34))
		n++
	}
	s.end()
	h.chart(s, "green density along the height of each column", 86, "Green density along the height of each column, g/cm3.")
}

// measures lists what rules see of the part, a subject a row.
func (h *page) measures(p *checker.PartReview) {
	h.add("<h2 id=\"measures\">Measures</h2>\n")
	h.element("p", "", "As rules see them: lengths in mm, angles in degrees, x, y and z in the frame of the part file.")
	for _, k := range subject.Kinds() {
		all := subject.Of(p.Subject, k)
		if len(all) == 0 {
			continue
		}
		h.add("<details>\n<summary>%s</summary>\n<table>\n", k.List+map[bool]string{true: "part"}[k == subject.PartKind])
		for _, x := range all {
			var says []string
			for i := range k.Fields {
				f := &k.Fields[i]
				if f.Type == subject.List || isPlace(f) {
					continue
				}
				if v := measured(f, x); v != "-" {
					says = append(says, strings.TrimSpace(f.Name+" "+v+" "+unitOf(f)))
				}
			}
			h.add("<tr><th>%s</th><td>%s; %s</td></tr>\n", inert(x.Place().Name), inert(strings.Join(says, "; ")), inert(placed(x.Place())))
		}
		h.add("</table>\n</details>\n")
	}
}
