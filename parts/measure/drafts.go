package measure

import (
	"cmp"
	"math"
	"slices"

	"corerod/parts"
	"corerod/parts/blank"
	"corerod/parts/form"
	"corerod/parts/plane"
	"corerod/parts/subject"
)

// leastDraft is the least draft of the walls of features between two heights; of those of half sections and balls it takes those that face
// as wanted: outer ones have the material on the side of the axis.
func leastDraft(s *blank.Shape, features []int, low, high float64, facing ...bool) float64 {
	least := math.Inf(1)
	for _, n := range features {
		least = math.Min(least, s.LeastDraft(n, low, high, facing...))
	}
	if math.IsInf(least, 1) {
		return 0
	}
	return least
}

// lean is one straight wall of a feature.
type lean struct {
	feature int
	lo, hi  float64    // mm over the feature's lower end
	angle   float64    // degrees from the pressing axis
	up      bool       // the outline gets smaller upward
	inner   bool       // of a section: the wall that faces the axis
	radii   [2]float64 // of a section: at its lower and upper end
}

// leans lists the straight sloped walls of a feature.
func leans(s *blank.Shape, n int) (out []lean) {
	f := s.Feature(n)
	if t, turned := form.HalfSection(f.Profile); turned {
		return slices.DeleteFunc(sectionWalls(t, n), func(w lean) bool { return w.upright() })
	}
	if f.Draft != nil && f.Draft.Angle > 0 {
		out = append(out, lean{feature: n, hi: s.FeatureHeight(n), angle: f.Draft.Angle, up: f.Draft.Up})
	}
	return out
}

// isRim tells whether a wall of a copy that begins at a height is a rim, which is no taper.
func (w *lean) isRim(s *blank.Shape, base float64) bool {
	return slices.ContainsFunc(s.Treated(), func(t blank.Treated) bool {
		low, high := math.Min(t.Z, t.End), math.Max(t.Z, t.End)
		return t.Feature == w.feature && !t.Foot && t.Inner == w.inner &&
			low >= base+w.lo-blank.SameHeight && high <= base+w.hi+blank.SameHeight
	})
}

func (w *lean) upright() bool { return w.angle == 0 }

// sectionWalls are the straight walls of a half section; the axis is none.
func sectionWalls(t parts.Turned, n int) (out []lean) {
	ps := t.Points()
	from := slices.MinFunc(ps, func(p, q parts.Point) int { return cmp.Compare(p.Y, q.Y) }).Y
	for i, p := range ps {
		q := ps[(i+1)%len(ps)]
		if i < len(t.Steps) && t.Steps[i].Radius > 0 || math.Abs(p.Y-q.Y) <= blank.SameHeight || math.Max(p.X, q.X) <= plane.Near {
			continue
		}
		w := lean{feature: n, inner: inside(ps, (p.X+q.X)/2+besideWall, (p.Y+q.Y)/2)}
		if q.Y < p.Y {
			p, q = q, p
		}
		w.lo, w.hi, w.radii = p.Y-from, q.Y-from, [2]float64{p.X, q.X}
		if math.Abs(p.X-q.X) > plane.Near {
			w.angle = subject.Snap(math.Atan2(math.Abs(p.X-q.X), q.Y-p.Y) * 180 / math.Pi)
			w.up = q.X < p.X
		}
		out = append(out, w)
	}
	return out
}

// inside tells whether a point lies in a polygon.
func inside(ps []parts.Point, x, y float64) (in bool) {
	for i, p := range ps {
		q := ps[(i+1)%len(ps)]
		if (p.Y > y) != (q.Y > y) && x < p.X+(q.X-p.X)*(y-p.Y)/(q.Y-p.Y) {
			in = !in
		}
	}
	return in
}

// MostWall is the angle from the pressing axis up to which a slope is a wall that die or core rod form, from memory; a
// flatter one is a face that a punch forms.
const MostWall = blank.MostWall

// outer tells whether the material lies inside the outline that a sloped wall makes.
func outer(s *blank.Shape, w lean) bool { return (!s.IsCut(w.feature)) != w.inner }
