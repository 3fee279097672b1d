package drawing

import (
	"fmt"
	"math"
	"slices"

	"corerod/checker"
	"corerod/checker/report/words"
	"corerod/parts/plane"
	"corerod/parts/subject"
)

// outlines draws the edges of the view from above.
func (s *sheet) outlines(v *view) {
	v.begin(&s.svg, "plan")
	s.add(`<path class="outline" d="%s"/>`+"\n", loopsData(s.d.Outline))
	var seen, hidden []plane.Curve
	for _, l := range s.d.Lines {
		if l.Hidden {
			hidden = append(hidden, l.Curve)
		} else {
			seen = append(seen, l.Curve)
		}
	}
	if len(seen) > 0 {
		s.add(`<path class="seen" d="%s"/>`+"\n", curvesData(chained(seen), false))
	}
	if len(hidden) > 0 {
		s.add(`<path class="hidden" stroke-width="%s" stroke-dasharray="%s %s" d="%s"/>`+"\n", fine(thin/v.scale), fine(3/v.scale),
			fine(1.5/v.scale), curvesData(chained(hidden), false))
	}
	s.add("</g>\n")
}

// planMarks are the places of the findings in the view from above, sectionMarks those in a section.
func (s *sheet) planMarks(v *view) (marks []mark) {
	for f, n := range s.number {
		if f.Subject.Kind() != subject.PartKind && n <= mostBalloons {
			marks = append(marks, mark{n, f, v.x(f.PlaceOf().X), v.y(f.PlaceOf().Y)})
		}
	}
	return marks
}

// plan draws the view from above.
func (s *sheet) plan(v *view) {
	balloons := v.stand(s.planMarks(v), true)
	s.outlines(v)
	s.begin(thin)
	for _, a := range s.d.Axes { // of what is cut, which may reach past the part, or stand beside it
		x, y, r := v.x(a.At.X), v.y(a.At.Y), a.R*v.scale+2
		if a.At.X < v.low.X || a.At.X > v.high.X || a.At.Y < v.low.Y || a.At.Y > v.high.Y {
			continue
		}
		s.line(math.Max(x-r, v.left-2), y, math.Min(x+r, v.left+v.width()+2), y, centreLine)
		s.line(x, math.Max(y-r, v.bottom-v.height()-2), x, math.Min(y+r, v.bottom+2), centreLine)
	}
	var taken []takenBy
	for _, b := range balloons {
		taken = append(taken, takenBy{b.at, balloon + 2})
	}
	for _, sec := range s.d.Sections {
		taken = s.cuttingPlane(v, sec, taken)
	}
	s.across(v, v.high.X-v.low.X, s.p.Part.Unit)
	s.upright(v, 13, v.high.Y-v.low.Y, s.p.Part.Unit)
	s.chords(v)
	s.end()
	s.text(v.left+v.width()/2, v.bottom+roomBottom+1, 2.5, "middle", "plan, from above")
	s.balloons(balloons)
}

// begin opens a group of thin lines on paper; end closes it.
func (s *sheet) begin(width float64) {
	s.add(`<g fill="none" stroke="currentColor" stroke-width="%s">`+"\n", mm(width))
}

func (s *sheet) end() { s.add("</g>\n") }

// label writes a figure among lines, clear of them.
func (s *sheet) label(x, y float64, anchor, text string) {
	s.add(`<g fill="currentColor" stroke="none">`)
	s.text(x, y, 2.5, anchor, text)
	s.add("</g>\n")
}

// across draws the width of a view as a dimension below it; upright its height on its left, some mm off.
func (s *sheet) across(v *view, size float64, unit string) {
	y := v.bottom + 7
	for _, x := range []float64{v.left, v.left + v.width()} {
		s.line(x, v.bottom+1, x, y+1.5, "")
	}
	s.line(v.left, y, v.left+v.width(), y, "")
	s.arrow(v.left, y, 0)
	s.arrow(v.left+v.width(), y, math.Pi)
	s.label(v.left+v.width()/2, y-1, "middle", words.Coordinate(size, unit))
}

func (s *sheet) upright(v *view, off, size float64, unit string) {
	x := v.left - off
	for _, y := range []float64{v.bottom, v.bottom - v.height()} {
		s.line(v.left-1, y, x-1.5, y, "")
	}
	s.line(x, v.bottom, x, v.bottom-v.height(), "")
	s.arrow(x, v.bottom, -math.Pi/2)
	s.arrow(x, v.bottom-v.height(), math.Pi/2)
	s.add(`<g fill="currentColor" stroke="none" transform="translate(%s %s) rotate(-90)">`, mm(x-1), mm(v.bottom-v.height()/2))
	s.text(0, 0, 2.5, "middle", words.Coordinate(size, unit))
	s.add("</g>\n")
}

// chords draws the walls and gaps that findings are of as dimensions, each once, arrows from outside where there is no room
// between.
func (s *sheet) chords(v *view) {
	var drawn []plane.Curve
	for _, f := range words.ByGrade(s.p.Findings) {
		c, ok := s.d.Chords[f]
		same := func(x plane.Curve) bool {
			return x.A.Distance(c.A)+x.B.Distance(c.B) < sameChord || x.A.Distance(c.B)+x.B.Distance(c.A) < sameChord
		}
		if !ok || slices.ContainsFunc(drawn, same) {
			continue
		}
		drawn = append(drawn, c)
		x1, y1, x2, y2 := v.x(c.A.X), v.y(c.A.Y), v.x(c.B.X), v.y(c.B.Y)
		a := math.Atan2(y2-y1, x2-x1)
		s.add(`<g class="chord">`)
		s.line(x1-6*math.Cos(a), y1-6*math.Sin(a), x2+6*math.Cos(a), y2+6*math.Sin(a), "")
		s.arrow(x1, y1, a+math.Pi)
		s.arrow(x2, y2, a)
		if a > math.Pi/2 || a <= -math.Pi/2 {
			x2, y2, a = x1, y1, a+math.Pi
		}
		s.label(x2+4*math.Cos(a)+2*math.Sin(a), y2+4*math.Sin(a)-2*math.Cos(a)+1, "start", words.Coordinate(c.Length(), s.p.Part.Unit))
		s.add("</g>\n")
	}
}

// takenBy is where something stands on paper, and how far from it the middle of a letter is clear of it, mm.
type takenBy struct {
	at    plane.Point
	clear float64
}

// cuttingPlane draws the path of a section in the plan: a chain line, thick at its ends and corners, with arrows the way one
// looks, and its letter clear of what stands there, which is returned with its own.
func (s *sheet) cuttingPlane(v *view, sec *checker.Section, taken []takenBy) []takenBy {
	var points []plane.Point
	lo, hi := bounds(sec.Loops)
	for i := range sec.Path {
		l := &sec.Path[i]
		from, to := math.Max(l.From, lo.X-5/v.scale), math.Min(l.To, hi.X+5/v.scale)
		if from < to {
			points = append(points, l.Point(from), l.Point(to))
		}
	}
	points = slices.CompactFunc(points, func(a, b plane.Point) bool { return a.Distance(b) < samePoint })
	d := ""
	for i, p := range points {
		d += fmt.Sprintf("%s%s %s", map[bool]string{true: "M", false: "L"}[i == 0], mm(v.x(p.X)), mm(v.y(p.Y)))
	}
	s.add(`<path d="%s"%s/>`+"\n", d, centreLine)
	last := len(points) - 1
	for i, p := range points {
		beside := points[max(0, i-1)]
		if i == 0 {
			beside = points[1]
		}
		u := math.Atan2(v.y(beside.Y)-v.y(p.Y), v.x(beside.X)-v.x(p.X))
		x, y := v.x(p.X), v.y(p.Y)
		s.line(x, y, x+4*math.Cos(u), y+4*math.Sin(u), fmt.Sprintf(` stroke-width="%s"`, mm(thick)))
		if i != 0 && i != last {
			continue
		}
		from := u + math.Pi/2 // where one stands: on the right of the way, y downward
		if i == last {
			from = u - math.Pi/2
		}
		s.line(x+6*math.Cos(from), y+6*math.Sin(from), x, y, "")
		s.arrow(x, y, from)
		at := plane.Point{X: x + 8.5*math.Cos(from), Y: y + 8.5*math.Sin(from)}
		for slices.ContainsFunc(taken, func(o takenBy) bool { return o.at.Distance(at) < o.clear }) {
			at.X, at.Y = at.X+math.Cos(from), at.Y+math.Sin(from)
		}
		taken = append(taken, takenBy{at, 3})
		s.label(at.X, at.Y+1.3, "middle", sec.Letter)
	}
	return taken
}
