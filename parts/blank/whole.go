package blank

import (
	"fmt"
	"slices"

	"corerod/parts"
	"corerod/parts/form"
	"corerod/parts/plane"
)

// cutsRemove reports cuts, copy by copy, that meet no body, or nothing that other cuts leave of one. Of two equal ones
// the later is reported.
func (s *shape) cutsRemove() (ps parts.Problems) {
	idle := map[[2]int]bool{}
	for i := len(s.outlines) - 1; i >= 0; i-- {
		o := s.outlines[i]
		if o.feature < s.bodies || i > 0 && s.outlines[i-1].feature == o.feature && s.outlines[i-1].copy == o.copy {
			continue // a body, or a further slice of the same copy
		}
		why := "it lies outside every body, in plan or along z"
		if meets, alone := s.removes(&o, idle); alone {
			continue
		} else if meets {
			why = "other cuts take all that it would"
		}
		idle[[2]int{o.feature, o.copy}] = true
		f := s.features[o.feature]
		what := "the cut " + f.Name
		if f.Repeat.Count > 1 {
			what = fmt.Sprintf("copy %d of the cut %s", o.copy+1, f.Name)
		}
		ps = append(ps, s.part.Problem(f.Place, fmt.Sprintf("%s removes nothing: %s", what, why)))
	}
	return ps
}

// removes tells whether a copy of a cut meets a body, and whether it does so where no other cut, but idle ones, takes
// the same away.
func (s *shape) removes(o *outline, idle map[[2]int]bool) (meets, alone bool) {
	for n := range s.cells {
		inside := s.overlay.Cells[n].Inside
		if !s.inCopy(inside, o) {
			continue
		}
		for k, body := range s.cells[n].body {
			own, other := false, false
			inside.Each(func(i int) {
				q := &s.outlines[i]
				switch {
				case !body || q.feature < s.bodies || !s.covers(i, k):
				case q.feature == o.feature && q.copy == o.copy:
					own = true
				default:
					other = other || !idle[[2]int{q.feature, q.copy}]
				}
			})
			meets = meets || own
			if own && !other {
				return true, true
			}
		}
	}
	return meets, false
}

// machined checks the cuts that are not pressed: each must meet a body too.
func (s *shape) machined() (ps parts.Problems) {
	probe := *s.part
	probe.Cuts = nil
	for _, c := range s.part.Cuts {
		if c.MadeBy != "pressing" {
			only := *c
			only.MadeBy = "pressing"
			probe.Cuts = append(probe.Cuts, &only)
		}
	}
	if len(probe.Cuts) > 0 {
		_, ps = newShape(&probe)
	}
	return ps
}

// whole reports a part with no material, and bodies that do not hang together.
func (s *shape) whole() (ps parts.Problems) {
	type node struct{ cell, run int }
	number := map[node]int{}
	var nodes []node
	for c := range s.cells {
		for r := range s.cells[c].runs {
			number[node{c, r}] = len(nodes)
			nodes = append(nodes, node{c, r})
		}
	}
	if len(nodes) == 0 {
		why := "the cuts take everything away: no material is left"
		if s.bodies == len(s.features) {
			why = "no material is left: the bodies are thinner than 4 micrometres"
		}
		return parts.Problems{s.part.Problem(s.part.Place, why)}
	}
	piece := plane.NewUnion(len(nodes))
	for i := range s.overlay.Edges {
		e := &s.overlay.Edges[i]
		for a, p := range s.cells[e.Left].runs {
			for b, q := range s.cells[e.Right].runs {
				if p.lo <= q.hi && q.lo <= p.hi {
					piece.Join(number[node{e.Left, a}], number[node{e.Right, b}])
				}
			}
		}
	}
	volume := map[int]float64{}
	for i, n := range nodes {
		r := s.cells[n.cell].runs[n.run]
		volume[piece.Find(i)] += s.area(n.cell) * (s.top(r) - s.bottom(r))
	}
	if len(volume) == 1 {
		return nil
	}
	largest := piece.Find(0)
	for g, v := range volume {
		if v > volume[largest]+greater || v > volume[largest]-greater && g < largest {
			largest = g
		}
	}
	loose := map[int]bool{} // bodies with material apart from the largest piece
	for i, n := range nodes {
		if piece.Find(i) == largest {
			continue
		}
		r := s.cells[n.cell].runs[n.run]
		s.overlay.Cells[n.cell].Inside.Each(func(f int) {
			if s.outlines[f].feature < s.bodies && s.covers(f, r.lo) {
				loose[s.outlines[f].feature] = true
			}
		})
	}
	return s.apart(loose, len(volume))
}

// apart words the problem of a part in several pieces.
func (s *shape) apart(loose map[int]bool, pieces int) (ps parts.Problems) {
	for f := range s.bodies {
		if !loose[f] {
			continue
		}
		b := s.features[f]
		ps = append(ps, s.part.Problem(b.Place, fmt.Sprintf(
			"the part falls into %d pieces, and material of the body %s is apart from the largest: let bodies overlap or share a face, or cut less away", pieces, b.Name)))
	}
	return ps
}

// faceOwners are the features whose end face lies at height z over a cell, on the given side.
func (s *shape) faceOwners(c int, z float64, side string) (fs []int) {
	s.overlay.Cells[c].Inside.Each(func(i int) {
		f, rng := s.outlines[i].feature, s.ranges[i]
		end := rng[1] // the upper end of a body is a top face, of a cut a bottom face
		if (f < s.bodies) != (side == "top") {
			end = rng[0]
		}
		if end-z <= sameHeight && z-end <= sameHeight {
			fs = append(fs, f)
		}
	})
	slices.Sort(fs)
	return slices.Compact(fs)
}

// wallOwners are the features that make an edge over the slabs from lo to hi, seen from the solid cell.
func (s *shape) wallOwners(edge, in, out, lo, hi int) (fs []int) {
	for k := lo; k <= hi; k++ {
		if s.cells[in].solid[k] && !s.cells[out].solid[k] {
			fs = append(fs, s.outlines[s.owner(k, edge, in, out)].feature)
		}
	}
	return fs
}

// isCircle tells whether a figure is round.
func (s *shape) isCircle(figure int) bool {
	return form.Round(s.features[s.outlines[figure].feature].Profile)
}
