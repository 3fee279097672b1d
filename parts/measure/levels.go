package measure

import (
	"math"
	"slices"

	"corerod/parts/blank"
	"corerod/parts/plane"
	"corerod/parts/subject"
)

// levels are the levels of both sides and the cells that belong to each.
type levels struct {
	subjects []*subject.Level
	of       map[string][]int // by side, by cell: number in subjects, -1 where the cell's end is no level
}

func (l *levels) count(side string) (n int) {
	for _, x := range l.subjects {
		if x.Face == side {
			n++
		}
	}
	return n
}

// findLevels gathers the flat faces of each side by height, without bosses, grooves and blind floors.
func findLevels(s *blank.Shape, fs *floors, b bosses) *levels {
	l := &levels{of: map[string][]int{}}
	for _, side := range []string{"bottom", "top"} {
		f := s.Face(side)
		of := make([]int, s.Cells())
		start := len(l.subjects)
		for c := range s.Cells() {
			of[c] = -1
			if !f.Solid(c) || b[side][c] || fs.at(side, c) {
				continue
			}
			z := f.Z(c)
			i := slices.IndexFunc(l.subjects[start:], func(x *subject.Level) bool { return math.Abs(x.Z-z) <= blank.SameHeight })
			if i < 0 {
				i = len(l.subjects) - start
				l.subjects = append(l.subjects, &subject.Level{Face: side, Z: z, Height: math.Inf(1)})
			}
			of[c] = start + i
		}
		l.of[side] = of
		for i := start; i < len(l.subjects); i++ {
			measureLevel(s, l.subjects[i], of, i)
		}
	}
	l.findPlates(s)
	return l
}

// findPlates finds the lowest column between each level and those of the other side: what lies over a blind hole or a groove is none.
func (l *levels) findPlates(s *blank.Shape) {
	between := make([][]int, len(l.subjects))
	for c := range s.Cells() {
		if t, b := l.of["top"][c], l.of["bottom"][c]; t >= 0 && b >= 0 {
			between[t], between[b] = append(between[t], c), append(between[b], c)
		}
	}
	for i, x := range l.subjects {
		if x.Plate = x.Height; len(between[i]) > 0 {
			x.Plate = leastColumn(s, between[i])
		}
	}
}

func measureLevel(s *blank.Shape, l *subject.Level, of []int, number int) {
	var cells, owners []int
	for c := range of {
		if of[c] != number {
			continue
		}
		l.Area += s.Area(c)
		owners = append(owners, s.FaceOwners(c, l.Z, l.Face)...)
		cells = append(cells, c)
	}
	if len(owners) == 0 { // a slope without a flat
		for _, c := range cells {
			z, _ := s.ColumnEnd(c, l.Face)
			owners = append(owners, s.FaceOwners(c, z, l.Face)...)
		}
	}
	l.Height = leastColumn(s, cells)
	l.Outside = 2 * plane.Enclosing(s.OutlineOf(cells)).R
	l.Common = common(s, owners, s.Centroid(cells), l.Z, l.Z)
	l.Name = joined(l.Features, " and ") + " " + l.Face
}

// leastColumn is the height of the lowest column of cells: of those between flats, where there are some; of one that comes to nothing
// where it is highest.
func leastColumn(s *blank.Shape, cells []int) float64 {
	flat, any := math.Inf(1), math.Inf(1)
	for _, c := range cells {
		h := s.LeastColumn(c)
		any = math.Min(any, h)
		if !s.Face("top").Sloped(c) && !s.Face("bottom").Sloped(c) {
			flat = math.Min(flat, h)
		}
	}
	switch low, high := s.Span(cells); {
	case !math.IsInf(flat, 1):
		return flat
	case any <= blank.SameHeight: // two slopes that meet
		return high - low
	}
	return any
}

// onWall tells whether a cell's column ends on a steep slope that belongs to no level.
func (l *levels) onWall(s *blank.Shape, c int) bool {
	return l.of["top"][c] < 0 && s.Steep(c, "top") || l.of["bottom"][c] < 0 && s.Steep(c, "bottom")
}

// full is the height of a cell's column between the levels that its ends belong to.
func full(s *blank.Shape, l *levels, c int) float64 {
	z := func(side string) float64 {
		if i := l.of[side][c]; i >= 0 {
			return l.subjects[i].Z
		}
		low, high := s.EndSpan(c, side)
		if side == "top" {
			return high
		}
		return low
	}
	if h := z("top") - z("bottom"); h > blank.SameHeight {
		return h
	}
	low, high := s.Span([]int{c}) // between two slopes that meet
	return high - low
}

// fullAt is the same over a point of the cell, where an end that belongs to no level lies as high as it does there. It is 0 where two
// slopes meet whose levels have no column between them.
func fullAt(s *blank.Shape, l *levels, c int, p plane.Point) float64 {
	z := func(side string) float64 {
		if i := l.of[side][c]; i >= 0 {
			return l.subjects[i].Z
		}
		return s.EndAt(c, p, side)
	}
	return math.Max(0, z("top")-z("bottom"))
}

// taller is the height of the taller of two columns along the edge between them, where that is least; endless where it comes to nothing.
func taller(s *blank.Shape, l *levels, edge, c, d int) float64 {
	curve := &s.Edge(edge).Curve
	at := func(t float64) float64 {
		p := curve.At(t)
		return math.Max(fullAt(s, l, c, p), fullAt(s, l, d, p))
	}
	level := func(c int) bool { return l.of["top"][c] >= 0 && l.of["bottom"][c] >= 0 }
	least := at(0.5)
	if !level(c) || !level(d) {
		_, least = blank.LeastAlong(at)
	}
	if least <= blank.SameHeight {
		return math.Inf(1)
	}
	return least
}
