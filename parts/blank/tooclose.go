package blank

import (
	"fmt"

	"corerod/parts"
	"corerod/parts/plane"
)

// anyFeature accepts all features.
func anyFeature(int) bool { return true }

// tooClose is the problem of outlines that an overlay cannot tell apart: it names the first two features that it cannot tell apart when
// they are alone. of gives the feature of each outline, dividers what parts the slopes of some features.
func (s *Shape) tooClose(err error, loops []plane.Loop, of func(i int) int,
	dividers func(in func(feature int) bool) []plane.Curve) parts.Problem {
	for a := range s.features {
		for b := range a + 1 {
			in := func(f int) bool { return f == a || f == b }
			var some []plane.Loop
			for i := range loops {
				if in(of(i)) {
					some = append(some, loops[i])
				}
			}
			if _, err := plane.Lay(some, dividers(in)...); err == nil {
				continue
			}
			what := fmt.Sprintf("%s and %s", s.features[b].Name, s.features[a].Name)
			if a == b {
				what = "copies of " + s.features[a].Name
			}
			return s.Problem(s.features[a].Place, "%s come too close to each other without meeting for their outlines to be told apart: "+
				"give what they have in common the same numbers, or move one clearly away", what)
		}
	}
	return s.part.Problem(s.part.Place, err.Error())
}
