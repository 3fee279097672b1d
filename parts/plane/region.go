package plane

import (
	"math"
	"slices"
)

// Region is a set of cells seen as one figure: its boundary in rings, material on the left.
type Region struct {
	Rings   []Ring
	pieces  []Piece // of all rings, in order
	pinches []pinch
	joined  Moments // what joining pieces took from the region: the vertices between them lie on a 1 nm grid
	tree    *tree
}

// pinch is a point where the boundary touches itself.
type pinch struct {
	at    Point
	solid float64 // mean angle of the material that meets there, radians
}

// Ring is one closed boundary of a region. Where two boundaries touch in a point they are one ring.
type Ring struct{ Pieces []Piece }

// Piece is a stretch of boundary on one line or circle that one owner makes.
type Piece struct {
	Curve Curve
	Owner int
	Outer int // the cell on the other side where it begins
	Last  int // and where it ends
	Next  int // in the region's numbering, the piece that follows on the ring
}

// Loop returns the ring's curves.
func (r *Ring) Loop() Loop {
	l := make(Loop, len(r.Pieces))
	for i := range r.Pieces {
		l[i] = r.Pieces[i].Curve
	}
	return l
}

// Region traces the boundary of the cells that keep accepts. owner names whoever makes an edge, given the cells on
// the region's side and on the other; edges in line with one owner become one piece.
func (o *Overlay) Region(keep func(cell int) bool, owner func(edge, in, out int) int) *Region {
	kept := make([]bool, len(o.Cells))
	for c := range kept {
		kept[c] = keep(c)
	}
	on := func(h int32) bool { return kept[o.cellOf[h]] && !kept[o.cellOf[h^1]] }
	seen := make([]bool, len(o.next))
	r := &Region{}
	type joint struct{ at, arrives, leaves int32 } // a vertex and the half edges of the boundary there
	joints := make([]joint, 0, len(o.next)/2)
	vertices := int32(0)
	for _, v := range o.from {
		vertices = max(vertices, v+1)
	}
	visits := make([]uint8, vertices) // by vertex, some of which may have no edges left
	for h := range o.next {
		if seen[h] || !on(int32(h)) {
			continue
		}
		var ring Ring
		for k := int32(h); !seen[k]; {
			seen[k] = true
			in, out := int(o.cellOf[k]), int(o.cellOf[k^1])
			ring.Pieces = append(ring.Pieces, Piece{Curve: o.curve(k), Owner: owner(int(k>>1), in, out), Outer: out, Last: out})
			n := o.next[k]
			for !on(n) {
				n = o.next[n^1]
			}
			joints = append(joints, joint{o.from[n], k, n})
			visits[o.from[n]] = min(visits[o.from[n]]+1, 2)
			k = n
		}
		ring.Pieces = r.inLine(ring.Pieces)
		r.Rings = append(r.Rings, ring)
	}
	first := map[int32]float64{} // turn at vertices that are visited more than once
	for _, j := range joints {
		if visits[j.at] < 2 {
			continue
		}
		arrive, leave := o.curve(j.arrives), o.curve(j.leaves)
		turn := turnAt(&arrive, &leave)
		if before, ok := first[j.at]; ok && visits[j.at] == 2 {
			r.pinches = append(r.pinches, pinch{leave.A, math.Pi - (before+turn)/2})
			visits[j.at] = 3
		} else if !ok {
			first[j.at] = turn
		}
	}
	r.number()
	return r
}

// RegionOf makes a region of outlines that are given as they are, material on the left.
func RegionOf(loops ...Loop) *Region {
	r := &Region{}
	for _, l := range loops {
		ring := Ring{}
		for _, c := range l {
			ring.Pieces = append(ring.Pieces, Piece{Curve: c})
		}
		ring.Pieces = r.inLine(ring.Pieces)
		r.Rings = append(r.Rings, ring)
	}
	r.number()
	return r
}

// InLine is a closed outline whose neighbouring curves on one line or circle are one curve.
func InLine(l Loop) Loop {
	r := RegionOf(l)
	return r.Rings[0].Loop()
}

// index is the search tree of the pieces, built when it is first needed: many regions are only traced.
func (r *Region) index() *tree {
	if r.tree == nil {
		r.tree = newTree(r.pieces)
	}
	return r.tree
}

// number lists the pieces of all rings.
func (r *Region) number() {
	n := 0
	for i := range r.Rings {
		n += len(r.Rings[i].Pieces)
	}
	r.pieces = make([]Piece, 0, n)
	for i := range r.Rings {
		ps := r.Rings[i].Pieces
		base := len(r.pieces)
		for j := range ps {
			ps[j].Next = base + (j+1)%len(ps)
		}
		r.pieces = append(r.pieces, ps...)
	}
}

// Pieces returns all boundary pieces, ring by ring.
func (r *Region) Pieces() []Piece { return r.pieces }

// inLine joins neighbouring pieces on one line or circle that have one owner.
func (r *Region) inLine(ps []Piece) []Piece {
	start := -1
	for i := range ps {
		if !ps[(i+len(ps)-1)%len(ps)].continues(&ps[i]) {
			start = i
			break
		}
	}
	if start < 0 { // one circle all round
		c := ps[0].Curve
		c.Sweep = math.Copysign(2*math.Pi, c.Sweep)
		c.B = c.A
		return []Piece{{Curve: c, Owner: ps[0].Owner, Outer: ps[0].Outer, Last: ps[0].Last}}
	}
	out := make([]Piece, 0, len(ps))
	for i := range ps {
		p := ps[(start+i)%len(ps)]
		if n := len(out); n > 0 && out[n-1].continues(&p) {
			c := out[n-1].Curve
			c.B, c.Sweep = p.Curve.B, c.Sweep+p.Curve.Sweep
			r.joined = r.joined.Add(out[n-1].Curve.moments()).Add(p.Curve.moments()).Add(c.moments().negative())
			out[n-1].Curve, out[n-1].Last = c, p.Last
		} else {
			out = append(out, p)
		}
	}
	return out
}

// continues tells whether q goes on along the same line or circle for the same owner.
func (p *Piece) continues(q *Piece) bool {
	c, d := &p.Curve, &q.Curve
	if p.Owner != q.Owner || c.IsArc() != d.IsArc() {
		return false
	}
	if c.IsArc() {
		return c.C.Distance(d.C) <= Near && math.Abs(c.R-d.R) <= Near && c.Sweep*d.Sweep > 0
	}
	chord := Line(c.A, d.B)
	return c.B.sub(c.A).dot(d.B.sub(d.A)) > 0 && chord.Length() > 0 && chord.Distance(c.B) <= Near && math.Abs(turnAt(c, d)) < straightOn
}

// Moments of the region, as its boundary was before pieces were joined.
func (r *Region) Moments() Moments {
	m := r.joined
	for i := range r.pieces {
		m = m.Add(r.pieces[i].Curve.moments())
	}
	return m
}

// Contains tells whether a point, not on the boundary, lies in the region.
func (r *Region) Contains(p Point) bool {
	turn := 0.0
	for i := range r.pieces {
		turn += r.pieces[i].Curve.turnRound(p)
	}
	return turn > math.Pi
}

// Distance returns the least distance from a point to the boundary.
func (r *Region) Distance(p Point) float64 { return r.index().distance(p) }

// Outline returns the curves of the rings that bound the region from outside.
func (r *Region) Outline() []Curve {
	var out []Curve
	for i := range r.Rings {
		if l := r.Rings[i].Loop(); l.Moments().Area > 0 {
			out = append(out, l...)
		}
	}
	return slices.Clip(out)
}
