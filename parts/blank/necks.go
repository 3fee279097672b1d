package blank

import (
	"math"

	"corerod/parts/plane"
	"corerod/parts/subject"
)

// stretch is a neck followed through touching slabs.
type stretch struct {
	neck     plane.Neck // in the lowest slab where it is thinnest
	features [2]int     // at its two ends, the lesser first
	web      bool       // of a wall: both ends on holes in every slab
	member   string     // of a gap
	last     int        // highest slab so far
	lo       int
	sum      float64 // of width times height
	least    float64
	longest  float64
	open     plane.Neck // in slab last
}

// findNecks finds the walls and gaps of every slab and joins those that go on from one slab to the next between the
// same two features. Those that teeth carry are left out; rootWalls are, by figure, the least walls behind teeth.
func (s *shape) findNecks(h *holes) (walls []*subject.Wall, gaps []*subject.Gap, rootWalls map[int]float64) {
	var all []*stretch
	rootWalls = map[int]float64{}
	for k := range s.slabs {
		dz := s.heights[k+1] - s.heights[k]
		taken := map[*stretch]bool{}
		fresh := s.freshNecks(h, k, rootWalls)
		for _, goesOn := range []func(st, f *stretch) bool{overlap, s.moved(k)} {
			left := fresh[:0]
			for _, f := range fresh {
				st := follow(all, taken, f, goesOn)
				if st == nil {
					left = append(left, f)
					continue
				}
				taken[st] = true
				st.add(f, dz)
			}
			fresh = left
		}
		for _, f := range fresh {
			f.least = f.open.Width
			f.add(f, dz)
			all = append(all, f)
		}
	}
	for _, st := range all {
		if s.heights[st.last+1]-s.heights[st.lo] < 3*endSlice {
			continue // on the thin slices at the end of a slope alone
		}
		if st.neck.Void {
			gaps = append(gaps, s.gap(st))
		} else {
			walls = append(walls, s.wall(st))
		}
	}
	return walls, gaps, rootWalls
}

// notOneToothed leaves necks between the teeth of one figure out.
func (s *shape) notOneToothed(a, b int) bool { return a != b || a == beside || !s.hasTeeth(a) }

// freshNecks are the necks of a slab but those that teeth carry.
func (s *shape) freshNecks(h *holes, k int, rootWalls map[int]float64) (out []*stretch) {
	s.slabs[k].necks = s.slabs[k].region.NecksBetween(s.notOneToothed)
	for _, n := range s.slabs[k].necks {
		if s.ofTeeth(k, &n, rootWalls) {
			continue
		}
		f := &stretch{neck: n, open: n, features: s.endFeatures(k, &n), lo: k, last: k}
		switch {
		case !n.Void:
			f.web = s.onHole(k, n.I) && s.onHole(k, n.J)
		case s.inSection(f.features):
			continue // a groove of round or V section is narrow at its floor by itself
		default:
			if f.member = s.member(h, k, &n); f.member == "" {
				continue
			}
		}
		out = append(out, f)
	}
	return out
}

// add goes on with the neck that another stretch begins with, in a slab of a height.
func (st *stretch) add(f *stretch, dz float64) {
	st.web = st.web && f.web
	st.last, st.open = f.lo, f.open
	st.sum += f.open.Width * dz
	st.longest = math.Max(st.longest, f.open.Length)
	if f.open.Width < st.least-plane.Near {
		st.least, st.neck = f.open.Width, f.open
	}
}

// inSection tells whether both ends of a neck are on one groove of round or V section.
func (s *shape) inSection(features [2]int) bool {
	return features[0] == features[1] && s.features[features[0]].Section != ""
}

// follow finds the stretch of the slab below that a fresh neck goes on, the nearest of several.
func follow(all []*stretch, taken map[*stretch]bool, f *stretch, goesOn func(st, f *stretch) bool) (found *stretch) {
	least := math.Inf(1)
	for _, st := range all {
		if st.last == f.lo-1 && !taken[st] && st.neck.Void == f.neck.Void && st.features == f.features && st.member == f.member && goesOn(st, f) {
			if d := st.open.Middle().Distance(f.open.Middle()); d < least {
				found, least = st, d
			}
		}
	}
	return found
}

// overlap tells whether the chords of two necks meet in plan.
func overlap(st, f *stretch) bool { return st.open.Overlaps(&f.open) }

// moved tells whether a neck of slab k is one of the slab below that goes on along a leaning wall: no further off than
// half of the lesser of both.
func (s *shape) moved(k int) func(st, f *stretch) bool {
	return func(st, f *stretch) bool {
		ps := s.slabs[k].region.Pieces()
		return (s.outlines[ps[f.open.I].Owner].leans || s.outlines[ps[f.open.J].Owner].leans) &&
			st.open.Middle().Distance(f.open.Middle()) <= math.Min(st.open.Width, f.open.Width)/2
	}
}

// endFeatures are the features at the two ends of a neck.
func (s *shape) endFeatures(k int, n *plane.Neck) [2]int {
	ps := s.slabs[k].region.Pieces()
	a, b := s.outlines[ps[n.I].Owner].feature, s.outlines[ps[n.J].Owner].feature
	return [2]int{min(a, b), max(a, b)}
}

// beyond is a cell of the void on the other side of a boundary piece.
func (s *shape) beyond(k, piece int) int { return s.slabs[k].region.Pieces()[piece].Outer }

// onHole tells whether a piece bounds a void closed in plan.
func (s *shape) onHole(k, piece int) bool { return s.closed(k, s.beyond(k, piece)) }

// member is the tool member that must be thin at a gap: the core rod in a through-hole, a punch in a recess or in a
// groove that runs out at the sides, the die where the void is open to the outside over the whole height; "" where the
// void is a punch's own plan.
func (s *shape) member(h *holes, k int, n *plane.Neck) string {
	if s.onHole(k, n.I) {
		v := s.slabs[k].voids[s.beyond(k, n.I)]
		for c, g := range s.slabs[k].voids {
			if g == v && h.through[c] < 0 && !s.onRod(k, c) {
				return "punch"
			}
		}
		return "core-rod"
	}
	// Odd fractions of the chord, so that none is likely to lie on an edge; the greater number decides.
	die, groove := 0, 0
	for _, f := range [5]float64{0.1371, 0.3117, 0.4473, 0.6181, 0.8593} {
		c := s.overlay.CellAt(plane.Point{X: n.P.X + f*(n.Q.X-n.P.X), Y: n.P.Y + f*(n.Q.Y-n.P.Y)})
		switch {
		case len(s.cells[c].runs) == 0:
			die++
		case h.floor["top"][c] || h.floor["bottom"][c]:
			groove++
		}
	}
	switch {
	case die > 2:
		return "die"
	case groove > 2:
		return "punch"
	}
	return ""
}

// onRod tells whether a void cell of slab k lies beside the leaning wall of a hole, which the core rod forms.
func (s *shape) onRod(k, c int) bool {
	f, sloped := s.slopeBeside(k, c)
	return sloped && f >= s.bodies && s.leastDraft([]int{f}) <= mostWall
}

func (s *shape) wall(st *stretch) *subject.Wall {
	low, high := s.heights[st.lo], s.heights[st.last+1]
	w := &subject.Wall{Thickness: st.least, Height: high - low, Length: st.longest, Web: st.web}
	w.Ratio = w.Height / (st.sum / w.Height)
	w.Common = s.common(st.features[:], s.at(st.neck.Middle()), low, high)
	a, b := s.features[st.features[0]].Name, s.features[st.features[1]].Name
	w.Between = []string{min(a, b), max(a, b)}
	w.Name = w.Between[0] + " to " + w.Between[1]
	return w
}

func (s *shape) gap(st *stretch) *subject.Gap {
	low, high := s.heights[st.lo], s.heights[st.last+1]
	g := &subject.Gap{Width: st.least, Depth: high - low, Member: st.member}
	g.Ratio = g.Depth / g.Width
	g.Common = s.common(st.features[:], s.at(st.neck.Middle()), low, high)
	g.Name = joined(g.Features, " to ")
	return g
}
