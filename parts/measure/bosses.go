package measure

import (
	"math"

	"corerod/parts/blank"
	"corerod/parts/subject"
)

// bossArea is the share of the plan up to which an island on a face is a boss, no level.
const bossArea = 0.10

// bosses tells by side and cell whether the cell's column ends on a boss.
type bosses map[string][]bool

// findBosses finds the islands on both faces.
func findBosses(s *blank.Shape, fs *floors) bosses {
	return bosses{"bottom": islands(s, s.Face("bottom"), fs), "top": islands(s, s.Face("top"), fs)}
}

// islands marks the cells of a face that rise from one level all round, small against the plan and without a hole.
func islands(s *blank.Shape, f *blank.Face, fs *floors) []bool {
	plan := 0.0
	for c := range s.Cells() {
		if f.Solid(c) {
			plan += s.Area(c)
		}
	}
	out := make([]bool, s.Cells())
	for _, cells := range f.Flats() {
		area := 0.0
		for _, c := range cells {
			area += s.Area(c)
		}
		if area <= bossArea*plan*atShare && risesFromOne(s, f, fs, f.Flat(cells[0])) && !hasOwnPunch(s, f, cells) {
			for _, c := range cells {
				out[c] = true
			}
		}
	}
	return out
}

// hasOwnPunch tells whether a flat is said to have a punch of its own: then it is a level, however small.
func hasOwnPunch(s *blank.Shape, f *blank.Face, cells []int) bool {
	var owners []int
	for _, c := range cells {
		owners = append(owners, s.FaceOwners(c, f.Z(c), f.Side())...)
	}
	return declared(s, owners) == "own"
}

// risesFromOne tells whether all neighbours of a flat are set back to one height, and none is void.
func risesFromOne(s *blank.Shape, f *blank.Face, fs *floors, own int) bool {
	base, any := 0.0, false
	for i := range s.Edges() {
		c, d := s.Edge(i).Left, s.Edge(i).Right
		if f.Flat(d) == own {
			c, d = d, c
		}
		if f.Flat(c) != own || f.Flat(d) == own {
			continue
		}
		if !f.Solid(d) || fs.at(f.Side(), d) || blank.Outward(f.Side(), f.Z(c), f.Z(d)) <= 0 ||
			any && math.Abs(f.Z(d)-base) > blank.SameHeight {
			return false
		}
		base, any = f.Z(d), true
	}
	return any
}

// measureBosses turns the islands on both faces into subjects.
func measureBosses(s *blank.Shape, bs bosses) (out []*subject.Boss) {
	low, high := s.WholeSpan()
	for _, side := range []string{"bottom", "top"} {
		f := s.Face(side)
		for _, cells := range f.Flats() {
			if !bs[side][cells[0]] {
				continue
			}
			base, owners := around(s, f, cells)
			z := f.Z(cells[0])
			region := s.RegionOf(cells)
			b := &subject.Boss{Face: side, Rise: math.Abs(z - base), Width: 2 * region.Inscribed().R}
			b.Share = b.Rise / (high - low)
			b.Draft = leastDraft(s, owners, math.Min(z, base), math.Max(z, base), true)
			for _, c := range cells {
				owners = append(owners, s.FaceOwners(c, z, side)...)
			}
			b.Common = common(s, owners, s.Centroid(cells), math.Min(z, base), math.Max(z, base))
			b.Footprints = regionPrint(region)
			out = append(out, b)
		}
	}
	return out
}

// around is the height of the face round a flat, the furthest out of several, and the features that make the walls
// between them.
func around(s *blank.Shape, f *blank.Face, cells []int) (z float64, owners []int) {
	in := map[int]bool{}
	for _, c := range cells {
		in[c] = true
	}
	z = math.Inf(-1)
	if f.Side() == "bottom" {
		z = math.Inf(1)
	}
	for i := range s.Edges() {
		c, d := s.Edge(i).Left, s.Edge(i).Right
		if in[d] {
			c, d = d, c
		}
		if !in[c] || in[d] || !f.Solid(d) {
			continue
		}
		if blank.Outward(f.Side(), f.Z(d), z) > 0 {
			z = f.Z(d)
		}
		if blank.Outward(f.Side(), f.Z(c), f.Z(d)) < 0 { // a wall above this flat
			c, d = d, c
		}
		r, _ := s.Column(c)
		q, _ := s.Column(d)
		if f.Side() == "top" {
			owners = append(owners, s.WallOwners(i, c, d, q.Hi+1, r.Hi)...)
		} else {
			owners = append(owners, s.WallOwners(i, c, d, r.Lo, q.Lo-1)...)
		}
	}
	return z, owners
}
