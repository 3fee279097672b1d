package plane

import "math"

// Mitred is an outline without the convex radii that vanish once its sides have moved inward by d: the sides beside them go on until they
// meet. A radius of half a turn or more, such as the end of a slot, stays, and so does one whose sides meet nowhere near.
func (l Loop) Mitred(d float64) Loop {
	out := l
	for again := true; again; {
		again = false
		for i := range out {
			if len(out) > 2 && out[i].fillets() && out[i].R <= d+Near {
				if without, ok := out.without(i); ok {
					out, again = without, true
					break
				}
			}
		}
	}
	return out
}

// Radii are the radii, ascending, that Mitred takes away on the way to moving the sides inward by d.
func (l Loop) Radii(d float64) (all []float64) {
	for at := l; ; {
		least := math.Inf(1)
		for i := range at {
			if at[i].fillets() && at[i].R <= d-Near && (len(all) == 0 || at[i].R > all[len(all)-1]+Near) {
				least = math.Min(least, at[i].R)
			}
		}
		if math.IsInf(least, 1) {
			return all
		}
		next := l.Mitred(least)
		if len(next) == len(at) {
			return all // it cannot go
		}
		at, all = next, append(all, least)
	}
}

// fillets tells whether a curve is a convex arc of less than half a turn.
func (c *Curve) fillets() bool { return c.IsArc() && c.Sweep > 0 && c.Sweep < overHalf-smooth }

// without leaves out curve i: those beside it go on until they meet. It is false where they do not, or not on the outer side of it.
func (l Loop) without(i int) (Loop, bool) {
	n := len(l)
	in, out := l[(i+n-1)%n], l[(i+1)%n]
	best, least := Point{}, math.Inf(1)
	for _, p := range carriersMeet(&in, &out) {
		if d := p.Distance(l[i].At(0.5)); d < least && p.Distance(l[i].C) >= l[i].R-Near {
			best, least = p, d
		}
	}
	if math.IsInf(least, 1) {
		return nil, false
	}
	in.B, out.A = best, best
	if in.IsArc() {
		in = arcBetween(in.C, in.A, best, in.R, in.Sweep > 0)
	}
	if out.IsArc() {
		out = arcBetween(out.C, best, out.B, out.R, out.Sweep > 0)
	}
	var res Loop
	for k := range l {
		switch k {
		case i:
		case (i + n - 1) % n:
			res = append(res, in)
		case (i + 1) % n:
			res = append(res, out)
		default:
			res = append(res, l[k])
		}
	}
	return res, true
}
