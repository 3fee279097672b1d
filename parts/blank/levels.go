package blank

import (
	"corerod/parts/subject"
	"math"
	"slices"
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
func (s *shape) findLevels(fs *floors, b bosses) *levels {
	l := &levels{of: map[string][]int{}}
	for _, side := range []string{"bottom", "top"} {
		f := s.face(side)
		of := make([]int, len(s.cells))
		start := len(l.subjects)
		for c := range s.cells {
			of[c] = -1
			if !f.solid[c] || b[side][c] || fs.at(side, c) {
				continue
			}
			z := f.z[c]
			i := slices.IndexFunc(l.subjects[start:], func(x *subject.Level) bool { return math.Abs(x.Z-z) <= sameHeight })
			if i < 0 {
				i = len(l.subjects) - start
				l.subjects = append(l.subjects, &subject.Level{Face: side, Z: z, Height: math.Inf(1)})
			}
			of[c] = start + i
		}
		l.of[side] = of
		for i := start; i < len(l.subjects); i++ {
			s.measureLevel(l.subjects[i], of, i)
		}
	}
	return l
}

func (s *shape) measureLevel(l *subject.Level, of []int, number int) {
	var cells, owners []int
	for c := range of {
		if of[c] != number {
			continue
		}
		l.Area += s.area(c)
		owners = append(owners, s.faceOwners(c, l.Z, l.Face)...)
		cells = append(cells, c)
	}
	l.Height = s.leastColumn(cells)
	l.Common = s.common(owners, s.centroid(cells), l.Z, l.Z)
	l.Name = joined(l.Features, " and ") + " " + l.Face
}

// leastColumn is the height of the lowest column of cells: of those between flats, where there are some.
func (s *shape) leastColumn(cells []int) float64 {
	flat, any := math.Inf(1), math.Inf(1)
	for _, c := range cells {
		r, _ := s.cells[c].column()
		h := s.high(r)
		any = math.Min(any, h)
		_, above := s.slopeOf(c, s.top(r), "top")
		_, below := s.slopeOf(c, s.bottom(r), "bottom")
		if !above && !below {
			flat = math.Min(flat, h)
		}
	}
	if math.IsInf(flat, 1) {
		return any
	}
	return flat
}

// full is the height of a cell's column between the levels that its ends belong to.
func (s *shape) full(l *levels, c int) float64 {
	z := func(side string) float64 {
		if i := l.of[side][c]; i >= 0 {
			return l.subjects[i].Z
		}
		end, _ := s.end(c, side)
		return end
	}
	if h := z("top") - z("bottom"); h > sameHeight {
		return h
	}
	r, _ := s.cells[c].column() // between two slopes that meet
	return s.high(r)
}
