package measure

import (
	"maps"
	"math"
	"slices"

	"corerod/parts/blank"
	"corerod/parts/subject"
)

// plate is a group of neighbouring cells between one face below and one above.
type plate struct {
	cells     []int
	low, high float64
}

// findPlates divides the part by its faces on both sides; slopes belong to the flat that they are joined to.
func findPlates(s *blank.Shape) (out []plate) {
	top, bottom := s.Face("top"), s.Face("bottom")
	same := s.Neighbours(func(x, y int) bool {
		return top.Solid(x) && top.Solid(y) && top.Flat(x) == top.Flat(y) && bottom.Flat(x) == bottom.Flat(y)
	})
	for _, cells := range same.Groups(func(c int) bool { return !s.HasMaterial(c) }) {
		p := plate{cells, bottom.Z(cells[0]), top.Z(cells[0])}
		if p.high-p.low <= blank.SameHeight { // between two slopes that meet: what there really is
			p.low, p.high = s.Span(cells)
		}
		out = append(out, p)
	}
	return out
}

// column measures neighbouring cells with one bottom and one top. Void between material along the axis is counted in:
// the finding about it is the trap's.
func column(s *blank.Shape, cells []int, low, high float64, plan *extent) *subject.Column {
	c := &subject.Column{Height: high - low}
	in := make([]bool, s.Cells())
	var owners []int
	for _, x := range cells {
		in[x] = true
		c.Area += s.Area(x)
		owners = append(owners, s.FaceOwners(x, low, "bottom")...)
		owners = append(owners, s.FaceOwners(x, high, "top")...)
	}
	contact, contour := 0.0, 0.0
	for i := range s.Edges() {
		e := s.Edge(i)
		if in[e.Left] == in[e.Right] {
			continue
		}
		other := e.Left + e.Right
		if in[e.Left] {
			other -= e.Left
		} else {
			other -= e.Right
		}
		shared := 0.0 // powder against powder, the mean along the edge
		at := func(t float64) float64 {
			p := e.Curve.At(t)
			return math.Max(0, math.Min(high, s.EndAt(other, p, "top"))-math.Max(low, s.EndAt(other, p, "bottom")))
		}
		switch {
		case !s.HasMaterial(other):
		case s.Face("top").Sloped(other) || s.Face("bottom").Sloped(other):
			shared = blank.Mean(at)
		default:
			shared = at(0.5)
		}
		contact += e.Curve.Length() * (c.Height - shared)
		contour += e.Curve.Length()
	}
	if len(owners) == 0 { // between two slopes
		for _, x := range cells {
			for r := range s.Runs(x) {
				owners = append(owners, s.SlopesOf(x, r)...)
			}
		}
	}
	c.Perimeter = contact / c.Height
	c.Standing = c.Perimeter / contour
	c.Slenderness = c.Height / plan.widthOf(s.OutlineOf(cells))
	c.Common = common(s, owners, s.Centroid(cells), low, high)
	return c
}

// Column is a column of powder between two ends.
type Column struct {
	*subject.Column
	Top, Bottom *End
	Volume      float64 // mm3, of material
	Low, High   float64 // mm, its lower and upper face, over sloped ones the mean
	Contact     float64 // mm2, of wall on die, core rods and neighbouring punches
	Width       float64 // mm, the least of its plan between parallel lines
	Sloped      bool    // a face of it slopes over more than half of its area, as of a ball
	Beside      int     // the number of the column with which it shares the longest edge in plan; -1 of one that stands alone
}

// findColumns measures the columns that tools press, with the ends of each. plan is the extent of the whole part.
func findColumns(s *blank.Shape, ps []plate, plan *extent, es *ends) (out []Column) {
	for _, p := range ps {
		c := Column{Column: column(s, p.cells, p.low, p.high, plan), Top: es.over(s, "top", p.cells), Bottom: es.over(s, "bottom", p.cells)}
		sloped := 0.0
		for _, x := range p.cells {
			for r := range s.Runs(x) {
				c.Volume += s.RunVolume(x, r)
			}
			if s.Face("top").Sloped(x) || s.Face("bottom").Sloped(x) {
				sloped += s.Area(x)
			}
			c.Low += s.Area(x) * s.MeanEnd(x, "bottom")
			c.High += s.Area(x) * s.MeanEnd(x, "top")
		}
		c.Low, c.High, c.Sloped = c.Low/c.Area, c.High/c.Area, 2*sloped > c.Area
		c.Contact, c.Width = c.Perimeter*c.Height, c.Height/c.Slenderness
		out = append(out, c)
	}
	for i, n := range besides(s, ps) {
		out[i].Beside = n
	}
	return out
}

// besides are, by plate, the plates with which they share the longest edge, of equal ones the first; -1 for none.
func besides(s *blank.Shape, ps []plate) []int {
	of := make([]int, s.Cells())
	for c := range of {
		of[c] = -1
	}
	for i, p := range ps {
		for _, c := range p.cells {
			of[c] = i
		}
	}
	lengths := make([]map[int]float64, len(ps))
	for i := range s.Edges() {
		e := s.Edge(i)
		a, b := of[e.Left], of[e.Right]
		if a < 0 || b < 0 || a == b {
			continue
		}
		for _, p := range [2][2]int{{a, b}, {b, a}} {
			if lengths[p[0]] == nil {
				lengths[p[0]] = map[int]float64{}
			}
			lengths[p[0]][p[1]] += e.Curve.Length()
		}
	}
	out := make([]int, len(ps))
	for i := range ps {
		out[i] = -1
		for _, n := range slices.Sorted(maps.Keys(lengths[i])) {
			if out[i] < 0 || lengths[i][n] > lengths[i][out[i]]+longer {
				out[i] = n
			}
		}
	}
	return out
}
