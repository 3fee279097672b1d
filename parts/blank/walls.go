package blank

import (
	"fmt"
	"math"

	"corerod/parts"
	"corerod/parts/form"
	"corerod/parts/plane"
)

// wall is one copy of a tier: a wall all round, upright or sloped, in the frame of the overlay and part heights.
type wall struct {
	feature, copy int
	*tier
	drawn     plane.Loop
	base      float64 // height of the copy's lower end
	low, high float64 // where it begins and ends; past the face that a cut opens to it goes on upright
	figures   map[int]int
}

// slopeLow and slopeHigh are the ends of the slope itself.
func (w *wall) slopeLow() float64  { return w.base + w.lo }
func (w *wall) slopeHigh() float64 { return w.base + w.hi }

// over is a part height over the copy's lower end, within the tier; one near an end of it is that end.
func (w *wall) over(z float64) float64 {
	u := z - w.base
	switch {
	case u-w.lo < SameHeight:
		return w.lo
	case w.hi-u < SameHeight:
		return w.hi
	}
	return u
}

// section is the outline at a height; nil where nothing is left of it.
func (w *wall) section(z float64) (plane.Loop, error) { return w.of(w.drawn, w.over(z)) }

// sideAt is one side of it, of a height near an end of the tier too; false where nothing is left of it.
func (w *wall) sideAt(i int, z float64) (plane.Curve, bool) {
	return w.side(w.drawn, i, math.Min(math.Max(z-w.base, w.lo), w.hi))
}

// covers tells whether the wall reaches through a stretch of height.
func (w *wall) covers(low, high float64) bool {
	z := mid(low, high)
	return w.low < z && z < w.high
}

// slopes tells whether it leans there.
func (w *wall) slopes(low, high float64) bool {
	z := mid(low, high)
	return w.sloped() && w.covers(low, high) && w.slopeLow() < z && z < w.slopeHigh()
}

// heightAt is the height at which a side passes a point of the plan, within the slope.
func (w *wall) heightAt(i int, p plane.Point) float64 {
	u := w.moves[i].up(w.offOf(w.drawn, i, p))
	return w.base + math.Min(math.Max(u, w.lo), w.hi)
}

// rateAt is how fast a side moves in plan at a point, mm for each mm of height.
func (w *wall) rateAt(i int, u float64, p plane.Point) float64 {
	rate := w.moves[i].rate(u)
	if w.moves[i].turns {
		rate *= p.Distance(w.drawn[1].C)
	}
	return rate
}

// misses is by how much, in plan, a point lies off what a side passes between two heights.
func (w *wall) misses(i int, p plane.Point, low, high float64) float64 {
	a, b := w.moves[i].off(w.over(low)), w.moves[i].off(w.over(high))
	d := w.offOf(w.drawn, i, p)
	miss := math.Max(math.Min(a, b)-d, d-math.Max(a, b))
	if w.moves[i].turns {
		miss *= p.Distance(w.drawn[1].C)
	}
	if w.ring {
		return math.Max(0, miss)
	}
	d = math.Min(math.Max(d, math.Min(a, b)), math.Max(a, b))
	if w.bar {
		c, _ := w.moved(w.drawn, i, d)
		return math.Max(0, math.Max(miss, c.Off(p)))
	}
	start, end := w.drawn.JointAt(i, d), w.drawn.JointAt((i+1)%len(w.drawn), d)
	if c := &w.drawn[i]; !c.IsArc() {
		u := c.Tangent(c.A)
		along := (p.X-start.X)*u.X + (p.Y-start.Y)*u.Y
		miss = math.Max(miss, math.Max(-along, along-(end.X-start.X)*u.X-(end.Y-start.Y)*u.Y))
	} else if o, ok := c.Offset(d); ok {
		o = plane.ArcBetween(o.C, start, end, o.R, o.Sweep > 0)
		miss = math.Max(miss, o.Off(p)-math.Abs(p.Distance(o.C)-o.R))
	}
	return math.Max(0, miss)
}

// sideOver is the side that passes over points of the plan between two heights, where one does.
func (w *wall) sideOver(ps []plane.Point, low, high float64) int {
	best, least := 0, math.Inf(1)
	for i := range w.moves {
		if w.bar && !w.goes(i) {
			continue
		}
		worst := 0.0
		for _, p := range ps {
			if worst = math.Max(worst, w.misses(i, p, low, high)); worst >= least {
				break
			}
		}
		if worst < least {
			best, least = i, worst
		}
	}
	return best
}

// drawWalls draws the tiers of every copy of the features, and reports profiles that cannot be drawn or are too large.
func drawWalls(p *parts.Part, features []*parts.Feature, bodies int) (out []wall, ps parts.Problems) {
	for n, f := range features {
		if f.Profile == nil {
			continue // reported when it was read
		}
		ts, err := tiers(f, heightOf(p, f))
		if err != nil {
			ps = append(ps, p.Problem(f.Shape, fmt.Sprintf("%s: %v", f.Name, err)))
			continue
		}
		if f.Relief != nil && ts == nil {
			continue // said of its body
		}
		if across := widest(ts); across > MostExtent+plane.Near && f.Relief == nil {
			ps = append(ps, p.Problem(f.Shape,
				fmt.Sprintf("%s is %.4g mm across; features of more than %d mm are not reviewed: past that a nanometre is lost in rounding",
					f.Name, across, MostExtent)))
			continue
		}
		if narrow(ts) {
			kind := "body"
			if n >= bodies {
				kind = "cut"
			}
			ps = append(ps, p.Problem(f.Shape, fmt.Sprintf(
				"the %s %s is narrower than %g mm, which is no more than the rounding of drawing numbers: draw it wider, or leave it out",
				kind, f.Name, plane.Thin)))
			continue
		}
		for i := range f.Repeat.Copies() {
			for t := range ts {
				w := wall{feature: n, copy: i, tier: &ts[t], drawn: placeCopy(ts[t].drawn, f, i), base: f.Extent.From,
					low: f.Extent.From + ts[t].lo, high: f.Extent.From + ts[t].hi}
				if f.Relief != nil {
					w.copy = i*len(ts) + t
				}
				out = append(out, w)
			}
		}
	}
	return out, ps
}

// widest is the greatest extent of tiers in plan, which are drawn at their wide ends.
func widest(ts []tier) (across float64) {
	for _, t := range ts {
		lo, hi := t.drawn.Bounds()
		across = math.Max(across, math.Max(hi.X-lo.X, hi.Y-lo.Y))
	}
	return across
}

// narrow tells whether nothing of some tiers is as wide in plan as the rounding of drawing numbers.
func narrow(ts []tier) bool {
	for i := range ts {
		t := &ts[i]
		if !t.ring {
			if !plane.RegionOf(t.drawn).Narrow() {
				return false
			}
			continue
		}
		for _, u := range [3]float64{t.lo, mid(t.lo, t.hi), t.hi} {
			across, l := 0.0, plane.Loop(nil)
			if l, _ = t.at(u); len(l) == 2 { // halves of a circle, and of the one inside it
				across = 2 * l[0].R
			} else if len(l) == 4 {
				across = l[0].R - l[2].R
			}
			if across >= plane.Thin {
				return false
			}
		}
	}
	return true
}

// MostExtent is the largest part that is reviewed, across and high, mm.
const MostExtent = 500

func point(p parts.Point) plane.Point { return plane.Point{X: p.X, Y: p.Y} }

// placeCopy returns copy i of a feature's outline.
func placeCopy(l plane.Loop, f *parts.Feature, i int) plane.Loop {
	at := form.Centre(f.Profile)
	if f.Of != nil && f.Relief == nil { // an island moves with its recess
		at = form.Centre(f.Of.Profile)
	}
	for _, m := range f.Repeat.Moves(i) {
		to := point(m.Shift)
		switch {
		case !m.Turned:
			to = plane.Point{X: at.X + to.X, Y: at.Y + to.Y}
		default:
			to = plane.Turned(at, point(m.About), m.Degrees)
		}
		if m.Turned && !m.Upright {
			l = l.Moved(point(m.About), m.Degrees, plane.Point{})
		} else {
			l = l.Moved(plane.Point{}, 0, plane.Point{X: to.X - at.X, Y: to.Y - at.Y})
		}
		at = to
	}
	return l
}

// heightOf is how high a feature is drawn: a cut right through as high as the bodies together.
func heightOf(p *parts.Part, f *parts.Feature) float64 {
	switch f.Extent.Open {
	case "":
		return f.Extent.To - f.Extent.From
	case "top", "bottom":
		return f.Extent.Depth
	}
	low, high := math.Inf(1), math.Inf(-1)
	for _, b := range p.Bodies {
		low, high = math.Min(low, b.Extent.From), math.Max(high, b.Extent.To)
	}
	return high - low
}

// Check reports what is wrong with the profiles of a part, cut by pressing or not; it needs no complete part.
func Check(p *parts.Part) parts.Problems {
	features, bodies := featuresOf(p, p.Cuts)
	_, ps := drawWalls(p, features, bodies)
	return ps
}
