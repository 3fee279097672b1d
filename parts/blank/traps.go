package blank

import (
	"corerod/parts/plane"
	"corerod/parts/subject"
	"slices"
)

// pocket is a void between two runs of one cell.
type pocket struct {
	cell   int
	lo, hi int // slabs
}

// findTraps gathers the voids that are closed along the axis: neighbouring cells whose voids overlap in height.
func (s *shape) findTraps() (out []*subject.Trap) {
	var ps []pocket
	at := make([][]int, len(s.cells))
	for c := range s.cells {
		for i := 0; i+1 < len(s.cells[c].runs); i++ {
			at[c] = append(at[c], len(ps))
			ps = append(ps, pocket{c, s.cells[c].runs[i].hi + 1, s.cells[c].runs[i+1].lo - 1})
		}
	}
	group := plane.NewUnion(len(ps))
	for i := range s.overlay.Edges {
		for _, a := range at[s.overlay.Edges[i].Left] {
			for _, b := range at[s.overlay.Edges[i].Right] {
				if ps[a].lo <= ps[b].hi && ps[b].lo <= ps[a].hi {
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
		if t := s.trap(own); t.Height > sameHeight { // else on the thin slices at the end of a slope alone
			out = append(out, t)
		}
	}
	return out
}

func (s *shape) trap(ps []pocket) *subject.Trap {
	t := &subject.Trap{Opens: "top"}
	lo, hi := ps[0].lo, ps[0].hi
	var cells, owners []int
	for _, p := range ps {
		lo, hi = min(lo, p.lo), max(hi, p.hi)
		cells = append(cells, p.cell)
		owners = append(owners, s.makersOf(p)...)
	}
	slices.Sort(cells)
	cells = slices.Compact(cells)
	for _, c := range cells {
		t.Area += s.area(c)
	}
	low, high := s.drawn(s.heights[lo]), s.drawn(s.heights[hi+1])
	bottom, top := s.span(cells)
	t.Height = high - low
	if (low-bottom)-(top-high) < -sameHeight {
		t.Opens = "bottom"
	}
	t.Common = s.common(owners, s.centroid(cells), low, high)
	return t
}

// makersOf are the features that shut a void in: the cut that makes it, else the bodies above and below, and the
// walls beside it.
func (s *shape) makersOf(p pocket) (owners []int) {
	inside := s.overlay.Cells[p.cell].Inside
	inside.Each(func(f int) {
		if s.outlines[f].feature >= s.bodies && s.covers(f, p.lo) && s.inBody(inside, p.lo) {
			owners = append(owners, s.outlines[f].feature)
		}
	})
	if len(owners) > 0 {
		return owners
	}
	owners = append(s.faceOwners(p.cell, s.heights[p.lo], "top"), s.faceOwners(p.cell, s.heights[p.hi+1], "bottom")...)
	for i := range s.overlay.Edges {
		e := &s.overlay.Edges[i]
		switch p.cell {
		case e.Left:
			owners = append(owners, s.wallOwners(i, e.Right, e.Left, p.lo, p.hi)...)
		case e.Right:
			owners = append(owners, s.wallOwners(i, e.Left, e.Right, p.lo, p.hi)...)
		}
	}
	return owners
}
