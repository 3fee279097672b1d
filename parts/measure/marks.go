package measure

import (
	"math"
	"slices"

	"corerod/parts"
	"corerod/parts/blank"
	"corerod/parts/plane"
	"corerod/parts/subject"
)

// findMarks places the pressed marks on their faces, each with the box that it counts as; one that does not lie clear on its face is a
// problem.
func findMarks(s *blank.Shape) (out []*subject.Mark, boxes []*blank.Change, ps parts.Problems) {
	low, high := s.WholeSpan()
	for i := range s.Part().Marks {
		m := &s.Part().Marks[i]
		if m.MadeBy != "pressing" {
			continue
		}
		cells, z := faceOf(s, m.On)
		if len(cells) == 0 && tilted(s, m.On) {
			ps = append(ps, s.Problem(m.Place, "the mark %s has no place: the face %s.%s is tilted, and a mark lies on a flat one", m.Name,
				m.On.Feature, m.On.Face))
			continue
		}
		if len(cells) == 0 {
			ps = append(ps, s.Problem(m.Place, "the mark %s has no place: the face %s.%s is covered or cut away", m.Name,
				m.On.Feature, m.On.Face))
			continue
		}
		region := s.RegionOf(cells)
		for n := range m.Repeat.Copies() {
			at := placeMark(m, n)
			if high := s.LeastColumn(s.CellAt(s.ToPlan(at))); -m.Rise >= high-blank.SameHeight {
				ps = append(ps, s.Problem(m.Place,
					"the mark %s does not fit: it is %s mm deep, and the part under it %s mm high",
					m.Name, decimal(-m.Rise), decimal(high)))
				break
			}
			if overRelief(s, m, at) {
				ps = append(ps, s.Problem(m.Place, "the mark %s lies on a relief of %s.%s; a mark lies on a flat face", m.Name,
					m.On.Feature, m.On.Face))
				break
			}
			if !liesClear(s, region, at, m.Length, m.Width) {
				ps = append(ps, s.Problem(m.Place,
					"the mark %s does not lie clear on %s.%s: its box %.4g x %.4g mm about [%.4g, %.4g] meets an edge, a hole or a body",
					m.Name, m.On.Feature, m.On.Face, m.Length, m.Width, at.X, at.Y))
				break
			}
			mark := mark(s, m, at, z, high-low)
			box := markBox(s, m, at)
			mark.Footprints = regionPrint(plane.RegionOf(box))
			out = append(out, mark)
			boxes = append(boxes, blank.Prism(m.Name, m.Rise > 0, mark.ZLow, mark.ZHigh, box))
		}
	}
	return out, boxes, ps
}

// overRelief tells whether the middle or a corner of a mark's box lies over a relief.
func overRelief(s *blank.Shape, m *parts.Mark, at plane.Point) bool {
	for _, p := range append(markBox(s, m, at), plane.Line(s.ToPlan(at), s.ToPlan(at))) {
		if s.EndsOnRelief(s.CellAt(p.A), m.On.Face) {
			return true
		}
	}
	return false
}

func mark(s *blank.Shape, m *parts.Mark, at plane.Point, z, height float64) *subject.Mark {
	rise := m.Rise
	if m.On.Face == "bottom" {
		rise = -rise
	}
	return &subject.Mark{
		Common: subject.Common{Name: m.Name, Features: []string{m.Name, m.On.Feature}, X: at.X, Y: at.Y,
			ZLow: math.Min(z, z+rise), ZHigh: math.Max(z, z+rise)},
		Rise: m.Rise, Share: math.Abs(m.Rise) / height,
		Seating: slices.ContainsFunc(s.Part().Seats, func(x parts.Seat) bool { return x.Face == m.On }),
	}
}

// placeMark is the centre of copy n of a mark's box, in part coordinates.
func placeMark(m *parts.Mark, n int) plane.Point {
	at := plane.Point(m.At)
	for _, v := range m.Repeat.Moves(n) {
		if v.Turned {
			at = plane.Turned(at, plane.Point(v.About), v.Degrees)
		} else {
			at = plane.Point{X: at.X + v.Shift.X, Y: at.Y + v.Shift.Y}
		}
	}
	return at
}

// markBox is the box of a mark in the frame of the overlay.
func markBox(s *blank.Shape, m *parts.Mark, at plane.Point) plane.Loop {
	return boxAbout(s.ToPlan(at), m.Length/2, m.Width/2)
}

// boxAbout is the rectangle that reaches x and y to both sides of a point.
func boxAbout(c plane.Point, x, y float64) (box plane.Loop) {
	p := [4]plane.Point{{X: c.X - x, Y: c.Y - y}, {X: c.X + x, Y: c.Y - y}, {X: c.X + x, Y: c.Y + y}, {X: c.X - x, Y: c.Y + y}}
	for i := range p {
		box = append(box, plane.Line(p[i], p[(i+1)%4]))
	}
	return box
}

// liesClear tells whether a box about a point lies in a face and touches none of its edges.
func liesClear(s *blank.Shape, face *plane.Region, at plane.Point, length, width float64) bool {
	c := s.ToPlan(at)
	x, y := length/2, width/2
	box := boxAbout(c, x, y)
	var edges []plane.Curve
	for _, e := range face.Pieces() {
		edges = append(edges, e.Curve)
		if q := e.Curve.A; math.Abs(q.X-c.X) < x && math.Abs(q.Y-c.Y) < y {
			return false
		}
	}
	d, _, _ := plane.Between(box, edges)
	return d > plane.Near && face.Contains(c)
}
