package plane

import (
	"math"
	"slices"
)

// Neck is a local minimum of thickness between two pieces of a region's boundary: a chord square to both, whose
// circle holds nothing else, and from which the thickness grows to both sides. Where the two run parallel or
// concentric it is a plateau that holds over a length.
type Neck struct {
	Width  float64
	Length float64 // of the medial line of the plateau; 0 for a single chord
	P, Q   Point   // the chord, of a plateau one in its middle
	I, J   int     // the pieces at P and Q
	Void   bool    // across the void beside the region rather than its material
	Ends   [2]Chord
	Medial []Curve  // the medial line of a plateau, empty for a single chord
	Also   [][2]int // of a plateau, further pieces on both sides that it runs along
}

// Chord is a chord of a neck.
type Chord struct{ P, Q Point }

func (c Chord) same(d Chord) bool {
	const near = 2 * Near
	return c.P.Distance(d.P) <= near && c.Q.Distance(d.Q) <= near || c.P.Distance(d.Q) <= near && c.Q.Distance(d.P) <= near
}

// Middle of the chord.
func (n *Neck) Middle() Point { return n.P.mid(n.Q) }

// Overlaps tells whether the chords of two necks overlap in plan.
func (n *Neck) Overlaps(m *Neck) bool {
	d, _, _ := Between(n.trace(), m.trace())
	return d <= Near
}

// trace is the medial line and the chords at its ends.
func (n *Neck) trace() []Curve {
	t := []Curve{Line(n.P, n.Q)}
	if n.Length > 0 {
		t = append(t, Line(n.Ends[0].P, n.Ends[0].Q), Line(n.Ends[1].P, n.Ends[1].Q))
	}
	return append(t, n.Medial...)
}

// necks searches a region.
type necks struct {
	*Region
	bends  []float64 // turn at the start of each piece
	before []int     // the piece that ends there
	found  []Neck
	most   float64 // necks of this width and more are passed over
	solid  bool    // so are those of void
}

// Necks returns the necks of the region's material and of the void beside it, each once, in a fixed order.
func (r *Region) Necks() []Neck { return r.NecksBetween(func(int, int) bool { return true }) }

// NecksBetween returns the necks between pieces whose owners are wanted.
func (r *Region) NecksBetween(wanted func(a, b int) bool) []Neck {
	s := newNecks(r)
	of := r.partners(wanted)
	for i := range r.pieces {
		own, before := r.pieces[i].Owner, r.pieces[s.before[i]].Owner
		if s.isVertex(i) {
			of(own).search(s.vertexZone(i), func(j int) { s.fromVertex(i, j) })
			if before != own {
				of(before).search(s.vertexZone(i), func(j int) {
					if !wanted(own, r.pieces[j].Owner) { // else it was found just now
						s.fromVertex(i, j)
					}
				})
			}
		}
		of(own).search(curveZone(&r.pieces[i].Curve), func(j int) {
			if i < j {
				s.curves(i, j)
			}
		})
	}
	s.touches()
	return s.merged()
}

// partners gives, by owner, the pieces that one of its pieces can have necks with.
func (r *Region) partners(wanted func(a, b int) bool) func(owner int) *tree {
	known := map[int]*tree{}
	return func(owner int) *tree {
		t, ok := known[owner]
		if !ok {
			t = r.index()
			if slices.ContainsFunc(r.pieces, func(p Piece) bool { return !wanted(owner, p.Owner) }) {
				t = treeOf(r.pieces, func(other int) bool { return wanted(owner, other) })
			}
			known[owner] = t
		}
		return t
	}
}

func newNecks(r *Region) *necks {
	s := &necks{Region: r, most: math.Inf(1), bends: make([]float64, len(r.pieces)), before: make([]int, len(r.pieces))}
	for i := range r.pieces {
		p := &r.pieces[i]
		s.bends[p.Next], s.before[p.Next] = turnAt(&p.Curve, &r.pieces[p.Next].Curve), i
	}
	return s
}

// zone tells whether a disc may meet the area where the other end of a neck can lie. Every neck is found from one of
// its ends, so only pieces in that end's zone are tried.
type zone func(d Disc) bool

// vertexZone is the wedge of directions from the vertex that starts piece i which turn away from both its sides.
// The circle of a chord may enter a side by touching.
func (s *necks) vertexZone(i int) zone {
	c := &s.pieces[i].Curve
	in := &s.pieces[s.before[i]].Curve
	back, ahead := in.tangent(in.B).scale(-1), c.tangent(c.A)
	return func(d Disc) bool {
		w := d.C.sub(c.A)
		far := wedgeSlack*(w.size()+d.R) + d.R
		return w.dot(back) <= far && w.dot(ahead) <= far
	}
}

// curveZone is the strip beside a line, or the double sector of an arc.
func curveZone(c *Curve) zone {
	if !c.IsArc() {
		u, length := c.B.sub(c.A).unit(), c.Length()
		return func(d Disc) bool {
			t := d.C.sub(c.A).dot(u)
			return t >= -d.R-2*Near && t <= length+d.R+2*Near
		}
	}
	half := math.Abs(c.Sweep)/2 + 2*Near/c.R
	if half > math.Pi/3 {
		return func(Disc) bool { return true }
	}
	m, spread := c.At(0.5).sub(c.C).unit(), math.Tan(half)
	return func(d Disc) bool {
		w := d.C.sub(c.C)
		return math.Abs(w.cross(m))-d.R <= spread*(math.Abs(w.dot(m))+d.R)
	}
}

// fromVertex adds the chords from the vertex that starts piece i to piece j and to the vertex that starts it.
func (s *necks) fromVertex(i, j int) {
	if i == j {
		return
	}
	s.vertexToCurve(i, j)
	v, w := s.pieces[i].Curve.A, s.pieces[j].Curve.A
	if void := s.bends[i] > 0; i < j && s.isVertex(j) && void == (s.bends[j] > 0) && s.growsFrom(i, w) && s.growsFrom(j, v) {
		s.add(v, w, i, j, void)
	}
}

// growsFrom tells whether the distance to q grows as the vertex that starts piece i is left along a side that is
// square to it there. An arc that bends toward q about a centre nearer than q comes closer: it is a maximum, as
// between the two halves of one circle that keyways divide.
func (s *necks) growsFrom(i int, q Point) bool {
	v := s.pieces[i].Curve.A
	d := v.Distance(q)
	if d <= Near {
		return false
	}
	u := q.sub(v).scale(1 / d)
	for _, c := range [2]*Curve{&s.pieces[s.before[i]].Curve, &s.pieces[i].Curve} {
		if math.Abs(c.tangent(v).dot(u)) < aboutSquare && c.bendsToward(v, q)*d > nearerCentre {
			return false
		}
	}
	return true
}

// touches adds a neck where the boundary touches itself in a point: of material where two voids touch there, of void
// where two bodies do, of both where corner meets corner. Its width is taken as Near, the least that is told from 0.
func (s *necks) touches() {
	for _, p := range s.pinches {
		var here []int
		s.index().visit(p.at, 2*Near, func(i int) float64 {
			if s.pieces[i].Curve.Distance(p.at) <= 2*Near {
				here = append(here, i)
			}
			return 3 * Near
		})
		if len(here) < 2 {
			continue
		}
		slices.Sort(here)
		c, other := Chord{p.at, p.at}, here[len(here)-1]
		for _, i := range here {
			if s.pieces[i].Owner != s.pieces[here[0]].Owner {
				other = i
			}
		}
		for _, void := range [2]bool{false, true} {
			if void && p.solid >= math.Pi/2-aboutRight || !void && p.solid <= math.Pi/2+aboutRight {
				s.found = append(s.found, Neck{Width: Near, P: c.P, Q: c.Q, I: here[0], J: other, Void: void,
					Ends: [2]Chord{c, c}})
			}
		}
	}
}

// curves adds the necks between two pieces, their ends apart.
func (s *necks) curves(i, j int) {
	a, b := &s.pieces[i].Curve, &s.pieces[j].Curve
	switch {
	case a.IsArc() && b.IsArc() && a.C.Distance(b.C) <= Near:
		s.concentric(i, j)
	case !a.IsArc() && !b.IsArc():
		if u, v := a.B.sub(a.A).unit(), b.B.sub(b.A).unit(); math.Abs(u.cross(v)) < parallel {
			s.parallel(i, j)
		}
	default:
		for _, c := range squareChords(a, b) {
			side, ok := s.side(a, b, c[0], c[1])
			if !ok || !widens(a, b, c[0], c[1]) {
				continue
			}
			if beside := s.pieces[i].Next == j || s.pieces[j].Next == i; c[0].Distance(c[1]) <= Near && !beside {
				at := c[0].mid(c[1]) // less than what is told from 0: they touch
				s.found = append(s.found, Neck{Width: Near, P: at, Q: at, I: i, J: j, Void: side, Ends: [2]Chord{{at, at}, {at, at}}})
				continue
			}
			s.add(c[0], c[1], i, j, side)
		}
	}
}

func (s *necks) isVertex(i int) bool { return math.Abs(s.bends[i]) > sharp }

// side tells on which side of both curves the chord lies; false where it leaves one into material and arrives at
// the other through void.
func (s *necks) side(a, b *Curve, p, q Point) (void, ok bool) {
	u := q.sub(p)
	f, g := a.tangent(p).left().dot(u), b.tangent(q).left().dot(u)
	return f < 0, f*g < 0
}

// vertexToCurve adds the chord from the vertex at the start of piece i square to piece j.
func (s *necks) vertexToCurve(i, j int) {
	v, b := s.pieces[i].Curve.A, &s.pieces[j].Curve
	void := s.bends[i] > 0
	var feet []Point
	if !b.IsArc() {
		feet = []Point{b.foot(v)}
	} else if w := v.sub(b.C); w.size() > Near {
		feet = []Point{b.C.along(w.unit(), b.R), b.C.along(w.unit(), -b.R)}
	} else {
		feet = []Point{b.At(0.5)}
	}
	for _, q := range feet {
		if !b.covers(q) || (b.tangent(q).left().dot(v.sub(q)) < 0) != void {
			continue
		}
		if b.IsArc() && b.bendsToward(q, v)*v.Distance(q) > 1 || !s.growsFrom(i, q) {
			continue
		}
		s.add(v, q, i, j, void)
	}
}

// bendsToward is the curvature at p toward q: positive where the curve bends to that side.
func (c *Curve) bendsToward(p, q Point) float64 {
	if !c.IsArc() {
		return 0
	}
	if c.C.sub(p).dot(q.sub(p)) > 0 {
		return 1 / c.R
	}
	return -1 / c.R
}

// widens tells whether the distance between the curves grows to all sides from the chord: the second derivatives
// of |q(t) - p(s)| form a positive matrix. With curvatures k toward the chord of length d this is
// 1 - d k1 >= 0 and (1 - d k1)(1 - d k2) > 1.
func widens(a, b *Curve, p, q Point) bool {
	d := p.Distance(q)
	f, g := 1-d*a.bendsToward(p, q), 1-d*b.bendsToward(q, p)
	return f >= 0 && g >= 0 && f*g > 1
}

// passes tells whether necks of a width are passed over.
func (s *necks) passes(width float64, void bool) bool { return width >= s.most || s.solid && void }

// add records a single chord when its circle is empty.
func (s *necks) add(p, q Point, i, j int, void bool) {
	d := p.Distance(q)
	if d <= Near || s.passes(d, void) || !s.index().free(p.mid(q), d/2-touching) {
		return
	}
	c := Chord{p, q}
	s.found = append(s.found, Neck{Width: d, P: p, Q: q, I: i, J: j, Void: void, Ends: [2]Chord{c, c}})
}

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}
