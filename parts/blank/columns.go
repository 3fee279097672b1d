package blank

import (
	"corerod/parts/subject"
	"math"
)

// plate is a group of neighbouring cells between one face below and one above.
type plate struct {
	cells     []int
	low, high float64
}

// findPlates divides the part by its faces on both sides; slopes belong to the flat that they are joined to.
func (s *shape) findPlates() (out []plate) {
	top, bottom := s.face("top"), s.face("bottom")
	same := s.neighbours(func(x, y int) bool {
		return top.solid[x] && top.solid[y] && top.flats.Find(x) == top.flats.Find(y) && bottom.flats.Find(x) == bottom.flats.Find(y)
	})
	for _, cells := range same.Groups(func(c int) bool { return len(s.cells[c].runs) == 0 }) {
		p := plate{cells, bottom.z[cells[0]], top.z[cells[0]]}
		if p.high-p.low <= sameHeight { // between two slopes that meet: what there really is
			p.low, p.high = s.span(cells)
		}
		out = append(out, p)
	}
	return out
}

// column measures neighbouring cells with one bottom and one top. Void between material along the axis is counted in:
// the finding about it is the trap's.
func (s *shape) column(cells []int, low, high float64, plan *extent) *subject.Column {
	c := &subject.Column{Height: high - low}
	in := make([]bool, len(s.cells))
	var owners []int
	for _, x := range cells {
		in[x] = true
		c.Area += s.area(x)
		owners = append(owners, s.faceOwners(x, low, "bottom")...)
		owners = append(owners, s.faceOwners(x, high, "top")...)
	}
	contact, contour := 0.0, 0.0
	for i := range s.overlay.Edges {
		e := &s.overlay.Edges[i]
		if in[e.Left] == in[e.Right] {
			continue
		}
		other := e.Left + e.Right
		if in[e.Left] {
			other -= e.Left
		} else {
			other -= e.Right
		}
		shared := 0.0 // powder against powder
		if q, ok := s.cells[other].column(); ok {
			shared = math.Max(0, math.Min(high, s.drawn(s.top(q)))-math.Max(low, s.drawn(s.bottom(q))))
		}
		contact += e.Curve.Length() * (c.Height - shared)
		contour += e.Curve.Length()
	}
	c.Perimeter = contact / c.Height
	c.Standing = c.Perimeter / contour
	c.Slenderness = c.Height / plan.widthOf(s.outlineOf(cells))
	c.Common = s.common(owners, s.centroid(cells), low, high)
	return c
}

// Column is a column of powder between two ends.
type Column struct {
	*subject.Column
	Top, Bottom *End
	Volume      float64 // mm3, of material
	Low         float64 // mm, its lower face, over sloped ones the mean
	Contact     float64 // mm2, of wall on die, core rods and neighbouring punches
}

// findColumns measures the columns that tools press, with the ends of each. plan is the extent of the whole part.
func (s *shape) findColumns(ps []plate, plan *extent, es *ends) (out []Column) {
	for _, p := range ps {
		c := Column{Column: s.column(p.cells, p.low, p.high, plan), Top: es.of["top"][p.cells[0]], Bottom: es.of["bottom"][p.cells[0]]}
		for _, x := range p.cells {
			for _, r := range s.cells[x].runs {
				c.Volume += s.area(x) * (s.top(r) - s.bottom(r))
			}
			z, _ := s.end(x, "bottom")
			c.Low += s.area(x) * z
		}
		c.Low /= c.Area
		c.Contact = c.Perimeter * c.Height
		out = append(out, c)
	}
	return out
}
