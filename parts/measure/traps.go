package measure

import (
	"math"
	"slices"

	"corerod/parts/blank"
	"corerod/parts/plane"
	"corerod/parts/subject"
)

// pocket is a void between two runs of one cell.
type pocket struct {
	cell, run int // the run below it
	lo, hi    int // slabs; lo is above hi where the void lies between two halves of a stretch
}

// findTraps gathers the voids that are closed along the axis: neighbouring cells whose voids overlap in height.
func findTraps(s *blank.Shape) (out []*subject.Trap) {
	var ps []pocket
	at := make([][]int, s.Cells())
	for c := range s.Cells() {
		for i := 0; i+1 < len(s.Runs(c)); i++ {
			at[c] = append(at[c], len(ps))
			ps = append(ps, pocket{c, i, s.Runs(c)[i].Hi + 1, s.Runs(c)[i+1].Lo - 1})
		}
	}
	group := plane.NewUnion(len(ps))
	for i := range s.Edges() {
		for _, a := range at[s.Edge(i).Left] {
			for _, b := range at[s.Edge(i).Right] {
				if s.VoidTouch(i, ps[a].run, ps[b].run) > blank.SameHeight {
					group.Join(a, b)
				}
			}
		}
	}
	for _, g := range group.Groups(nil) {
		var own []pocket
		for _, i := range g {
			own = append(own, ps[i])
		}
		if t := trap(s, own); t.Height > blank.SameHeight {
			out = append(out, t)
		}
	}
	return out
}

func trap(s *blank.Shape, ps []pocket) *subject.Trap {
	t := &subject.Trap{Opens: "top"}
	low, high := math.Inf(1), math.Inf(-1)
	var cells, owners []int
	for _, p := range ps {
		from, to := s.VoidSpan(p.cell, p.run)
		low, high = math.Min(low, from), math.Max(high, to)
		cells = append(cells, p.cell)
		owners = append(owners, makersOf(s, p)...)
	}
	slices.Sort(cells)
	cells = slices.Compact(cells)
	for _, c := range cells {
		t.Area += s.Area(c)
	}
	bottom, top := s.Span(cells)
	t.Height = high - low
	if (low-bottom)-(top-high) < -blank.SameHeight {
		t.Opens = "bottom"
	}
	t.Common = common(s, owners, s.Centroid(cells), low, high)
	return t
}

// makersOf are the features that shut a void in: the cut that makes it, else the bodies above and below, and the
// walls beside it.
func makersOf(s *blank.Shape, p pocket) (owners []int) {
	inside := s.Inside(p.cell)
	inside.Each(func(f int) {
		if s.IsCut(s.FeatureOf(f)) && s.Covers(f, p.lo) && s.InBody(inside, p.lo) {
			owners = append(owners, s.FeatureOf(f))
		}
	})
	if len(owners) > 0 {
		return owners
	}
	owners = append(s.FaceOwners(p.cell, s.Z(p.lo), "top"), s.FaceOwners(p.cell, s.Z(p.hi+1), "bottom")...)
	for i := range s.Edges() {
		e := s.Edge(i)
		switch p.cell {
		case e.Left:
			owners = append(owners, s.WallOwners(i, e.Right, e.Left, p.lo, p.hi)...)
		case e.Right:
			owners = append(owners, s.WallOwners(i, e.Left, e.Right, p.lo, p.hi)...)
		}
	}
	return owners
}
