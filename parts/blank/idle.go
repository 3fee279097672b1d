package blank

import (
	"fmt"

	"corerod/parts"
)

// cutsRemove reports cuts, copy by copy, that meet no body, or nothing that other cuts leave of one. Of two equal ones
// the later is reported.
func (s *Shape) cutsRemove() (ps parts.Problems) {
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
func (s *Shape) removes(o *outline, idle map[[2]int]bool) (meets, alone bool) {
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
				case !body || q.feature < s.bodies || !s.Covers(i, k):
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
func (s *Shape) machined() (ps parts.Problems) {
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
