package blank

import (
	"math"
	"slices"

	"corerod/parts/plane"
	"corerod/parts/subject"
)

// levels are the levels of both sides and the cells that belong to each.
type levels struct {
	subjects []*subject.Level
	of       map[string][]int  // by side, by cell: number in subjects, -1 where the cell's end is no level
	boss     map[string][]bool // by side, by cell: its end is that of a boss
	shelf    []bool            // by number: a shelf in the die can form it, a top one if the part were turned over
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
func (s *shape) findLevels(h *holes) *levels {
	l := &levels{of: map[string][]int{}, boss: map[string][]bool{}}
	for _, side := range []string{"bottom", "top"} {
		f := s.face(side)
		s.openGrooves(f, h)
		boss := s.bosses(f, h)
		l.boss[side] = boss
		of := make([]int, len(s.cells))
		start := len(l.subjects)
		for c := range s.cells {
			of[c] = -1
			if !f.solid[c] || boss[c] || h.floor[side][c] {
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

// meeting is where two levels of a side share a plan edge.
type meeting struct {
	front, back int
	edges       []int
	local       float64 // the largest rise over the taller column
	owners      []int
	outer       []bool // of the walls between them: round ones have the axis on the side of the front
}

// findSteps pairs the levels of each side that share an edge.
func (s *shape) findSteps(l *levels) (steps []Step) {
	for _, side := range []string{"bottom", "top"} {
		var ms []*meeting
		of := l.of[side]
		for i := range s.overlay.Edges {
			c, d := s.overlay.Edges[i].Left, s.overlay.Edges[i].Right
			if of[c] < 0 || of[d] < 0 || of[c] == of[d] {
				continue
			}
			if outward(side, l.subjects[of[c]].Z, l.subjects[of[d]].Z) < 0 {
				c, d = d, c // c in front, d set back
			}
			j := slices.IndexFunc(ms, func(m *meeting) bool { return m.front == of[c] && m.back == of[d] })
			if j < 0 {
				j = len(ms)
				ms = append(ms, &meeting{front: of[c], back: of[d]})
			}
			ms[j].edges = append(ms[j].edges, i)
			s.meet(l, ms[j], side, i, c, d)
		}
		for _, m := range ms {
			steps = append(steps, s.step(l, m, side))
		}
	}
	return steps
}

// meet adds one edge between column c in front and d set back.
func (s *shape) meet(l *levels, m *meeting, side string, edge, c, d int) {
	p, _ := s.cells[c].column()
	q, _ := s.cells[d].column()
	taller := math.Max(s.full(l, c), s.full(l, d))
	m.outer = append(m.outer, s.overlay.Edges[edge].Around(c))
	m.local = math.Max(m.local, math.Abs(l.subjects[m.front].Z-l.subjects[m.back].Z)/taller)
	if side == "top" {
		m.owners = append(m.owners, s.wallOwners(edge, c, d, q.hi+1, p.hi)...)
	} else {
		m.owners = append(m.owners, s.wallOwners(edge, c, d, p.lo, q.lo-1)...)
	}
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

func (s *shape) step(l *levels, m *meeting, side string) Step {
	front, back := l.subjects[m.front], l.subjects[m.back]
	low, high := s.spanAll()
	st := &subject.Step{Rise: math.Abs(front.Z - back.Z), LocalShare: m.local}
	st.Share = st.Rise / (high - low)
	st.FootRadius = s.footRadius(m.owners)
	st.Draft = s.leastDraft(m.owners, math.Min(front.Z, back.Z), math.Max(front.Z, back.Z), m.outer...)
	st.Ledge = s.ledge(l.of[side], m)
	owners := slices.Clone(m.owners)
	var length float64
	var at plane.Point
	for _, i := range m.edges {
		e := &s.overlay.Edges[i]
		for _, c := range [2]int{e.Left, e.Right} {
			z := front.Z
			if l.of[side][c] == m.back {
				z = back.Z
			}
			owners = append(owners, s.faceOwners(c, z, side)...)
		}
		d := e.Curve.Length()
		mid := e.Curve.At(0.5)
		length += d
		at = plane.Point{X: at.X + d*mid.X, Y: at.Y + d*mid.Y}
	}
	switch st.Declared = s.declared(owners); st.Declared {
	case "none":
		st.OwnPunch = subject.Snap(st.Share) > StepShare+overShare || subject.Snap(st.LocalShare) > stepLocal+overShare
	default:
		st.OwnPunch = st.Declared == "own"
	}
	at = plane.Point{X: at.X / length, Y: at.Y / length}
	st.Common = s.common(owners, s.at(at), math.Min(front.Z, back.Z), math.Max(front.Z, back.Z))
	st.Name = joined(st.Features, " to ") + " " + side
	return Step{st, front, back}
}

// StepShare is the rise, as a share of the part's height, up to which a step stays in a punch face and levels share a
// punch: 15 %, published (kalpakjian item 5, bralla, for steps and bosses).
const StepShare = 0.15

// stepLocal is the same as a share of the taller column at the step: 25 %, from memory.
const stepLocal = 0.25

// declared is what the features that make a step's wall and its two levels there say of its punch.
func (s *shape) declared(owners []int) string {
	said := "none"
	for _, f := range owners {
		switch s.features[f].Punch {
		case "own":
			return "own"
		case "face":
			said = "face"
		}
	}
	return said
}

// footRadius is the radius that the part file gives at the foot of a step's wall, the least of several.
func (s *shape) footRadius(owners []int) (r subject.Optional) {
	for i := range s.part.Edges {
		e := &s.part.Edges[i]
		for _, f := range owners {
			if e.Face == "" && e.Of == s.features[f].Name && (!r.Known || e.Radius < r.Value) {
				r = subject.Some(e.Radius)
			}
		}
	}
	return r
}

// spanAll is the z-range of the part.
func (s *shape) spanAll() (low, high float64) { return s.span(s.allCells()) }

func (s *shape) allCells() []int {
	all := make([]int, len(s.cells))
	for c := range all {
		all[c] = c
	}
	return all
}

// Owners of the edges of a set-back level, for its ledge.
const (
	stepEdge = iota
	outlineEdge
	holeEdge
)

// ledge is the least neck of the set-back level between the step and the outline, the next level or another side of
// the step. Holes, blind ones and bosses too, are filled first; where nothing else bounds the level, as in a
// counterbore, they count; else it is the widest circle that fits.
func (s *shape) ledge(of []int, m *meeting) float64 {
	holes := s.connected(func(c int) bool { return len(s.cells[c].runs) == 0 })
	through := func(c int) bool { return holes[c] >= 0 && holes[c] != holes[0] }
	blind := func(c int) bool { return holes[c] < 0 && of[c] < 0 } // or a boss, or a groove
	owner := func(_, _, out int) int {
		switch {
		case of[out] == m.front:
			return stepEdge
		case through(out):
			return holeEdge
		}
		return outlineEdge
	}
	// level is the set-back level with what lies in it and fill accepts; what lies in the front is not joined to it.
	level := func(fill func(int) bool) *plane.Region {
		in := func(c int) bool { return of[c] == m.back || fill(c) }
		joined := s.neighbours(func(a, b int) bool { return in(a) && in(b) })
		own := map[int]bool{}
		for c := range s.cells {
			own[joined.Find(c)] = own[joined.Find(c)] || of[c] == m.back
		}
		return s.overlay.Region(func(c int) bool { return in(c) && own[joined.Find(c)] }, owner)
	}
	if d := leastFrom(level(func(c int) bool { return through(c) || blind(c) }), stepEdge, outlineEdge); d > 0 {
		return d
	}
	bare := level(blind)
	if d := leastFrom(bare, holeEdge); d > 0 {
		return d
	}
	return 2 * bare.Inscribed().R
}

// leastFrom is the least neck between a step edge and one of the other kinds; 0 where there is none.
func leastFrom(r *plane.Region, kinds ...int) float64 {
	d, ok := r.Least(func(a, b int) bool { return min(a, b) == stepEdge && slices.Contains(kinds, max(a, b)) }, math.Inf(1))
	if !ok {
		return 0
	}
	return d
}
