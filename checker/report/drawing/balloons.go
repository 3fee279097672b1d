package drawing

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"corerod/checker"
	"corerod/parts/plane"
	"corerod/rules"
)

// mark is the place of a finding on paper.
type mark struct {
	number  int
	finding *checker.Finding
	x, y    float64
}

// Balloons on paper, mm.
const (
	balloon   = 3.0 // radius
	apart     = 2*balloon + 1
	farOff    = 10.0 // of the first row from the view
	rowsApart = 2*balloon + 1.5

	mostBalloons = 60 // of the findings that come first
)

// standing is a mark with the centre of its balloon on paper.
type standing struct {
	mark
	at plane.Point
}

// sides divides marks, in order along the view, into those whose balloons stand above it and on its right, where that is free.
func (v *view) sides(marks []mark, right bool) (above, beside []mark) {
	slices.SortFunc(marks, func(a, b mark) int { return cmp.Compare(a.number, b.number) })
	for _, m := range marks {
		if !right || m.y-(v.bottom-v.height()) <= v.left+v.width()-m.x {
			above = append(above, m)
		} else {
			beside = append(beside, m)
		}
	}
	slices.SortStableFunc(above, func(a, b mark) int { return cmp.Compare(a.x, b.x) })
	slices.SortStableFunc(beside, func(a, b mark) int { return cmp.Compare(a.y, b.y) })
	return above, beside
}

// makeRoom tells what the rows of balloons past the first will take above and on the right of a view.
func (v *view) makeRoom(marks []mark, right bool) {
	above, beside := v.sides(marks, right)
	v.above = float64(max(1, rowsOf(len(above), v.width()+10))-1) * rowsApart
	v.beside = float64(max(1, rowsOf(len(beside), v.height()))-1) * rowsApart
}

// rowsOf is how many rows some balloons take along a side.
func rowsOf(n int, long float64) int {
	room := max(1, int(math.Max(0, long)/apart)+1)
	return (n + room - 1) / room
}

// stand places a balloon for each mark, in rows above and, where it is free, on the right of a view.
func (v *view) stand(marks []mark, right bool) (all []standing) {
	above, beside := v.sides(marks, right)
	top, side := v.bottom-v.height()-farOff, v.left+v.width()+farOff+4
	for i, at := range spreadOut(len(above), func(i int) float64 { return above[i].x }, v.left-8, v.left+v.width()+2) {
		all = append(all, standing{above[i], plane.Point{X: at.along, Y: top - float64(at.row)*rowsApart}})
	}
	for i, at := range spreadOut(len(beside), func(i int) float64 { return beside[i].y }, v.bottom-v.height()+4, v.bottom+4) {
		all = append(all, standing{beside[i], plane.Point{X: side + float64(at.row)*rowsApart, Y: at.along}})
	}
	return all
}

// balloons draws numbered balloons, each with a line to its place.
func (s *sheet) balloons(all []standing) {
	for _, b := range all {
		s.balloon(b.mark, b.at.X, b.at.Y)
	}
}

// spot is where a balloon stands: along its side, and in which row outward.
type spot struct {
	along float64
	row   int
}

// spreadOut places balloons in order along a side, as near to their marks as their room allows, in as few rows as it takes.
func spreadOut(n int, want func(i int) float64, low, high float64) []spot {
	rows := rowsOf(n, high-low)
	out := make([]spot, n)
	for row := range rows {
		var in []int
		for i := row; i < n; i += rows {
			in = append(in, i)
		}
		at := make([]float64, len(in))
		for k, i := range in {
			at[k] = math.Max(low, want(i))
			if k > 0 {
				at[k] = math.Max(at[k], at[k-1]+apart)
			}
		}
		limit := math.Max(high, low+float64(len(in)-1)*apart)
		for k := len(in) - 1; k >= 0; k-- {
			at[k] = math.Min(at[k], limit)
			limit = at[k] - apart
			out[in[k]] = spot{at[k], row}
		}
	}
	return out
}

// balloon draws one balloon. Grades differ by their rings: two for a stop, one for a change, a broken one for an ask.
func (s *sheet) balloon(m mark, x, y float64) {
	s.low = math.Min(s.low, y-balloon-1)
	d := math.Hypot(m.x-x, m.y-y)
	ex, ey := x+(m.x-x)*balloon/d, y+(m.y-y)*balloon/d
	close := "</g>\n"
	if s.links {
		id := ""
		if !s.linked[m.number] {
			s.linked[m.number] = true
			id = fmt.Sprintf(` id="balloon-%d"`, m.number)
		}
		s.add(`<a class="balloon"%s href="#finding-%d" aria-label="finding %d, %s">`, id, m.number, m.number, m.finding.Grade)
		close = "</a>\n"
	} else {
		s.add(`<g class="balloon">`)
	}
	s.add(`<g fill="none" stroke="currentColor" stroke-width="%s">`, mm(thin))
	s.line(ex, ey, m.x, m.y, "")
	s.add(`<circle cx="%s" cy="%s" r="0.6" fill="currentColor"/>`, mm(m.x), mm(m.y))
	s.ring(m.finding.Grade, x, y)
	s.add("</g>")
	s.text(x, y+1.2, 2.5, "middle", mm(float64(m.number)))
	s.add("%s", close)
}

// ring draws the ring of a grade.
func (s *sheet) ring(g rules.Grade, x, y float64) {
	width, dash := thick, ""
	if g == rules.Ask {
		width, dash = thin, ` stroke-dasharray="1.2 0.8"`
	}
	s.add(`<circle class="ring" cx="%s" cy="%s" r="%s" stroke-width="%s"%s/>`, mm(x), mm(y), mm(balloon), mm(width), dash)
	if g == rules.Stop {
		s.add(`<circle cx="%s" cy="%s" r="%s"/>`, mm(x), mm(y), mm(balloon-0.8))
	}
}
