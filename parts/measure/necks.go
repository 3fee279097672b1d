package measure

import (
	"math"
	"slices"

	"corerod/parts/blank"
	"corerod/parts/plane"
)

// stretch is a neck followed through touching slabs.
type stretch struct {
	features [2]int // at its two ends, the lesser first
	member   string // of a gap
	parts    []part // from the lowest slab up
	least    float64
	thinnest plane.Neck // the lowest of those that are as thin
}

// part is the neck in one slab.
type part struct {
	neck plane.Neck
	slab int
	web  bool // of a wall: both ends on holes
}

// last is the part in the highest slab so far.
func (st *stretch) last() *part { return &st.parts[len(st.parts)-1] }

// necks are the necks of material and of void of each slab, but those between the teeth of one figure.
type necks [][]plane.Neck

// findNecks finds the necks of every slab.
func findNecks(s *blank.Shape) (ns necks) {
	for k := range s.Slabs() {
		ns = append(ns, s.Region(k).NecksBetween(func(a, b int) bool { return notOneToothed(s, a, b) }))
	}
	return ns
}

// stretches joins the necks that go on from one slab to the next between the same two features. start makes the stretch
// that a neck of slab k begins, or nil where it is none that is asked for.
func stretches(s *blank.Shape, ns necks, start func(k int, n *plane.Neck) *stretch) (found []*stretch) {
	var all []*stretch
	for k := range s.Slabs() {
		taken := map[*stretch]bool{}
		var fresh []*stretch
		for _, n := range ns[k] {
			if st := start(k, &n); st != nil {
				fresh = append(fresh, st)
			}
		}
		for _, on := range []goesOn{overlap, moved} {
			left := fresh[:0]
			for _, f := range fresh {
				st := follow(s, all, taken, f, on)
				if st == nil {
					left = append(left, f)
					continue
				}
				taken[st] = true
				st.parts = append(st.parts, *f.last())
			}
			fresh = left
		}
		all = append(all, fresh...)
	}
	for _, st := range all {
		edge := blunt(s, st)
		if len(st.parts) == 0 || s.Z(st.last().slab+1)-s.Z(st.parts[0].slab) < 3*blank.EndSlice {
			continue // on the thin slices at the end of a slope alone
		}
		st.measure(edge)
		found = append(found, st)
	}
	return found
}

// notOneToothed leaves necks between the teeth of one figure out.
func notOneToothed(s *blank.Shape, a, b int) bool { return a != b || a == beside || !hasTeeth(s, a) }

// measure finds where a stretch is thinnest; one that runs out to an edge is a nanometre thin, the least that is told
// from nothing.
func (st *stretch) measure(edge bool) {
	st.thinnest = st.parts[0].neck
	for _, p := range st.parts {
		if p.neck.Width < st.thinnest.Width-plane.Near {
			st.thinnest = p.neck
		}
	}
	if st.least = st.thinnest.Width; edge {
		st.least = plane.Near
	}
}

// blunt takes the slopes that run out to an edge or a point off the ends of a stretch: two faces that lean until they
// meet have neither wall nor gap between them, nor has an upright wall and a slope that a punch's face forms. Material
// between an upright wall and one that leans until it comes there is a wall that comes to nothing: an edge.
func blunt(s *blank.Shape, st *stretch) (edge bool) {
	for _, up := range [2]bool{false, true} {
		for len(st.parts) > 0 {
			a, b, meet := runOut(s, st, up)
			if !meet {
				break
			}
			if !st.parts[0].neck.Void && (a.Upright() && b.Lean() <= MostWall || b.Upright() && a.Lean() <= MostWall) {
				edge = true
				break
			}
			st.parts = slices.DeleteFunc(st.parts, func(p part) bool {
				c, d := slopesAt(s, &p)
				return c == a && d == b || c == b && d == a
			})
		}
	}
	return edge
}

// slopesAt are the slopes of the two walls of a neck.
func slopesAt(s *blank.Shape, p *part) (a, b blank.Slope) {
	ps := s.Region(p.slab).Pieces()
	return s.Slope(ps[p.neck.I].Owner), s.Slope(ps[p.neck.J].Owner)
}

// runOut tells whether the two walls of a stretch come together at its upper or lower end, and what slopes they are of.
func runOut(s *blank.Shape, st *stretch, up bool) (a, b blank.Slope, meet bool) {
	p := &st.parts[0]
	z := s.Z(p.slab)
	if up {
		p = st.last()
		z = s.Z(p.slab + 1)
	}
	if a, b = slopesAt(s, p); a.Upright() && b.Upright() {
		return a, b, false
	}
	ps := s.Region(p.slab).Pieces()
	one, ok := s.WallAt(ps[p.neck.I].Owner, p.neck.P, z, p.neck.Middle())
	two, both := s.WallAt(ps[p.neck.J].Owner, p.neck.Q, z, p.neck.Middle())
	return a, b, ok && both && one.Distance(two) <= plane.Near
}

// inSection tells whether both ends of a neck are on one groove of round or V section.
func inSection(s *blank.Shape, features [2]int) bool {
	return features[0] == features[1] && s.Feature(features[0]).Section != ""
}

// goesOn tells whether the neck b goes on the neck a of the slab below.
type goesOn func(s *blank.Shape, a, b *part) bool

// follow finds the stretch of the slab below that a fresh neck goes on, the nearest of several.
func follow(s *blank.Shape, all []*stretch, taken map[*stretch]bool, f *stretch, on goesOn) (found *stretch) {
	least := math.Inf(1)
	for _, st := range all {
		a, b := st.last(), f.last()
		alike := a.neck.Void == b.neck.Void && st.features == f.features && st.member == f.member
		if a.slab == b.slab-1 && !taken[st] && alike && on(s, a, b) {
			if d := a.neck.Middle().Distance(b.neck.Middle()); d < least {
				found, least = st, d
			}
		}
	}
	return found
}

// overlap tells whether the chords of two necks meet in plan.
func overlap(_ *blank.Shape, a, b *part) bool { return a.neck.Overlaps(&b.neck) }

// moved tells whether a neck is one of the slab below that goes on along a leaning wall: no further off than half of the
// lesser of both.
func moved(s *blank.Shape, a, b *part) bool {
	c, d := slopesAt(s, b)
	return (!c.Upright() || !d.Upright()) && a.neck.Middle().Distance(b.neck.Middle()) <= math.Min(a.neck.Width, b.neck.Width)/2
}

// endFeatures are the features at the two ends of a neck.
func endFeatures(s *blank.Shape, k int, n *plane.Neck) [2]int {
	ps := s.Region(k).Pieces()
	a, b := s.FeatureOf(ps[n.I].Owner), s.FeatureOf(ps[n.J].Owner)
	return [2]int{min(a, b), max(a, b)}
}

// beyond is a cell of the void on the other side of a boundary piece.
func beyond(s *blank.Shape, k, piece int) int { return s.Region(k).Pieces()[piece].Outer }

// onHole tells whether a piece bounds a void closed in plan.
func onHole(s *blank.Shape, k, piece int) bool { return s.Closed(k, beyond(s, k, piece)) }
