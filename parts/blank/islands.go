package blank

import (
	"math"

	"corerod/parts/plane"
	"corerod/parts/subject"
)

// findBosses turns the islands on both faces into subjects.
func (s *shape) findBosses(l *levels) (out []*subject.Boss) {
	low, high := s.spanAll()
	for _, side := range []string{"bottom", "top"} {
		f := s.face(side)
		for _, cells := range f.groups() {
			if !l.boss[side][cells[0]] {
				continue
			}
			base, owners := s.around(f, cells)
			z := f.z[cells[0]]
			region := s.regionOf(cells)
			b := &subject.Boss{Face: side, Rise: math.Abs(z - base), Width: 2 * region.Inscribed().R}
			b.Share = b.Rise / (high - low)
			b.Draft = s.leastDraft(owners, math.Min(z, base), math.Max(z, base), true)
			for _, c := range cells {
				owners = append(owners, s.faceOwners(c, z, side)...)
			}
			b.Common = s.common(owners, s.centroid(cells), math.Min(z, base), math.Max(z, base))
			b.Footprints = regionPrint(region)
			out = append(out, b)
		}
	}
	return out
}

// around is the height of the face round a flat, the furthest out of several, and the features that make the walls
// between them.
func (s *shape) around(f *face, cells []int) (z float64, owners []int) {
	in := map[int]bool{}
	for _, c := range cells {
		in[c] = true
	}
	z = math.Inf(-1)
	if f.side == "bottom" {
		z = math.Inf(1)
	}
	for i := range s.overlay.Edges {
		c, d := s.overlay.Edges[i].Left, s.overlay.Edges[i].Right
		if in[d] {
			c, d = d, c
		}
		if !in[c] || in[d] || !f.solid[d] {
			continue
		}
		if outward(f.side, f.z[d], z) > 0 {
			z = f.z[d]
		}
		if outward(f.side, f.z[c], f.z[d]) < 0 { // a wall above this flat
			c, d = d, c
		}
		r, _ := s.cells[c].column()
		q, _ := s.cells[d].column()
		if f.side == "top" {
			owners = append(owners, s.wallOwners(i, c, d, q.hi+1, r.hi)...)
		} else {
			owners = append(owners, s.wallOwners(i, c, d, r.lo, q.lo-1)...)
		}
	}
	return z, owners
}

// findGrooves turns the grooves in both faces into subjects: floors that are set back and narrow.
func (s *shape) findGrooves(h *holes) (out []*subject.Groove) {
	low, high := s.spanAll()
	for _, side := range []string{"bottom", "top"} {
		f := s.face(side)
		for _, cells := range f.groups() {
			if !h.groove[side][cells[0]] {
				continue
			}
			rim, owners := s.around(f, cells)
			z := f.z[cells[0]]
			region := s.regionOf(cells)
			g := &subject.Groove{Face: side, Depth: math.Abs(rim - z), Width: 2 * region.Inscribed().R, Curved: curved(region)}
			g.Share = g.Depth / (high - low)
			g.Draft = s.leastDraft(owners, math.Min(z, rim), math.Max(z, rim), true, false)
			for _, c := range cells {
				owners = append(owners, s.faceOwners(c, z, side)...)
			}
			g.Common = s.common(owners, s.centroid(cells), math.Min(z, rim), math.Max(z, rim))
			g.Footprints = regionPrint(region)
			out = append(out, g)
		}
	}
	return out
}

// curved tells whether the longest stretch of a contour on one line or circle is an arc.
func curved(r *plane.Region) bool {
	length, arc := 0.0, false
	for _, p := range r.Pieces() {
		if d := p.Curve.Length(); d > length+longer {
			length, arc = d, p.Curve.IsArc()
		}
	}
	return arc
}
