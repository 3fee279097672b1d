package measure

import (
	"math"
	"slices"
	"strings"

	"corerod/parts/blank"
	"corerod/parts/plane"
	"corerod/parts/subject"
)

// findWalls finds the walls: necks of material, but those that teeth carry; and where they come to nothing.
func findWalls(s *blank.Shape, ns *necks) (out []*subject.Wall, ends []runOut) {
	bush := plainBush(s)
	wanted := func(x *section, n *plane.Neck) bool { return !n.Void && !x.ofTeeth(n) }
	for _, st := range stretches(s, ns, wanted) {
		w := wall(s, st)
		w.PlainBush = bush
		out, ends = append(out, w), append(ends, st.runOuts()...)
	}
	for _, x := range s.Touches() {
		st := &stretch{sides: [2][]int{{x.Features[0]}, {x.Features[1]}}, low: x.Low, high: x.High, mean: plane.Near, runsOut: true}
		st.thinnest = plane.Neck{Width: plane.Near, P: x.At, Q: x.At}
		out, ends = append(out, wall(s, st)), append(ends, st.runOuts()...)
	}
	return out, ends
}

func wall(s *blank.Shape, st *stretch) *subject.Wall {
	w := &subject.Wall{Thickness: st.least, Height: st.high - st.low, Web: st.web, RunsOut: st.runsOut}
	if d := st.square(); d < st.least-plane.Near {
		w.Square = subject.Some(d)
	}
	if st.runsOut {
		w.Angle = subject.Some(st.angle)
	}
	for _, x := range st.spans {
		if x.neck.Width <= st.thinnest.Width+plane.Near {
			w.Length = math.Max(w.Length, x.neck.Length)
		}
	}
	w.Ratio = w.Height / st.mean
	w.Common = common(s, slices.Concat(st.sides[0], st.sides[1]), s.ToPart(st.thinnest.Middle()), st.low, st.high)
	w.Footprints = neckPrint(&st.thinnest)
	sides := func(with string) []string {
		a, b := joined(names(s, st.sides[0]), with), joined(names(s, st.sides[1]), with)
		return []string{min(a, b), max(a, b)}
	}
	w.Between = sides(" with ")
	w.Name = strings.Join(sides(" and "), " to ")
	return w
}
