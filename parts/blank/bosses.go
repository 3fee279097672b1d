package blank

import (
	"corerod/parts/subject"
	"math"
)

// bossArea is the share of the plan up to which an island on a face is a boss, no level.
const bossArea = 0.10

// bosses tells by side and cell whether the cell's column ends on a boss.
type bosses map[string][]bool

// findBosses finds the islands on both faces.
func (s *shape) findBosses(fs *floors) bosses {
	return bosses{"bottom": s.islands(s.face("bottom"), fs), "top": s.islands(s.face("top"), fs)}
}

// islands marks the cells of a face that rise from one level all round, small against the plan and without a hole.
func (s *shape) islands(f *face, fs *floors) []bool {
	plan := 0.0
	for c := range s.cells {
		if f.solid[c] {
			plan += s.area(c)
		}
	}
	out := make([]bool, len(s.cells))
	for _, cells := range f.groups() {
		area := 0.0
		for _, c := range cells {
			area += s.area(c)
		}
		if area <= bossArea*plan*atShare && s.risesFromOne(f, fs, f.flats.Find(cells[0])) && !s.hasOwnPunch(f, cells) {
			for _, c := range cells {
				out[c] = true
			}
		}
	}
	return out
}

// hasOwnPunch tells whether a flat is said to have a punch of its own: then it is a level, however small.
func (s *shape) hasOwnPunch(f *face, cells []int) bool {
	var owners []int
	for _, c := range cells {
		owners = append(owners, s.faceOwners(c, f.z[c], f.side)...)
	}
	return s.declared(owners) == "own"
}

// risesFromOne tells whether all neighbours of a flat are set back to one height, and none is void.
func (s *shape) risesFromOne(f *face, fs *floors, own int) bool {
	base, any := 0.0, false
	for i := range s.overlay.Edges {
		c, d := s.overlay.Edges[i].Left, s.overlay.Edges[i].Right
		if f.flats.Find(d) == own {
			c, d = d, c
		}
		if f.flats.Find(c) != own || f.flats.Find(d) == own {
			continue
		}
		if !f.solid[d] || fs.at(f.side, d) || outward(f.side, f.z[c], f.z[d]) <= 0 || any && math.Abs(f.z[d]-base) > sameHeight {
			return false
		}
		base, any = f.z[d], true
	}
	return any
}

// measureBosses turns the islands on both faces into subjects.
func (s *shape) measureBosses(bs bosses) (out []*subject.Boss) {
	low, high := s.spanAll()
	for _, side := range []string{"bottom", "top"} {
		f := s.face(side)
		for _, cells := range f.groups() {
			if !bs[side][cells[0]] {
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
