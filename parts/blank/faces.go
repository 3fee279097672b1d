package blank

import (
	"maps"
	"math"
	"slices"

	"corerod/parts/plane"
)

// Face is one end of the part, "top" or "bottom", cell by cell.
type Face struct {
	side   string
	z      []float64   // height of the flat that the cell belongs to
	solid  []bool      // whether its column ends here at all
	sloped []bool      // whether it ends on a slope, which belongs to a flat
	flats  plane.Union // neighbouring cells of one flat
	groups [][]int     // the cells of each flat
}

// Side is "top" or "bottom".
func (f *Face) Side() string { return f.side }

// Z is the height of the flat that a cell's end belongs to, mm.
func (f *Face) Z(c int) float64 { return f.z[c] }

// Solid tells whether a cell has an end here at all: material.
func (f *Face) Solid(c int) bool { return f.solid[c] }

// Sloped tells whether a cell's column ends on a slope, which belongs to a flat.
func (f *Face) Sloped(c int) bool { return f.sloped[c] }

// Flat is the flat that a cell belongs to, by its least cell.
func (f *Face) Flat(c int) int { return f.flats[c] }

// Face is one side of the part, "top" or "bottom".
func (s *Shape) Face(side string) *Face {
	s.found.Do(s.findFaces)
	return s.faces[side]
}

// findFaces finds both sides of the part, when no cell changes any more.
func (s *Shape) findFaces() {
	s.faces = map[string]*Face{"bottom": s.findFace("bottom"), "top": s.findFace("top")}
}

// findFace joins the ends of columns on a side to flats, and slopes to the flats that they belong to.
func (s *Shape) findFace(side string) *Face {
	f := &Face{side: side, z: make([]float64, len(s.cells)), solid: make([]bool, len(s.cells)), sloped: make([]bool, len(s.cells))}
	owner := make([]*wall, len(s.cells)) // of a slope
	for c := range s.cells {
		f.z[c], f.solid[c] = s.ColumnEnd(c, side)
		if f.solid[c] {
			owner[c] = s.slopeOf(c, f.z[c], side)
			f.sloped[c] = owner[c] != nil
		}
	}
	f.flats = s.Neighbours(func(a, b int) bool {
		switch {
		case !f.solid[a] || !f.solid[b] || f.sloped[a] != f.sloped[b]:
			return false
		case f.sloped[a]:
			return owner[a].sameCopy(owner[b])
		}
		return math.Abs(f.z[a]-f.z[b]) <= SameHeight
	})
	s.joinSmooth(f, owner)
	s.joinSlopes(f, owner)
	f.groups = f.flats.Groups(func(c int) bool { return !f.solid[c] })
	for c := range f.flats {
		f.flats[c] = f.flats.Find(c)
	}
	return f
}

// joinSmooth joins slopes of bodies, or of cuts, that go on as one: along the edge between them they meet at one height and lie in one
// direction, as where a cone is drawn as two on top of each other.
func (s *Shape) joinSmooth(f *Face, owner []*wall) {
	for i := range s.overlay.Edges {
		e := &s.overlay.Edges[i]
		a, b := e.Left, e.Right
		v, w := owner[a], owner[b]
		if v == nil || w == nil || v.sameCopy(w) || (v.feature < s.bodies) != (w.feature < s.bodies) {
			continue
		}
		p := e.Curve.At(0.5)
		t := e.Curve.Tangent(p)
		l, r := s.slantOf(true, t, p, f.side, s.end(a, f.side)), s.slantOf(false, t, p, f.side, s.end(b, f.side))
		if s.meet(l.surface, r.surface, p) && betweenNormals(l.normal, r.normal) <= oneSlope {
			f.flats.Join(a, b)
		}
	}
}

// SlopeOf is the feature whose slope ends a run over a cell at a height on a side, and whether one does.
func (s *Shape) SlopeOf(c int, z float64, side string) (feature int, sloped bool) {
	w := s.slopeOf(c, z, side)
	if w == nil {
		return 0, false
	}
	return w.feature, true
}

// slopeOf is the wall that does, or nil.
func (s *Shape) slopeOf(c int, z float64, side string) *wall {
	for i, r := range s.cells[c].runs {
		f, at := s.cells[c].ends[i][0], s.Bottom(r)
		if side == "top" {
			f, at = s.cells[c].ends[i][1], s.Top(r)
		}
		if !f.flat() && math.Abs(at-z) <= SameHeight {
			return &s.walls[f.wall]
		}
	}
	return nil
}

// sameCopy tells whether two walls are of one copy of a feature.
func (w *wall) sameCopy(o *wall) bool { return w.feature == o.feature && w.copy == o.copy }

// SlopeBeside is the feature whose slope ends the column of a cell below or above slab k, where the cell is void, and its angle from the
// pressing axis, degrees.
func (s *Shape) SlopeBeside(k, c int) (feature int, lean float64, sloped bool) {
	r, ok := s.cells[c].column()
	if !ok {
		return 0, 0, false
	}
	at := s.end(c, "bottom")
	if k > r.Hi {
		at = s.end(c, "top")
	}
	if at.flat() {
		return 0, 0, false
	}
	w := &s.walls[at.wall]
	return w.feature, w.lean(), true
}

// joinSlopes puts each slope to the flat of its own feature that it touches, a countersink to the face round it. A
// slope without one is a face of its own, at its outer end if it is a body's, at its floor if it is a cut's.
func (s *Shape) joinSlopes(f *Face, owner []*wall) {
	slopes := map[int]bool{}
	for c := range f.sloped {
		if f.sloped[c] {
			slopes[f.flats.Find(c)] = true
		}
	}
	if len(slopes) == 0 {
		return
	}
	void := s.Connected(func(c int) bool { return len(s.cells[c].runs) == 0 })
	beside := flatsBeside{map[int][]int{}, map[int][]int{}, map[int]bool{}, map[int]int{}}
	for i := range s.overlay.Edges {
		e := &s.overlay.Edges[i]
		for _, p := range [2][2]int{{e.Left, e.Right}, {e.Right, e.Left}} {
			if f.sloped[p[0]] {
				s.touch(&beside, f, owner, void, i, p[0], p[1])
			}
		}
	}
	for _, g := range slices.Sorted(maps.Keys(slopes)) {
		flats := beside.own[g]
		if len(flats) == 0 && (beside.through[g] || beside.through[beside.inward[g]]) {
			flats = beside.round[g]
		}
		if in := beside.inward[g]; len(flats) > 0 && len(beside.own[in]) == 0 && len(beside.round[in]) == 0 && beside.through[in] {
			f.flats.Join(g, in) // the same bore, drawn as two
		}
		for _, d := range flats {
			f.flats.Join(g, d)
		}
	}
	s.setSlopes(f, owner)
}

// flatsBeside are, by the group of cells of a slope, the flat of its own feature, the flat round a countersink, and whether
// the slope ends at a through-hole, or is a steep one that ends at the outline.
type flatsBeside struct {
	own, round map[int][]int // several of one height
	through    map[int]bool
	inward     map[int]int // the slope of a cut about the same axis that it goes on as, further in
}

// touch takes what cell d is to the slope in cell c beside it, across an edge.
func (s *Shape) touch(beside *flatsBeside, f *Face, owner []*wall, void []int, edge, c, d int) {
	g := f.flats.Find(c)
	switch {
	case !f.solid[d]:
		steep := s.walls[s.end(c, f.side).wall].lean() <= MostWall
		beside.through[g] = beside.through[g] || void[d] != void[0] || steep
	case f.sloped[d] && owner[c].sameCopy(owner[d]):
	case f.sloped[d] && s.coaxial(owner[c], owner[d]) && Outward(f.side, f.z[c], f.z[d]) >= -SameHeight &&
		s.meet(s.end(c, f.side), s.end(d, f.side), s.overlay.Edges[edge].Curve.At(0.5)):
		beside.inward[g] = f.flats.Find(d)
	case !f.sloped[d] && slices.Contains(s.FaceOwners(d, f.z[d], f.side), owner[c].feature):
		if !s.meet(s.end(c, f.side), surface{-1, 0, f.z[d]}, s.overlay.Edges[edge].Curve.At(0.5)) {
			return // an upright wall stands between them
		}
		// of two flats at its ends, as of a cone in section, a body's the outer one, a cut's the inner
		beside.own[g] = nearer(f, beside.own[g], d, owner[c].feature < s.bodies)
	case owner[c].feature >= s.bodies && s.features[owner[c].feature].Section == "" && Outward(f.side, f.z[d], f.z[c]) > 0 &&
		s.reaches(edge, c, d, f): // and not the wall of a counterbore
		beside.round[g] = nearer(f, beside.round[g], d, false)
	}
}

// coaxial tells whether two walls are circles of cuts about one axis.
func (s *Shape) coaxial(a, b *wall) bool {
	return a.feature >= s.bodies && b.feature >= s.bodies && a.ring && b.ring && a.drawn[0].C.Distance(b.drawn[0].C) <= plane.Near
}

// reaches tells whether a slope in cell c comes up to the flat in cell d beside it, across an edge, or lies under a lip of it.
func (s *Shape) reaches(edge, c, d int, f *Face) bool {
	p := s.overlay.Edges[edge].Curve.At(0.5)
	ends := s.cells[d].ends
	lip := ends[len(ends)-1][0]
	if f.side == "bottom" {
		lip = ends[0][1]
	}
	over := Outward(f.side, s.heightOver(lip, p), s.heightOver(s.end(c, f.side), p)) >= -SameHeight
	return over || s.meet(s.end(c, f.side), surface{-1, 0, f.z[d]}, p)
}

// nearer are flats of one height, of which another may be one more, or lie further out, or in, than they do and take their place.
func nearer(f *Face, flats []int, d int, out bool) []int {
	if len(flats) == 0 {
		return []int{d}
	}
	further := Outward(f.side, f.z[d], f.z[flats[0]])
	switch {
	case math.Abs(further) <= SameHeight:
		return append(flats, d)
	case (further > 0) == out:
		return []int{d}
	}
	return flats
}

// setSlopes gives the slopes of each group the height of its flat; where it has none, that of the outer end of a body's
// slope, else that of the floor of a cut's.
func (s *Shape) setSlopes(f *Face, owner []*wall) {
	type end struct {
		z    float64
		rank int // 3 for a flat, 2 for a body's slope, 1 for a cut's
	}
	ends := map[int]end{}
	for c := range f.z {
		if !f.solid[c] {
			continue
		}
		e, g := end{f.z[c], 3}, f.flats.Find(c)
		if f.sloped[c] {
			e.rank = 1
			low, high := s.EndSpan(c, f.side)
			if owner[c].feature < s.bodies {
				e.rank = 2
			}
			e.z = low
			if (e.rank == 2) == (f.side == "top") {
				e.z = high
			}
		}
		old := ends[g]
		further := Outward(f.side, e.z, old.z) > 0
		if e.rank > old.rank || e.rank == old.rank && e.rank < 3 && further == (e.rank == 2) {
			ends[g] = e
		}
	}
	for c := range f.z {
		if f.sloped[c] {
			f.z[c] = ends[f.flats.Find(c)].z
		}
	}
}

// Flats are the flats with material.
func (f *Face) Flats() [][]int { return f.groups }

// ColumnEnd is the height of a cell's column on a side; where a slope ends it, that of its step.
func (s *Shape) ColumnEnd(c int, side string) (float64, bool) {
	r, ok := s.cells[c].column()
	if !ok {
		return 0, false
	}
	if side == "top" {
		return s.Top(r), true
	}
	return s.Bottom(r), true
}

// Outward is positive where height a lies further out than b on a side.
func Outward(side string, a, b float64) float64 {
	if side == "top" {
		return a - b
	}
	return b - a
}
