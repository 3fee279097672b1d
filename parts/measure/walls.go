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
func findWalls(s *blank.Shape, ns *necks, rims []*rim) (out []*subject.Wall, ends []runOut) {
	bush := plainBush(s)
	wanted := func(x *section, n *plane.Neck) bool { return !n.Void && !x.ofTeeth(n) }
	for _, st := range stretches(s, ns, wanted) {
		if ns.reliefs && st.land(s) {
			continue
		}
		w := wall(s, st)
		w.PlainBush, w.AtRim = bush, st.atRim(s, rims)
		out, ends = append(out, w), append(ends, st.runOuts()...)
	}
	for _, x := range s.Touches() {
		st := &stretch{sides: [2][]int{{x.Features[0]}, {x.Features[1]}}, low: x.Low, high: x.High, mean: plane.Near, runsOut: true}
		st.thinnest = plane.Neck{Width: plane.Near, P: x.At, Q: x.At}
		out, ends = append(out, wall(s, st)), append(ends, st.runOuts()...)
	}
	return out, ends
}

// land tells whether a stretch ends on a relief and is no higher than thick: the land of a tooth, or beside a ramp.
func (st *stretch) land(s *blank.Shape) bool {
	if st.high-st.low > st.least {
		return false
	}
	return slices.ContainsFunc(slices.Concat(st.sides[0], st.sides[1]), func(f int) bool { return s.Feature(f).Relief != nil })
}

// atRim is the least thickness that rims leave of a wall where it ends at faces; none where it has no treated rim.
func (st *stretch) atRim(s *blank.Shape, rims []*rim) (least subject.Optional) {
	for _, x := range st.spans {
		for k, side := range []string{"bottom", "top"} {
			z, n := [2]float64{x.low, x.high}[k], [2]*plane.Neck{x.bottom, x.top}[k]
			if n == nil {
				n = &x.neck
			}
			across := 0.0
			for _, m := range rims {
				if m.across == 0 || m.side != side || math.Abs(m.z-z) > blank.SameHeight {
					continue
				}
				for _, at := range [2]plane.Point{n.P, n.Q} {
					if slices.ContainsFunc(m.edges, func(i int) bool { return s.Edge(i).Curve.Off(at) <= 10*plane.Near }) {
						across += m.across
					}
				}
			}
			if left := math.Max(0, n.Width-across); across > 0 && (!least.Known || left < least.Value) {
				least = subject.Some(left)
			}
		}
	}
	return least
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
