package measure

import (
	"maps"
	"math"
	"slices"

	"corerod/parts/blank"
	"corerod/parts/form"
	"corerod/parts/plane"
	"corerod/parts/subject"
)

// holes is what was found of voids closed in plan.
type holes struct {
	subjects []*subject.Hole
	through  []int                     // by cell: the all-void group closed in plan that is a through-hole, -1 elsewhere
	keyed    []bool                    // by cell: it lies in a keyed through-hole
	area     map[*subject.Hole]float64 // in plan, of through-holes
	round    map[*subject.Hole]float64 // length of their contour, mm
	// By side, "top" or "bottom", then by cell:
	blind  map[string][]*subject.Hole // the blind hole whose floor ends the column there, else nil
	groove map[string][]bool          // the floor of a groove that is closed in plan ends it
}

// findHoles finds through-holes, then the recesses that are closed in plan and hold none.
func findHoles(s *blank.Shape) *holes {
	n := s.Cells()
	h := &holes{area: map[*subject.Hole]float64{}, round: map[*subject.Hole]float64{},
		through: make([]int, n), keyed: make([]bool, n),
		groove: map[string][]bool{"top": make([]bool, n), "bottom": make([]bool, n)},
		blind:  map[string][]*subject.Hole{"top": make([]*subject.Hole, n), "bottom": make([]*subject.Hole, n)}}
	void := s.Connected(func(c int) bool { return !s.HasMaterial(c) })
	for c := range h.through {
		h.through[c] = -1
	}
	for _, cells := range groups(void) {
		if cells[0] != 0 {
			throughHole(s, h, cells)
		}
	}
	recesses(s, h)
	return h
}

// groups gathers the cells of each group, in order of the least cell; those numbered -1 are in none.
func groups(of []int) [][]int {
	return plane.Union(of).Groups(func(c int) bool { return of[c] < 0 })
}

// throughHole adds the hole that a connected group of all-void cells makes, if it is closed in plan somewhere.
func throughHole(s *blank.Shape, h *holes, cells []int) {
	c := touched(s, cells)
	if len(c.slabs) == 0 {
		return
	}
	c.goOn(s, cells[0])
	region := s.RegionOf(cells)
	hole := &subject.Hole{Width: 2 * region.Inscribed().R, Through: true, Open: "both", Draft: c.draft}
	hole.Depth = c.high - c.low
	hole.Share = s.Share(hole.Depth)
	hole.Ratio = hole.Depth / hole.Width
	var at plane.Point
	hole.Bore, hole.Keyed, at = bore(s, region, c.owners, hole.Width)
	if hole.Bore.Known && !hole.Keyed {
		hole.Width = hole.Bore.Value
		hole.Ratio = hole.Depth / hole.Width
	}
	void := map[int]int{}
	for _, k := range c.slabs {
		void[k] = s.Voids(k)[cells[0]]
	}
	hole.Edge = toOutside(s, void)
	hole.Common = common(s, c.owners, s.ToPart(at), c.low, c.high)
	hole.Footprints = regionPrint(region)
	for _, c := range region.Outline() {
		h.round[hole] += c.Length()
	}
	for _, x := range cells {
		h.through[x], h.keyed[x] = cells[0], hole.Keyed
		h.area[hole] += s.Area(x)
	}
	h.subjects = append(h.subjects, hole)
}

// contact is where material meets a hole: the slabs, in order, the heights, the features that make the wall there, and its least draft.
type contact struct {
	slabs     []int
	low, high float64
	owners    []int
	draft     float64
}

// touched is where material meets a hole's own contour and the void is closed. Of a tapered hole, whose contour no upright wall
// makes, it is where the features that make it bound the void.
func touched(s *blank.Shape, cells []int) (c contact) {
	in := map[int]bool{}
	for _, x := range cells {
		in[x] = true
	}
	c.low, c.high = math.Inf(1), math.Inf(-1)
	sloped := map[int]bool{} // features
	met := map[int]bool{}    // slabs
	for i := range s.Edges() {
		e := s.Edge(i)
		v, m := e.Left, e.Right
		if in[m] {
			v, m = m, v
		}
		if !in[v] || in[m] {
			continue
		}
		for r, run := range s.Runs(m) {
			for _, f := range s.SlopesOf(m, r) {
				sloped[f] = true
			}
			for k := run.Lo; k <= run.Hi; k++ {
				switch o := s.Owner(k, i, m, v); {
				case !s.Closed(k, v):
				case s.Leans(o):
					sloped[s.FeatureOf(o)] = true
				default:
					met[k] = true
					c.owners = append(c.owners, s.FeatureOf(o))
					low, high := s.EdgeSpan(i, m, r)
					c.low, c.high = math.Min(c.low, math.Max(low, s.Low(k))), math.Max(c.high, math.Min(high, s.High(k)))
				}
			}
		}
	}
	if len(met) > 0 || len(sloped) == 0 {
		c.slabs = slices.Sorted(maps.Keys(met))
		c.owners = append(c.owners, taperedRound(s, c.slabs, cells[0], sloped)...)
		return c
	}
	for _, most := range []float64{MostWall, 90} { // what is flatter is a punch's face, unless there is nothing else
		if c.slabs = c.tapered(s, cells[0], sloped, most); len(c.slabs) > 0 {
			break
		}
	}
	c.draft = leastDraft(s, c.owners, c.low, c.high, false)
	return c
}

// tapered adds where slopes of features, up to an angle, bound the void that a cell lies in where it is closed, and gives the slabs.
func (c *contact) tapered(s *blank.Shape, cell int, of map[int]bool, most float64) (slabs []int) {
	for k := range s.Slabs() {
		if !s.Closed(k, cell) {
			continue
		}
		void := s.Voids(k)[cell]
		for _, p := range s.Region(k).Pieces() {
			if f := s.FeatureOf(p.Owner); s.Voids(k)[p.Outer] == void && of[f] && s.Slope(p.Owner).Lean() <= most {
				slabs = append(slabs, k)
				c.owners = append(c.owners, f)
				c.low, c.high = math.Min(c.low, s.Low(k)), math.Max(c.high, s.High(k))
			}
		}
	}
	return slices.Compact(slabs)
}

// taperedRound are those of some features whose steep slopes bound the void that a cell lies in, in some slabs.
func taperedRound(s *blank.Shape, slabs []int, cell int, of map[int]bool) (owners []int) {
	for _, k := range slabs {
		for _, p := range s.Region(k).Pieces() {
			if f := s.FeatureOf(p.Owner); of[f] && s.Leans(p.Owner) && s.Voids(k)[p.Outer] == s.Voids(k)[cell] &&
				s.Slope(p.Owner).Lean() <= MostWall {
				owners = append(owners, f)
			}
		}
	}
	return owners
}

// goOn adds to where material meets a hole what the core rod forms further on: where the void, that a cell of the hole tells, goes on
// without a ledge between walls that are upright or steep.
func (c *contact) goOn(s *blank.Shape, cell int) {
	for _, step := range [2]int{-1, 1} {
		from := c.slabs[0]
		if step > 0 {
			from = c.slabs[len(c.slabs)-1]
		}
		for k := from; ; k += step {
			next := k + step
			if next < 0 || next >= s.Slabs() || !s.Closed(next, cell) || s.Half(max(k, next)) <= 0 && !sameVoid(s, k, next, cell) {
				break
			}
			owners, ok := steep(s, next, s.Voids(next)[cell])
			if !ok {
				break
			}
			c.slabs, c.owners = append(c.slabs, next), append(c.owners, owners...)
			c.low, c.high = math.Min(c.low, s.Low(next)), math.Max(c.high, s.High(next))
		}
		slices.Sort(c.slabs)
	}
	if c.draft > 0 {
		c.draft = leastDraft(s, c.owners, c.low, c.high, false)
	}
}

// sameVoid tells whether the void that a cell lies in is of the same cells in two slabs.
func sameVoid(s *blank.Shape, a, b, cell int) bool {
	u, v := s.Voids(a), s.Voids(b)
	for c := range u {
		if (u[c] == u[cell]) != (v[c] == v[cell]) {
			return false
		}
	}
	return true
}

// steep are the features round a void of a slab; false where one is a slope that a punch forms.
func steep(s *blank.Shape, k, void int) (features []int, ok bool) {
	for _, p := range s.Region(k).Pieces() {
		if s.Voids(k)[p.Outer] != void {
			continue
		}
		if s.Leans(p.Owner) && s.Slope(p.Owner).Lean() > MostWall {
			return nil, false
		}
		features = append(features, s.FeatureOf(p.Owner))
	}
	return features, true
}

// roundBore returns the diameter of a hole that is round, or round but for a key or flat: more than half of a circle, the
// largest of several, and its centre; of another hole the centroid.
func roundBore(r *plane.Region) (d subject.Optional, keyed bool, at plane.Point) {
	at = r.Moments().Centroid()
	for _, p := range r.Pieces() {
		if !p.Curve.IsArc() || p.Curve.Sweep < 0 {
			continue
		}
		turn := 0.0
		for _, q := range r.Pieces() {
			if q.Curve.IsArc() && q.Curve.Sweep > 0 && q.Curve.C.Distance(p.Curve.C) <= plane.Near &&
				math.Abs(q.Curve.R-p.Curve.R) <= plane.Near {
				turn += q.Curve.Sweep
			}
		}
		if turn > overHalf && 2*p.Curve.R > d.Value {
			missing := (2*math.Pi - turn) * p.Curve.R // where it touches the rim, hardly anything
			d, keyed, at = subject.Some(2*p.Curve.R), missing > plane.Thin, p.Curve.C
		}
	}
	return d, keyed, at
}

// bore is the bore of a hole that features make, and where the hole lies. Teeth make it keyed, and then only the circle that fits between
// their tips can be a bore.
func bore(s *blank.Shape, r *plane.Region, owners []int, width float64) (d subject.Optional, keyed bool, at plane.Point) {
	d, keyed, at = roundBore(r)
	if !slices.ContainsFunc(owners, func(f int) bool { return s.IsCut(f) && form.Toothed(s.Feature(f).Profile) }) {
		return d, keyed, at
	}
	if math.Abs(d.Value-width) > plane.Near {
		d = subject.Optional{}
	}
	return d, true, at
}
