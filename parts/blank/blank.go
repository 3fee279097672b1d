// Package blank computes the as-pressed shape of a part: the part without the cuts made by machining or sizing.
//
// Along z the part is divided at its stations: the heights where something begins or ends, and where outlines that lean come to
// meet otherwise. Between two stations sections change smoothly and alike. In plan the outlines of all bodies and cuts at their
// stations are overlaid once, in a frame whose origin is near the middle of the part, with what divides the slopes: the lines
// between their sides, and those in which they cross each other. The cells of the overlay are the areas between, its edges the
// lines and arcs between two cells, its figures the outlines. Over a cell each surface is that of one side of one wall.
//
// A slab is a stretch between two stations. Where something leans it is halved: the lower half shows the section at its lower
// station, the upper half that at its upper one, and a slope is a step between them, of which runs know the surface. Every cell
// is solid or void in each slab; a run is an unbroken stretch of material over it, from the lowest to the highest of a cell's runs goes its
// column. A face is what the pressing axis meets from above or below: flats, and slopes that belong to a flat.
//
// Cells, edges, slabs, figures and features are known by their numbers from 0. Lengths and heights are in mm, areas in mm2.
// What is found on the shape, as walls, holes and levels, is the business of package measure.
package blank

import (
	"math"
	"slices"
	"sync"

	"corerod/parts"
	"corerod/parts/form"
	"corerod/parts/plane"
)

// Shape is the as-pressed shape of one part. Nothing changes it once Make has made it, and what its methods return is to be
// read only.
type Shape struct {
	part      *parts.Part
	features  []*parts.Feature // pressed ones, bodies first
	bodies    int              // how many of features are bodies
	drawn     int              // how many are bodies or cuts; those of changes follow
	changes   []change
	later     []int           // cuts that are made after pressing, of a finished part
	keeps     map[[2]int]bool // cuts and bodies, by their features, that the cut leaves alone
	walls     []wall
	low, high float64     // of the bodies as drawn
	origin    plane.Point // of the overlay, in part coordinates
	stations  []float64   // heights at which something begins, ends or changes
	meets     []float64   // those of them at which sloped walls come to meet others otherwise
	grazing   []float64   // heights in stretches in which two slopes touch along a line
	outlines  []outline   // figure numbers of the overlay are indices here
	overlay   *plane.Overlay
	heights   []float64 // slab k lies between heights[k] and heights[k+1]
	first     []int     // by station: the slab that begins there
	edges     [][]int   // by cell of the overlay: the edges round it
	cells     []cell    // by cell of the overlay
	slabs     []slab
	unseen    parts.Problems // sections half way between stations that cannot be overlaid
	faces     map[string]*Face
	asDrawn   *Shape // nil where it is as drawn
	treated   []Treated
	ledges    map[[2]any]bool // by side and flat, of those that were asked for: whether it is one
	found     sync.Once       // they are found when they are first asked for

	lock      sync.Mutex
	materials map[float64]*plane.Region // sections between stations that were asked for, by height
}

// Make computes the as-pressed shape of a part that was read without problems. Problems, in order of their places, are
// profiles that cannot be drawn, what is too large, cuts that remove nothing, bodies that add nothing, and a part that is not in one
// piece.
func Make(p *parts.Part) (*Shape, parts.Problems) {
	s, ps := newShape(p, true)
	if len(ps) > 0 {
		return nil, ps.Sorted()
	}
	if ps := slices.Concat(s.idle(0), s.machined(), s.outside()); len(ps) > 0 {
		return nil, ps.Sorted()
	}
	if ps := s.whole(); len(ps) > 0 {
		return nil, ps.Sorted()
	}
	s = s.bare()
	s.cutSlabs()
	if len(s.unseen) > 0 {
		return nil, s.unseen.Sorted()
	}
	return s, nil
}

// newShape overlays the pressed features and finds where each cell is solid: as pressed with the stock on their faces, or without.
func newShape(p *parts.Part, pressed bool) (*Shape, parts.Problems) {
	s := &Shape{part: p, materials: map[float64]*plane.Region{}}
	var cuts []*parts.Feature
	for _, c := range p.Cuts {
		if c.MadeBy == "pressing" {
			cuts = append(cuts, c)
		}
	}
	s.features, s.bodies = featuresOf(p, cuts)
	if ps := Check(p); len(ps) > 0 {
		return nil, ps
	}
	s.drawn = len(s.features)
	s.keeps = s.kept()
	s.walls, _ = drawWalls(p, s.features, s.bodies)
	if ps := s.extent(); len(ps) > 0 {
		return nil, ps
	}
	if ps := s.sinkCuts(); len(ps) > 0 {
		return nil, ps
	}
	if ps := slices.Concat(s.touching(), s.crowded()); len(ps) > 0 {
		return nil, ps
	}
	if pressed {
		s.addStock()
	}
	s.findStations()
	if ps := s.lay(); len(ps) > 0 {
		return nil, ps
	}
	return s, nil
}

// extent finds how high the bodies are, sets the origin to the middle of them, in whole millimetres, and refuses parts that are
// too large.
func (s *Shape) extent() (ps parts.Problems) {
	lo, hi := plane.Point{X: math.Inf(1), Y: math.Inf(1)}, plane.Point{X: math.Inf(-1), Y: math.Inf(-1)}
	s.low, s.high = math.Inf(1), math.Inf(-1)
	for i := range s.walls {
		w := &s.walls[i]
		if w.feature >= s.bodies || s.isIsland(w.feature) {
			continue
		}
		a, b := w.drawn.Bounds()
		lo, hi = plane.Point{X: math.Min(lo.X, a.X), Y: math.Min(lo.Y, a.Y)}, plane.Point{X: math.Max(hi.X, b.X), Y: math.Max(hi.Y, b.Y)}
		s.low, s.high = math.Min(s.low, w.low), math.Max(s.high, w.high)
	}
	s.origin = plane.Point{X: math.Round((lo.X + hi.X) / 2), Y: math.Round((lo.Y + hi.Y) / 2)}
	for i := range s.walls {
		s.walls[i].drawn = s.walls[i].drawn.Moved(plane.Point{}, 0, plane.Point{X: -s.origin.X, Y: -s.origin.Y})
	}
	if across := math.Max(hi.X-lo.X, hi.Y-lo.Y); across > MostExtent+plane.Near {
		ps = append(ps, s.Problem(s.part.Place, "the part is %.4g mm across; parts of more than %d mm are not reviewed",
			across, MostExtent))
	}
	if s.high-s.low > MostExtent+SameHeight {
		ps = append(ps, s.Problem(s.part.Place, "the part is %.4g mm high; parts of more than %d mm are not reviewed", s.high-s.low,
			MostExtent))
	}
	return ps
}

// hasSlopes tells whether any wall of the part slopes.
func (s *Shape) hasSlopes() bool {
	return slices.ContainsFunc(s.features[:s.drawn], form.Sloped) || slices.ContainsFunc(s.changes, change.slopes)
}

// sinkCuts finds how high each copy of a cut lies. A depth counts from the highest (lowest) point of the bodies under its outline;
// past that face the cut goes on as wide as there. A copy with no body there lies on the lowest face, without height.
func (s *Shape) sinkCuts() parts.Problems {
	open := false
	for i := range s.walls {
		w := &s.walls[i]
		switch e := s.features[w.feature].Extent.Open; {
		case w.feature < s.bodies:
		case e == "through":
			w.base, w.low, w.high = s.low, s.low+w.lo, s.low+w.hi
		case e != "":
			open = true
		}
	}
	if !open {
		return nil
	}
	faces, ps := s.facesUnder()
	if len(ps) > 0 {
		return ps
	}
	for i := range s.walls {
		w := &s.walls[i]
		e := s.features[w.feature].Extent
		if w.feature < s.bodies || e.Open != "top" && e.Open != "bottom" {
			continue
		}
		f, ok := faces[[2]int{w.feature, w.copy}]
		switch {
		case !ok || f[1] < f[0]:
			w.low, w.high, w.base = s.low, s.low, s.low-w.hi
		case e.Open == "top":
			height := heightOf(s.part, s.features[w.feature])
			w.base = f[1] - height
			w.low, w.high = w.base+w.lo, w.base+w.hi
			if w.hi >= height-SameHeight {
				w.high = math.Max(s.high, f[1])
			}
		default:
			w.base = f[0]
			w.low, w.high = w.base+w.lo, w.base+w.hi
			if w.lo <= SameHeight {
				w.low = math.Min(s.low, f[0])
			}
		}
	}
	s.sinkIslands()
	return nil
}

// facesUnder are, by feature and copy of a cut that is open to a face, the lowest and the highest point of the bodies under it.
func (s *Shape) facesUnder() (map[[2]int][2]float64, parts.Problems) {
	var loops []plane.Loop
	var of []int // by figure: the wall
	for i := range s.walls {
		w := &s.walls[i]
		if e := s.features[w.feature].Extent.Open; w.feature >= s.bodies && e != "top" && e != "bottom" || s.isIsland(w.feature) {
			continue
		}
		for _, z := range [2]float64{w.slopeLow(), w.slopeHigh()} {
			if l, err := w.section(z); err == nil && len(l) > 0 && (w.sloped() || z == w.slopeLow()) {
				loops, of = append(loops, l), append(of, i)
			}
		}
	}
	dividers := func(in func(feature int) bool) (cs []plane.Curve) {
		for i := range s.walls[:s.bodyWalls()] {
			if w := &s.walls[i]; in(w.feature) {
				cs = append(cs, w.dividers(w.slopeLow(), w.slopeHigh())...)
			}
		}
		return cs
	}
	o, err := plane.Lay(loops, dividers(anyFeature)...)
	if err != nil {
		return nil, parts.Problems{s.tooClose(err, loops, func(i int) int { return s.walls[of[i]].feature }, dividers)}
	}
	faces := map[[2]int][2]float64{}
	sides := edgesOf(o)
	for c := range o.Cells {
		in := map[int]int{} // by wall: the figures of it round the cell
		o.Cells[c].Inside.Each(func(i int) { in[of[i]]++ })
		for i := range in {
			w := &s.walls[i]
			if w.feature < s.bodies {
				continue
			}
			low, high := s.reachUnder(w, in, curvesOf(o, c, sides[c]))
			if f, ok := faces[[2]int{w.feature, w.copy}]; ok {
				low, high = math.Min(f[0], low), math.Max(f[1], high)
			}
			faces[[2]int{w.feature, w.copy}] = [2]float64{low, high}
		}
	}
	return faces, nil
}

// reachUnder is from where to where the bodies under the wall of a cut reach that it does not keep, over a cell that lies in some outlines
// of each wall; curves are those round the cell.
func (s *Shape) reachUnder(cut *wall, in map[int]int, curves []plane.Curve) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for i := range s.walls[:s.bodyWalls()] {
		if s.keeps[[2]int{cut.feature, s.walls[i].feature}] {
			continue
		}
		if a, b, ok := s.walls[i].reachOver(in[i], curves); ok {
			low, high = math.Min(low, a), math.Max(high, b)
		}
	}
	return low, high
}

// bodyWalls is how many of the walls are of bodies, which come first.
func (s *Shape) bodyWalls() int {
	n := 0
	for n < len(s.walls) && s.walls[n].feature < s.bodies {
		n++
	}
	return n
}

// reachOver is the lowest and the highest height of what the wall of a body holds over a cell that lies in some of its outlines at
// both ends; curves are those round the cell. It is false where the cell lies outside.
func (w *wall) reachOver(in int, curves []plane.Curve) (low, high float64, ok bool) {
	if in == 0 {
		return 0, 0, false
	}
	if !w.sloped() || in == 2 {
		return w.low, w.high, true
	}
	low, high = w.extremes(w.sideOver(middles(curves), w.slopeLow(), w.slopeHigh()), curves)
	if w.moves[0].rate(mid(w.lo, w.hi)) > 0 { // narrower upward
		return w.low, high, true
	}
	return low, w.high, true
}
