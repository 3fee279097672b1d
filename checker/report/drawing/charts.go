package drawing

import (
	"fmt"
	"math"
	"strings"

	"corerod/checker/report/words"
	"corerod/parts/tooling"
)

// Heights charts the columns at fill and pressed; "" where fill is not known.
func (d *Pictures) Heights() string {
	s := d.s
	p := s.p
	if !p.Layout.Fill.Known {
		return ""
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
		s.add(`<rect x="%s" y="%s" width="%s" height="%s" stroke-dasharray="2 1"/>`+"\n", mm(x), mm(y(c.Fill.Value)), mm(wide*0.35),
			mm(y(0)-y(c.Fill.Value)))
		s.add(`<rect x="%s" y="%s" width="%s" height="%s" fill="currentColor" fill-opacity="0.35"/>`+"\n", mm(x+wide*0.38), mm(y(c.Height)),
			mm(wide*0.35), mm(y(0)-y(c.Height)))
		s.label(x+wide*0.17, y(c.Fill.Value)-1, "middle", charted(c.Fill.Value, p.Part.Unit))
		s.label(x+wide*0.55, y(c.Height)-1, "middle", charted(c.Height, p.Part.Unit))
		s.label(x+wide*0.36, y(0)+4, "middle", words.Short(c.Name, int(wide/1.9)))
	}
	s.end()
	return s.chart("column heights at fill and pressed", 92)
}

// charted writes a length in the part's own unit for a chart, to a hundredth of a millimetre.
func charted(v float64, unit string) string {
	if unit == "in" {
		return words.Rounded(v/25.4, 3)
	}
	return words.Rounded(v, 2)
}

// mostCharted is the number of columns in a chart; tables have all.
const mostCharted = 12

// chart is what was drawn as a picture, and empties the sheet.
func (s *sheet) chart(label string, high float64) string {
	text := fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %s %s" font-family="sans-serif" role="img" `+
		`aria-label="%s">`+"\n%s</svg>\n", mm(pictureWide), mm(high), label, s.b.String())
	s.b.Reset()
	return text
}

// Densities charts the green density along the height of each column; "" where none is known.
func (d *Pictures) Densities() string {
	s := d.s
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
		return ""
	}
	low, high = math.Floor(low*20-0.5)/20, math.Ceil(high*20+0.5)/20
	x := func(d float64) float64 { return 24 + (d-low)/(high-low)*160 }
	y := func(share float64) float64 { return 6 + share*70 }
	s.begin(thin)
	s.line(x(low), y(0), x(low), y(1), "")
	s.line(x(low), y(1), x(high), y(1), "")
	s.label(x(low)-2, y(0)+1, "end", "upper")
	s.label(x(low)-2, y(1)+1, "end", "lower")
	for k := range 5 {
		d := low + (high-low)*float64(k)/4
		s.line(x(d), y(1), x(d), y(1)+1, "")
		s.label(x(d), y(1)+4.5, "middle", words.Rounded(d, 3))
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
		s.label(204, 10+float64(n)*6, "start", words.Short(c.Name, 34))
		n++
	}
	s.end()
	return s.chart("green density along the height of each column", 86)
}
