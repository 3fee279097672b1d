package blank

import (
	"container/heap"
	"math"
	"slices"

	"corerod/parts/plane"
)

// slab is one slab of the part.
type slab struct {
	region  *plane.Region
	voids   []int         // by cell: the connected void it belongs to, by least cell; -1 where solid
	middle  *plane.Region // of a lower half: the section half way to the next station
	closed  []bool        // by cell of that section: it is void, and closed in plan
	halfWay []int         // of either half, by cell of that section: the void that it lies in, -1 where that is none of the slab
}

// Slabs is the number of slabs, from the lowest up.
func (s *Shape) Slabs() int { return len(s.slabs) }

// Z is the height between two slabs, mm: slab k lies between Z(k) and Z(k+1).
func (s *Shape) Z(k int) float64 { return s.heights[k] }

// Region is the material of slab k in plan; each piece of its boundary is owned by the figure that makes it.
func (s *Shape) Region(k int) *plane.Region { return s.slabs[k].region }

// Voids tells by cell which connected void of slab k it belongs to, by the void's least cell; -1 where it is solid. The
// one of cell 0 is open to the outside.
func (s *Shape) Voids(k int) []int { return s.slabs[k].voids }

// cutSlabs traces the boundary and the voids of every slab.
func (s *Shape) cutSlabs() {
	s.slabs = make([]slab, len(s.heights)-1)
	for k := range s.slabs {
		s.slabs[k] = slab{
			region: s.overlay.Region(func(c int) bool { return s.cells[c].solid[k] },
				func(e, in, out int) int { return s.Owner(k, e, in, out) }),
		}
	}
	for i := 0; i+1 < len(s.stations); i++ {
		if low, high := s.first[i], s.first[i+1]-1; low == high {
			s.slabs[low].voids = s.Connected(func(c int) bool { return !s.cells[c].solid[low] })
		} else {
			s.findVoids(i, low, high)
		}
	}
}

// findVoids finds the connected voids of the two halves of the stretch over a station. Where a void opens at a station it is still
// closed in the section there, and where a wall comes to nothing what it parts is one: voids are those of the section half way.
func (s *Shape) findVoids(station, low, high int) {
	z := mid(s.stations[station], s.stations[station+1])
	x, err := s.sectionAt(z)
	if err != nil && len(s.unseen) == 0 { // what is half way cannot be measured
		loops, walls, _ := s.outlinesAt(z)
		s.unseen = append(s.unseen, s.tooClose(err, loops, func(i int) int { return s.walls[walls[i]].feature },
			func(func(int) bool) []plane.Curve { return nil }))
	}
	if x == nil {
		x = &Section{Overlay: &plane.Overlay{Cells: make([]plane.Cell, 1)}, Solid: []bool{false}}
	} else {
		s.slabs[low].middle = s.regionOf(x)
	}
	parted := plane.NewUnion(len(x.Solid))
	for i := range x.Overlay.Edges {
		if e := &x.Overlay.Edges[i]; !x.Solid[e.Left] && !x.Solid[e.Right] {
			parted.Join(e.Left, e.Right)
		}
	}
	for c := range x.Solid {
		s.slabs[low].closed = append(s.slabs[low].closed, !x.Solid[c] && parted.Find(c) != parted.Find(0))
	}
	all := make([]int, len(s.cells)) // by cell: the void half way that it lies in, -1 where that is not known
	for c := range all {
		all[c] = -1
		switch r := &s.cells[c]; {
		case c == 0:
			all[c] = parted.Find(0)
		case r.solid[low] && r.solid[high] || s.Parted(c, high): // one parted may be in one void below, in another above
		default:
			for _, p := range within(s.around(c)) {
				if at := x.Overlay.CellAt(p); !x.Solid[at] {
					all[c] = parted.Find(at)
					break
				}
			}
		}
	}
	for _, k := range [2]int{low, high} {
		s.slabs[k].voids = s.spreadVoids(k, all)
		s.slabs[k].halfWay = s.voidsHalfWay(k, x, parted, all)
	}
}

// voidsHalfWay tells of each cell of a section half way which void of slab k it lies in: parted are the voids of the section, and of tells
// by cell of the plan which of them it lies in.
func (s *Shape) voidsHalfWay(k int, x *Section, parted plane.Union, of []int) []int {
	known := map[int]int{} // by void half way: the void of the slab
	for c, v := range of {
		if v >= 0 && !s.cells[c].solid[k] {
			known[v] = s.slabs[k].voids[c]
		}
	}
	out := make([]int, len(x.Solid))
	for c := range x.Solid {
		v, ok := known[parted.Find(c)]
		if !ok || x.Solid[c] {
			v = -1
		}
		out[c] = v
	}
	return out
}

// border is an edge between a cell whose void is known and another.
type border struct {
	inCut    bool // both lie in one section of a cut
	length   float64
	cell, of int // the other cell, and the void
}

// borders is a heap of them: those in a cut on top, then the longest.
type borders []border

func (b borders) Len() int      { return len(b) }
func (b borders) Swap(i, j int) { b[i], b[j] = b[j], b[i] }
func (b *borders) Push(x any)   { *b = append(*b, x.(border)) }
func (b borders) Less(i, j int) bool {
	if b[i].inCut != b[j].inCut {
		return b[i].inCut
	}
	return b[i].length > b[j].length
}
func (b *borders) Pop() any {
	x := (*b)[len(*b)-1]
	*b = (*b)[:len(*b)-1]
	return x
}

// inOneCut tells whether two cells lie in one section of a cut that stands for its wall in slab k.
func (s *Shape) inOneCut(a, b, k int) (is bool) {
	other := s.overlay.Cells[b].Inside
	s.overlay.Cells[a].Inside.Each(func(f int) {
		is = is || s.outlines[f].feature >= s.bodies && other.Has(f) && s.Covers(f, k)
	})
	return is
}

// spreadVoids numbers the voids of slab k by their least cells: known tells of some cells which void they lie in, and the others are
// of the one that a section of a cut joins them to, or that they have the longest edge with: where a void comes to touch another there
// may be a short edge to that too.
func (s *Shape) spreadVoids(k int, known []int) []int {
	of := slices.Clone(known)
	queue := &borders{}
	reach := func(c int) {
		for _, i := range s.edges[c] {
			e := &s.overlay.Edges[i]
			if d := e.Left + e.Right - c; of[d] < 0 && !s.cells[d].solid[k] {
				heap.Push(queue, border{s.inOneCut(c, d, k), e.Curve.Length(), d, of[c]})
			}
		}
	}
	for c := range of {
		if s.cells[c].solid[k] {
			of[c] = -1
		}
	}
	for c := range of {
		if of[c] >= 0 {
			reach(c)
		}
	}
	next := len(s.cells) + len(of)
	for c := 0; ; {
		for queue.Len() > 0 {
			if b := heap.Pop(queue).(border); of[b.cell] < 0 {
				of[b.cell] = b.of
				reach(b.cell)
			}
		}
		for c < len(of) && (of[c] >= 0 || s.cells[c].solid[k]) {
			c++
		}
		if c == len(of) {
			break
		}
		of[c] = next // a void of its own
		next++
		reach(c)
	}
	least := map[int]int{}
	for c, v := range of {
		if _, ok := least[v]; !ok {
			least[v] = c
		}
		if v >= 0 {
			of[c] = least[v]
		}
	}
	return of
}

// within are points inside the area that curves go round, or as good as on them: one clear of them, and some beside each.
func within(curves []plane.Curve) (ps []plane.Point) {
	if p, ok := inside(curves); ok {
		ps = append(ps, p)
	}
	const beside = 20 * plane.Near
	for i := range curves {
		m := curves[i].At(0.5)
		t := curves[i].Tangent(m)
		ps = append(ps, plane.Point{X: m.X - beside*t.Y, Y: m.Y + beside*t.X})
	}
	return ps
}

// inside is a point inside the area that curves go round, clear of them; false for one that is too thin.
func inside(curves []plane.Curve) (p plane.Point, ok bool) {
	for share := 0.25; share > thinnestShare; share /= 4 {
		for i := range curves {
			c := &curves[i]
			m, h := c.At(0.5), share*c.Length()
			t := c.Tangent(m)
			p = plane.Point{X: m.X - h*t.Y, Y: m.Y + h*t.X}
			if !plane.Loop(curves).Holds(p) {
				continue
			}
			clear := true
			for j := range curves {
				clear = clear && curves[j].Off(p) > h/4
			}
			if clear {
				return p, true
			}
		}
	}
	return p, false
}

// Connected numbers the cells that keep accepts by connected group, across common edges: the least cell of each
// group; -1 for the others.
func (s *Shape) Connected(keep func(int) bool) []int {
	u := s.Neighbours(func(a, b int) bool { return keep(a) && keep(b) })
	g := make([]int, len(u))
	for c := range g {
		g[c] = -1
		if keep(c) {
			g[c] = u.Find(c)
		}
	}
	return g
}

// Neighbours puts cells with a common edge into one group where one accepts both.
func (s *Shape) Neighbours(one func(a, b int) bool) plane.Union {
	u := plane.NewUnion(len(s.cells))
	for i := range s.overlay.Edges {
		if e := &s.overlay.Edges[i]; one(e.Left, e.Right) {
			u.Join(e.Left, e.Right)
		}
	}
	return u
}

// Closed tells whether a void cell of slab k is closed in plan.
func (s *Shape) Closed(k, c int) bool { return s.slabs[k].voids[c] != s.slabs[k].voids[0] }

// Low is the station below slab k, mm: where it begins, or where the stretch begins that it is the upper half of.
func (s *Shape) Low(k int) float64 { return s.stations[s.stretchOf(k)] }

// High is the station above slab k, mm.
func (s *Shape) High(k int) float64 { return s.stations[s.stretchOf(k)+1] }

// stretchOf is the station below a slab.
func (s *Shape) stretchOf(k int) int {
	i, exact := slices.BinarySearch(s.first, k)
	if !exact {
		i--
	}
	return i
}

// Half tells whether slab k is the lower or the upper half of a stretch in which something leans: -1 or 1, and 0 for neither.
func (s *Shape) Half(k int) int {
	i := s.stretchOf(k)
	switch {
	case s.first[i+1] == s.first[i]+1:
		return 0
	case s.first[i] == k:
		return -1
	}
	return 1
}

// Parted tells whether material lies over a cell between slab k and the one below, of one stretch: it is in the sections of neither.
func (s *Shape) Parted(c, k int) bool { return slices.Contains(s.cells[c].runs, Run{k, k - 1}) }

// Touch is a point of the plan where two features touch all the way through a stretch of height.
type Touch struct {
	At        plane.Point // of the overlay, half way
	Features  [2]int
	Low, High float64
	walls     [2]int // in order
}

// goesOn tells whether a touch goes on from another below it.
func (x Touch) goesOn(below Touch) bool {
	return math.Abs(below.High-x.Low) <= SameHeight && below.walls == x.walls
}

// Touches are the points where slopes touch along a line, so that material between two voids comes to nothing all the way.
func (s *Shape) Touches() (all []Touch) {
	for i := 0; i+1 < len(s.stations); i++ {
		low, high := s.stations[i], s.stations[i+1]
		if !slices.ContainsFunc(s.grazing, func(z float64) bool { return low < z && z < high }) {
			continue
		}
		x, err := s.sectionAt(mid(low, high))
		if err != nil || x == nil {
			continue
		}
		r := s.regionOf(x)
		for _, n := range r.Necks() {
			if n.P == n.Q && !n.Void {
				ps := r.Pieces()
				a, b := ps[n.I].Owner, ps[n.J].Owner
				x := Touch{n.P, [2]int{s.walls[a].feature, s.walls[b].feature}, low, high, [2]int{min(a, b), max(a, b)}}
				if i := slices.IndexFunc(all, x.goesOn); i >= 0 {
					all[i].High = high
				} else {
					all = append(all, x)
				}
			}
		}
	}
	return all
}
