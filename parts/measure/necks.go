package measure

import (
	"cmp"
	"math"
	"slices"

	"corerod/parts"
	"corerod/parts/blank"
	"corerod/parts/plane"
)

// blunt is the angle, degrees, from which the end of a wall that runs out is an edge of its face.
const blunt = 60

// stretch is a neck followed through touching stretches of height.
type stretch struct {
	sides     [2][]int // features on its two sides
	spans     []*span  // from the lowest up
	low, high float64
	least     float64
	mean      float64    // along the axis
	thinnest  plane.Neck // the lowest of those that are as thin
	runsOut   bool       // it comes to nothing
	angle     float64    // between its sides there, degrees; the least of several
	web       bool       // of a wall: all its ends are on holes
}

// necks are the necks of material and of void, but those between the teeth of one figure.
type necks struct {
	s       *blank.Shape
	slabs   [][]plane.Neck
	between map[*plane.Region][]plane.Neck // of sections between stations that were asked for
	reliefs bool                           // there are reliefs
}

// findNecks finds the necks of every slab.
func findNecks(s *blank.Shape) *necks {
	ns := &necks{s: s, between: map[*plane.Region][]plane.Neck{}}
	ns.reliefs = slices.ContainsFunc(s.Features(), func(f *parts.Feature) bool { return f.Relief != nil })
	for k := range s.Slabs() {
		ns.slabs = append(ns.slabs, s.Region(k).NecksBetween(func(a, b int) bool { return notOneToothed(s, a, b) }))
	}
	return ns
}

// of are the necks of a section between stations.
func (ns *necks) of(r *plane.Region) []plane.Neck {
	all, known := ns.between[r]
	if !known {
		all = r.NecksBetween(func(a, b int) bool { return a != b || !toothedWall(ns.s, a) })
		ns.between[r] = all
	}
	return all
}

// stretches joins the necks that go on from one stretch of height to the next, whatever features make them. wanted tells which are asked
// for.
func stretches(s *blank.Shape, ns *necks, wanted func(x *section, n *plane.Neck) bool) (found []*stretch) {
	var below []*stretch
	for k := range s.Slabs() {
		if s.Half(k) > 0 {
			continue // with the lower half
		}
		var now []*stretch
		for _, x := range spansOf(s, ns, k, wanted) {
			sides := [2][]int{slices.Clone(x.features[0]), slices.Clone(x.features[1])}
			now = append(now, &stretch{sides: sides, spans: []*span{x}})
		}
		for i, on := range follow(below, now) {
			if on == nil {
				found = append(found, now[i])
				continue
			}
			on.add(now[i].spans[0])
			now[i] = on
		}
		below = now
	}
	var parted []*stretch
	for _, st := range found {
		parted = append(parted, st.parted()...)
	}
	return slices.DeleteFunc(parted, func(st *stretch) bool { return !st.measure() })
}

// parted are the stretches between the ledges of a stretch, without them: a slope of over 30 degrees from one width to another parts what
// is below from what is above, as a flat ledge does. Slopes up to an end are of the wall beside them, and so are those round a rib or a
// groove, which are nowhere as wide as on both sides.
func (st *stretch) parted() (all []*stretch) {
	n, on := len(st.spans), &stretch{}
	for i := 0; i < n; {
		end := i
		for end < n && st.spans[end].ledge() {
			end++
		}
		if i < end && 0 < i && end < n && st.between(i, end) {
			all, on, i = append(all, on), &stretch{}, end
			continue
		}
		for end = max(end, i+1); i < end; i++ {
			if x := st.spans[i]; len(on.spans) == 0 {
				x.turned = false
				on = &stretch{sides: [2][]int{slices.Clone(x.features[0]), slices.Clone(x.features[1])}, spans: []*span{x}}
			} else {
				on.add(x)
			}
		}
	}
	return append(all, on)
}

// between tells whether some spans of a stretch are nowhere thinner than the thinner of those beside them, nor thicker than the thicker.
func (st *stretch) between(from, to int) bool {
	below, above := st.spans[from-1].top.Width, st.spans[to].bottom.Width
	least, most := math.Min(below, above)-10*plane.Near, math.Max(below, above)+10*plane.Near
	return !slices.ContainsFunc(st.spans[from:to], func(x *span) bool {
		return x.neck.Width < least || x.bottom.Width > most || x.top.Width > most
	})
}

// ledge tells whether one side of a span is a slope of over 30 degrees all the way, and the other none.
func (y *span) ledge() bool {
	found := y.handed
	if found == nil {
		found = []*span{y}
	}
	return !slices.ContainsFunc(found, func(x *span) bool {
		return x.path == nil || (x.path.ends[0].slope().Lean() > MostWall) == (x.path.ends[1].slope().Lean() > MostWall)
	})
}

// last is the highest span so far.
func (st *stretch) last() *span { return st.spans[len(st.spans)-1] }

// add puts a span on top of a stretch.
func (st *stretch) add(x *span) {
	a, b := st.last().top, x.bottom
	x.turned = st.last().turned
	if a.P.Distance(b.P)+a.Q.Distance(b.Q) > a.P.Distance(b.Q)+a.Q.Distance(b.P) {
		x.turned = !x.turned
	}
	for k, f := range x.features {
		side := k
		if x.turned {
			side = 1 - k
		}
		for _, one := range f {
			if !slices.Contains(st.sides[side], one) {
				st.sides[side] = append(st.sides[side], one)
			}
		}
	}
	st.spans = append(st.spans, x)
}

// follow gives, by fresh stretch, the one below that it goes on, or nil: where they meet both are as wide and at one place. Of several
// that between the same walls comes first, then the longest, then the nearest, so that it does not matter which way they are followed.
func follow(below, fresh []*stretch) []*stretch {
	type pair struct {
		from, to int
		other    bool // other walls
		length   float64
		d        float64
	}
	var all []pair
	for i, st := range below {
		for j, f := range fresh {
			a, b := st.last(), f.spans[0]
			if a.neck.Void == b.neck.Void && a.top != nil && b.bottom != nil && sameNeck(a.top, b.bottom) {
				d := a.top.Middle().Distance(b.bottom.Middle())
				all = append(all, pair{i, j, a.walls != b.walls, a.top.Length + b.bottom.Length, d})
			}
		}
	}
	slices.SortStableFunc(all, func(a, b pair) int {
		if a.other != b.other {
			return map[bool]int{true: 1, false: -1}[a.other]
		}
		if math.Abs(a.length-b.length) > longer {
			return cmp.Compare(b.length, a.length)
		}
		return cmp.Compare(a.d, b.d)
	})
	out, taken := make([]*stretch, len(fresh)), make([]bool, len(below))
	for _, p := range all {
		if !taken[p.from] && out[p.to] == nil {
			taken[p.from], out[p.to] = true, below[p.from]
		}
	}
	return out
}

// sameNeck tells whether two necks at one height are one.
func sameNeck(a, b *plane.Neck) bool {
	return math.Abs(a.Width-b.Width) <= 10*plane.Near && a.Overlaps(b) && !crossed(a, b)
}

// round tells whether a neck lies between concentric arcs.
func round(n *plane.Neck) bool {
	return slices.ContainsFunc(n.Medial, func(c plane.Curve) bool { return c.IsArc() })
}

// crossed tells whether two necks that do not go round, of some width, lie across each other.
func crossed(a, b *plane.Neck) bool {
	if a.Width <= wideEnough || b.Width <= wideEnough || round(a) || round(b) {
		return false
	}
	cross := (a.Q.X-a.P.X)*(b.Q.Y-b.P.Y) - (a.Q.Y-a.P.Y)*(b.Q.X-b.P.X)
	return math.Abs(cross) > 0.5*a.Width*b.Width
}

// measure finds where a stretch is thinnest, how thick it is in the mean, and from where to where it goes; false where nothing is
// left of it but two faces that lean until they meet, which is an edge and no wall.
func (st *stretch) measure() bool {
	st.spans = withoutRims(withoutEdges(st.spans))
	if len(st.spans) == 0 {
		return false
	}
	st.low, st.high, st.web = st.spans[0].low, st.last().high, true
	st.thinnest = st.spans[0].neck
	area := 0.0
	for _, x := range st.spans {
		if x.neck.Width < st.thinnest.Width-plane.Near {
			st.thinnest = x.neck
		}
		area += x.area
		st.runsOut = st.runsOut || x.runsOut
		st.web = st.web && x.web
	}
	st.mean = math.Max(plane.Near, area/(st.high-st.low))
	st.least = st.thinnest.Width
	first := true
	for _, x := range st.spans {
		if x.runsOut && (first || x.angle < st.angle) {
			st.angle, first = x.angle, false
		}
	}
	if st.runsOut || touch(&st.thinnest) {
		st.least, st.runsOut = 0, true
	}
	return true
}

// runOut is a place in which a wall comes to nothing.
type runOut struct {
	at plane.Point // of the overlay
	z  float64
}

// runOuts are those of a stretch.
func (st *stretch) runOuts() (all []runOut) {
	if !st.runsOut {
		return nil
	}
	all = []runOut{{st.thinnest.Middle(), st.low}, {st.thinnest.Middle(), st.high}}
	for _, x := range st.found() {
		if !x.runsOut || x.path == nil {
			continue
		}
		for _, z := range [2]float64{x.low, x.high} {
			if n, ok := x.path.at(z, &x.neck); ok && n.Width <= 10*plane.Near {
				all = append(all, runOut{n.Middle(), z})
				for _, c := range n.Ends {
					all = append(all, runOut{plane.Point{X: mean(c.P.X, c.Q.X), Y: mean(c.P.Y, c.Q.Y)}, z})
				}
			}
		}
	}
	return all
}

// found are the spans of a stretch as they were found, each between two sides.
func (st *stretch) found() (all []*span) {
	for _, x := range st.spans {
		if x.handed != nil {
			all = append(all, x.handed...)
		} else {
			all = append(all, x)
		}
	}
	return all
}

// square is the least distance in space between the two sides of a stretch.
func (st *stretch) square() float64 {
	least := st.least
	for _, x := range st.found() {
		least = math.Min(least, x.square(st.low, st.high))
	}
	return least
}

// withoutEdges leaves out spans that are edges, and what belongs to one: what leans to both sides beside it, and what goes on smoothly.
func withoutEdges(all []*span) []*span {
	for again := true; again; {
		again = false
		for i, x := range all {
			beside := func(j int) bool {
				return j >= 0 && j < len(all) && all[j].edge && (x.leans || smooth(all[min(i, j)], all[max(i, j)]))
			}
			if !x.edge && (beside(i-1) || beside(i+1)) {
				x.edge, again = true, true
			}
		}
	}
	return slices.DeleteFunc(all, func(x *span) bool { return x.edge })
}

// withoutRims leaves out spans in which a wall runs out at a blunt angle past a kink, where a hole comes out of a face of the outside that
// slopes a little: what is left below is the wall. One that is blunt all along stays, and so does one whose hole itself slopes so.
func withoutRims(all []*span) []*span {
	rims := make([]*span, len(all))
	for i, x := range all {
		y := *x
		y.edge = x.runsOut && x.angle >= blunt-sameAngle && x.onFace()
		rims[i] = &y
	}
	if left := withoutEdges(rims); len(left) > 0 {
		return left
	}
	return all
}

// smooth tells whether the width of a span goes on in the one above without a kink: as between the same sides, where a station is of
// something elsewhere.
func smooth(a, b *span) bool {
	if a.path == nil || b.path == nil {
		return false
	}
	rate := func(x *span, z, step float64) float64 { // of the parabola through three heights
		w := x.path.width
		return (4*w(z+step) - w(z+2*step) - 3*w(z)) / (2 * step)
	}
	z, step := a.high, beside*math.Min(a.high-a.low, b.high-b.low)
	below, above := rate(a, z, -step), rate(b, z, step)
	return math.Abs(below-above) <= noKink*(1+math.Abs(below))
}

// notOneToothed leaves necks between the teeth of one figure out.
func notOneToothed(s *blank.Shape, a, b int) bool { return a != b || a == another || !hasTeeth(s, a) }

// inSection tells whether both ends of a neck are on one groove of round or V section.
func (x *section) inSection(n *plane.Neck) bool {
	if !slices.ContainsFunc(x.s.Features(), inFace) {
		return false
	}
	at := [2][]int{x.featuresAt(n.I, n.P), x.featuresAt(n.J, n.Q)}
	return slices.ContainsFunc(at[0], func(f int) bool { return inFace(x.s.Feature(f)) && slices.Contains(at[1], f) })
}

// inFace tells whether a cut is a groove of round or V section, or what a punch forms in an end face: nothing goes into it.
func inFace(f *parts.Feature) bool { return f.Section != "" || f.Relief != nil }

// onRamp tells whether a neck ends on the face of a ramp, or in a corner that goes along it: what is between that and a wall is the part's
// height over the ramp, and no wall.
func (x *section) onRamp(n *plane.Neck) bool {
	ramp := func(piece int) bool {
		_, is := x.side(piece, x.pieces[piece].Curve.At(0.5)).Relief()
		return is
	}
	at := func(piece int, p plane.Point) bool {
		c := &x.pieces[piece].Curve
		switch {
		case ramp(piece):
			return true
		case n.Length > 0:
			return false
		case c.A.Distance(p) <= plane.Near:
			return ramp(x.beforeOf(piece))
		}
		return c.B.Distance(p) <= plane.Near && ramp(x.pieces[piece].Next)
	}
	return at(n.I, n.P) || at(n.J, n.Q)
}

// reliefAt is the end face that the relief is in which a neck ends on; "" where it ends on none.
func (x *section) reliefAt(n *plane.Neck) string {
	for _, f := range slices.Concat(x.featuresAt(n.I, n.P), x.featuresAt(n.J, n.Q)) {
		if r := x.s.Feature(f).Relief; r != nil {
			return r.On
		}
	}
	return ""
}

// wallsAt are the walls of a piece and, in an end of it, of the piece beside: which of them begins there depends on the way round.
func (x *section) wallsAt(piece int, p plane.Point) [2]int {
	c := &x.pieces[piece].Curve
	other := piece
	switch {
	case c.A.Distance(p) <= plane.Near:
		other = x.beforeOf(piece)
	case c.B.Distance(p) <= plane.Near:
		other = x.pieces[piece].Next
	}
	return [2]int{x.wall(piece), x.wall(other)}
}

// beforeOf is the piece before another.
func (x *section) beforeOf(piece int) int {
	if x.before == nil {
		x.before = make([]int, len(x.pieces))
		for i := range x.pieces {
			x.before[x.pieces[i].Next] = i
		}
	}
	return x.before[piece]
}

// featuresAt are the features of these walls.
func (x *section) featuresAt(piece int, p plane.Point) []int {
	at := x.wallsAt(piece, p)
	return []int{x.s.WallFeature(at[0]), x.s.WallFeature(at[1])}
}
