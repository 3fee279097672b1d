package blank

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"

	"corerod/parts"
	"corerod/parts/form"
	"corerod/parts/plane"
	"corerod/parts/subject"
)

// node is a place between 0 and 1 with its weight in a sum that stands for an integral.
type node struct{ at, weight float64 }

// plainNodes are the Gauss-Legendre rule of five nodes: exact for drafted, coned and ball-shaped walls that do not meet
// each other, whose sections change by at most the third power of the height. roundNodes are for walls that begin or
// end upright or level, as arcs in section do: the rule of 24 nodes over an angle that is even there.
var (
	plainNodes = sync.OnceValue(func() []node { return legendre(5) })
	roundNodes = sync.OnceValue(func() []node {
		ns := legendre(24)
		for i, n := range ns {
			ns[i] = node{(1 - math.Cos(math.Pi*n.at)) / 2, n.weight * math.Pi / 2 * math.Sin(math.Pi*n.at)}
		}
		return ns
	})
)

// legendre is the Gauss-Legendre rule of n nodes over 0 to 1: the roots of Legendre's polynomial, by Newton's method.
func legendre(n int) (out []node) {
	for i := range n {
		x := math.Cos(math.Pi * (float64(i) + 0.75) / (float64(n) + 0.5))
		var slope float64
		for range 50 {
			p, before := 1.0, 0.0
			for k := 1; k <= n; k++ {
				p, before = ((2*float64(k)-1)*x*p-(float64(k)-1)*before)/float64(k), p
			}
			slope = float64(n) * (x*p - before) / (x*x - 1)
			step := p / slope
			x -= step
			if math.Abs(step) < nodeStep {
				break
			}
		}
		out = append(out, node{(1 - x) / 2, 1 / ((1 - x*x) * slope * slope)})
	}
	return out
}

// hasSlopes tells whether any wall of the part slopes.
func (s *shape) hasSlopes() bool {
	for _, f := range s.features {
		if form.Sloped(f) {
			return true
		}
	}
	return false
}

// solve measures the volume and the walls of a part with sloped walls by exact sections, not by slices: between the
// heights at which a tier begins or ends their areas change smoothly.
func (s *shape) solve(q *subject.Part) error {
	bases, ends := s.tierEnds()
	q.Volume, q.Surface = 0, s.flatArea()
	for i := 0; i+1 < len(ends); i++ {
		h := ends[i+1] - ends[i]
		for _, n := range s.nodes(bases, (ends[i]+ends[i+1])/2) {
			area, walls, err := s.sectionAt(bases, ends[i]+h*n.at)
			if err != nil {
				return err
			}
			q.Volume += h * n.weight * area
			q.Surface += h * n.weight * walls
		}
	}
	return nil
}

// nodes are those for the stretch round a height: plain ones, but where sloped walls meet others or are round in section.
func (s *shape) nodes(all []based, z float64) []node {
	if len(s.meets) > 0 {
		return roundNodes()
	}
	for _, b := range all {
		f := s.features[b.feature]
		if t := tierOver(b.tiers, z-b.z, f.Extent.Open); t == nil || !t.sloped {
			continue
		}
		if turned, ok := f.Profile.(parts.Turned); ok && turned.HasArcs() || f.Section == "round" {
			return roundNodes()
		}
	}
	return plainNodes()
}

// mostMeets is the number of heights at which sloped walls meet others that are found to a nanometre. Where there are
// more, slices do not end at them, and the volume is that of the sections between them, right to a millionth or so.
const mostMeets = 12

// cuts are where the slopes of each feature are to be cut, now that the lower end of every copy is known.
func (s *shape) cuts() map[int]cuts {
	if !s.hasSlopes() {
		return nil
	}
	all, ends := s.tierEnds()
	events := s.events(all, ends)
	clear := wellApart(events)
	for _, e := range events {
		s.meets = append(s.meets, e.z)
	}
	s.ends = ends
	out := map[int]cuts{}
	for _, b := range all {
		c := out[b.feature]
		for _, z := range ends {
			c.ends = append(c.ends, z-b.z)
		}
		for _, z := range clear {
			c.meets = append(c.meets, z-b.z)
		}
		if len(ends) > mostSplits {
			c.ends = nil
		}
		if len(s.meets) > mostMeets {
			c.meets = nil
		}
		if again := b.again(ends); len(again) <= mostMeets {
			c.meets = append(c.meets, again...)
		}
		out[b.feature] = c
	}
	return out
}

// again are the heights over its lower end at which a slope of a ball or half section is as wide as elsewhere at its ends
// or at given heights of the part: what it leaves below the one can end above the other.
func (b *based) again(zs []float64) (us []float64) {
	for i := range b.tiers {
		t := &b.tiers[i]
		if t.walls == nil {
			return nil
		}
		heights := []float64{t.lo, t.hi}
		for _, z := range zs {
			if t.lo < z-b.z && z-b.z < t.hi {
				heights = append(heights, z-b.z)
			}
		}
		for _, u := range heights {
			for _, c := range t.walls(u) {
				us = append(us, b.reach(c.R)...)
			}
		}
	}
	return distinct(us)
}

// reach are the heights inside the slopes of a ball or half section at which a wall has a radius.
func (b *based) reach(r float64) (us []float64) {
	for i := range b.tiers {
		if t := &b.tiers[i]; t.sloped {
			for _, u := range t.reach(r) {
				if t.lo+sameHeight < u && u < t.hi-sameHeight {
					us = append(us, u)
				}
			}
		}
	}
	return us
}

// samples are between two heights: their ends, and the cells of the sections there.
type samples struct {
	low, high   float64
	below, over string
}

// events are the heights at which sloped walls begin or cease to meet others: there the cells of a section change. They
// are found between samples of each stretch, by halving; where there are several between two, all of them are looked for
// as long as they are not too many together.
func (s *shape) events(all []based, ends []float64) (es []event) {
	var left []samples
	for i := 0; i+1 < len(ends); i++ {
		const count = 8
		h := ends[i+1] - ends[i]
		at := func(k int) float64 { return ends[i] + h*(float64(k)+0.5)/count }
		p := samples{high: at(0), over: s.signature(all, at(0))}
		for k := 1; k < count; k++ {
			p = samples{p.high, at(k), p.over, s.signature(all, at(k))}
			switch {
			case p.below == p.over:
			case len(es) < mostMeets:
				e, rest := s.first(all, p)
				es = append(es, e)
				left = append(left, rest)
			default:
				es = append(es, event{(p.low + p.high) / 2, 0})
			}
		}
	}
	more := slices.Clone(es)
	for _, p := range left {
		for p.below != p.over {
			if len(more) >= mostMeets {
				return es
			}
			e, rest := s.first(all, p)
			more, p = append(more, e), rest
		}
	}
	slices.SortFunc(more, func(a, b event) int { return cmp.Compare(a.z, b.z) })
	return more
}

// event is a height at which slopes begin or cease to meet others, and how many cells come or go there.
type event struct {
	z     float64
	cells int
}

// wellApart are the heights of events that are far enough apart for a slice between two, of those too near the one at
// which more cells come or go.
func wellApart(es []event) (zs []float64) {
	cells := 0
	for _, e := range es {
		switch last := len(zs) - 1; {
		case last < 0 || e.z-zs[last] > apart:
			zs, cells = append(zs, e.z), e.cells
		case e.cells > cells:
			zs[last], cells = e.z, e.cells
		}
	}
	return zs
}

// first is the lowest height between samples at which the cells change, and what is left above it.
func (s *shape) first(all []based, p samples) (e event, rest samples) {
	z := s.change(all, p.low, p.high, p.below)
	low := z + apartMeets
	next := s.signature(all, low)
	e.z = s.between(z, s.change(all, low, z, next), len(next)-len(p.below))
	if e.cells = strings.Count(next, ";") - strings.Count(p.below, ";"); e.cells < 0 {
		e.cells = -e.cells
	}
	return e, samples{low, p.high, next, p.over}
}

// between is the height at which cells change that are clear up to a height and from another on: where there are fewer if
// some vanish, which are lost some nanometres early, else halfway.
func (s *shape) between(low, high float64, more int) float64 {
	switch {
	case more < 0:
		return high
	case more > 0:
		return low
	}
	return (low + high) / 2
}

// apartMeets is how far over a height at which slopes meet the next is looked for, mm: past it the section is a clear one.
const apartMeets = 100 * sameHeight

// change is the height between two others at which the cells of the section cease to be those at the first.
func (s *shape) change(all []based, a, b float64, first string) float64 {
	for math.Abs(b-a) > sameHeight/100 {
		if mid := (a + b) / 2; s.signature(all, mid) == first {
			a = mid
		} else {
			b = mid
		}
	}
	return (a + b) / 2
}

// signature tells which cells a section at a height has, and with how many sides.
func (s *shape) signature(all []based, z float64) string {
	o, of, err := s.layAt(all, z)
	if err != nil || o == nil {
		return ""
	}
	sides := make([]int, len(o.Cells))
	for i := range o.Edges {
		sides[o.Edges[i].Left]++
		sides[o.Edges[i].Right]++
	}
	var cells []string
	for c := range o.Cells {
		name := fmt.Appendf(nil, "%d:", sides[c])
		o.Cells[c].Inside.Each(func(i int) { name = fmt.Appendf(name, "%d,", of[i]) })
		cells = append(cells, string(name))
	}
	slices.Sort(cells)
	return strings.Join(cells, ";")
}

// drawn is the height that a face stands for: that of the end of a slope rather than that of the thin slice at it.
func (s *shape) drawn(z float64) float64 {
	best, least := z, 1.5*endSlice
	for _, end := range s.ends {
		if d := math.Abs(end - z); d < least {
			best, least = end, d
		}
	}
	return best
}

// high is the height of a run between what its faces stand for; where these come together a nanometre, the least that is
// told from nothing.
func (s *shape) high(r run) float64 {
	return math.Max(sameHeight, s.drawn(s.top(r))-s.drawn(s.bottom(r)))
}

// based is one copy of a feature with the height of its lower end.
type based struct {
	feature, copy int
	z, mouth      float64 // its lower end; where an open cut goes on as wide as at its face, that face
	tiers         []tier
}

// tierEnds are the copies of all features, and the heights between which no outline stops being smooth.
func (s *shape) tierEnds() (all []based, ends []float64) {
	low, high := s.heights[0], s.heights[len(s.heights)-1]
	for i := range s.outlines {
		o := &s.outlines[i]
		if n := len(all); n > 0 && all[n-1].feature == o.feature && all[n-1].copy == o.copy {
			continue
		}
		f := s.features[o.feature]
		ts, _ := tiers(f, heightOf(s.part, f)) // drawn before without an error
		b := based{o.feature, o.copy, s.baseOf(i), 0, ts}
		all = append(all, b)
		for _, t := range ts {
			ends = append(ends, b.z+t.lo, b.z+t.hi)
		}
	}
	var inside []float64
	for _, z := range slices.Concat(ends, s.meets, []float64{low, high}) {
		if z > low-sameHeight && z < high+sameHeight {
			inside = append(inside, z)
		}
	}
	return all, distinct(inside)
}

// baseOf is the height of the lower end of the copy that an outline is a slice of. The lowest slice of a cut that is open
// below goes on to the part's lowest face, the highest of one open above to its highest.
func (s *shape) baseOf(i int) float64 {
	o := &s.outlines[i]
	if s.features[o.feature].Extent.Open == "bottom" {
		return s.ranges[i][1] - o.hi
	}
	return s.ranges[i][0] - o.lo
}

// sectionAt is the area of the part's section at a height, and the length of its walls, each over the cosine of its
// lean: the wall's area for a millimetre of height.
func (s *shape) sectionAt(all []based, z float64) (area, walls float64, err error) {
	o, of, err := s.layAt(all, z)
	if err != nil || o == nil {
		return 0, 0, err
	}
	solid := s.solidIn(o, of, all)
	for c := range solid {
		if solid[c] {
			area += o.Cells[c].Moments.Area
		}
	}
	for i := range o.Edges {
		e := &o.Edges[i]
		if solid[e.Left] == solid[e.Right] {
			continue
		}
		b := &all[of[e.Figures[0]]]
		walls += e.Curve.Length() * s.leanFactor(b, z-b.z, &e.Curve)
	}
	return area, walls, nil
}

// solidIn tells which cells of a section lie in a body and in no cut.
func (s *shape) solidIn(o *plane.Overlay, of []int, all []based) []bool {
	solid := make([]bool, len(o.Cells))
	for c := range o.Cells {
		body, cut := false, false
		o.Cells[c].Inside.Each(func(i int) {
			if all[of[i]].feature < s.bodies {
				body = true
			} else {
				cut = true
			}
		})
		solid[c] = body && !cut
	}
	return solid
}

// layAt overlays the outlines of all copies at a height; of tells which copy each belongs to. It is nil where there
// is none. Outlines that lie a few nanometres apart just there are overlaid a nanometre higher or lower.
func (s *shape) layAt(all []based, z float64) (o *plane.Overlay, of []int, err error) {
	for _, off := range [5]float64{0, 1, -1, 7, -7} {
		if o, of, err = s.layOnce(all, z+off*sameHeight); err == nil {
			break
		}
	}
	return o, of, err
}

func (s *shape) layOnce(all []based, z float64) (o *plane.Overlay, of []int, err error) {
	var loops []plane.Loop
	for n, b := range all {
		u := z - b.z
		t := tierOver(b.tiers, u, s.features[b.feature].Extent.Open)
		if t == nil {
			continue
		}
		l, err := t.at(math.Min(math.Max(u, t.lo), t.hi))
		if err != nil {
			return nil, nil, err
		}
		if len(l) == 0 {
			continue
		}
		l = placeCopy(l, s.features[b.feature], b.copy)
		loops = append(loops, l.Moved(plane.Point{}, 0, plane.Point{X: -s.origin.X, Y: -s.origin.Y}))
		of = append(of, n)
	}
	if len(loops) == 0 {
		return nil, nil, nil
	}
	o, err = plane.Lay(loops)
	return o, of, err
}

// tierOver is the tier at a height over a feature's lower end; past its face an open cut goes on with the tier there.
func tierOver(ts []tier, u float64, open string) *tier {
	switch last := &ts[len(ts)-1]; {
	case open == "top" && u > last.hi:
		return last
	case open == "bottom" && u < ts[0].lo:
		return &ts[0]
	}
	for i := range ts {
		if ts[i].lo <= u && u <= ts[i].hi {
			return &ts[i]
		}
	}
	return nil
}

// leanFactor is the area of a wall for a millimetre of height and one of its section: 1 for an upright wall.
func (s *shape) leanFactor(b *based, u float64, c *plane.Curve) float64 {
	f := s.features[b.feature]
	t := tierOver(b.tiers, u, "")
	if t == nil || !t.sloped {
		return 1
	}
	switch p := f.Profile.(type) {
	case parts.Ball:
		r := p.Diameter / 2
		return r / math.Max(leastRun, math.Sqrt(math.Max(0, r*r-(u-r)*(u-r))))
	case parts.Turned:
		return turnedFactor(p, u+f.Extent.From, c.R)
	}
	if f.Draft != nil {
		return 1 / math.Cos(f.Draft.Angle*math.Pi/180)
	}
	return t.factor(u)
}

// turnedFactor is leanFactor for the edge of a half section that has a radius at a height.
func turnedFactor(t parts.Turned, z, radius float64) float64 {
	section, _ := path(t.Start, t.Steps, 0)
	for i := range section {
		c := &section[i]
		if math.Min(c.A.Y, c.B.Y) >= z || math.Max(c.A.Y, c.B.Y) <= z || math.Abs(radiusAt(c, z)-radius) > 10*plane.Near {
			continue
		}
		if c.IsArc() {
			return c.R / math.Max(leastRun, math.Abs(radius-c.C.X))
		}
		return math.Hypot(c.A.X-c.B.X, c.A.Y-c.B.Y) / math.Abs(c.A.Y-c.B.Y)
	}
	return 1
}

// flatArea is the area of the flat end faces, traps' too.
func (s *shape) flatArea() (area float64) {
	for c := range s.cells {
		for _, r := range s.cells[c].runs {
			if _, sloped := s.slopeOf(c, s.top(r), "top"); !sloped {
				area += s.area(c)
			}
			if _, sloped := s.slopeOf(c, s.bottom(r), "bottom"); !sloped {
				area += s.area(c)
			}
		}
	}
	return area
}
