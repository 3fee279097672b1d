package measure

import (
	"cmp"
	"math"
	"slices"

	"corerod/parts/blank"
	"corerod/parts/form"
	"corerod/parts/plane"
)

// section is a section whose necks are looked at: that of a slab, or that half way between two stations.
type section struct {
	s      *blank.Shape
	slab   int // of a middle the lower half
	middle bool
	z      float64
	pieces []plane.Piece
	before []int      // by piece the one before it, once one is asked for
	last   blank.Side // that was asked for: the next is often beside it
}

func sectionOfSlab(s *blank.Shape, k int) *section {
	return &section{s: s, slab: k, z: s.SectionHeight(k), pieces: s.Region(k).Pieces()}
}

// wall is the wall that makes a piece.
func (x *section) wall(piece int) int {
	if x.middle {
		return x.pieces[piece].Owner
	}
	return x.s.WallOf(x.pieces[piece].Owner)
}

func (x *section) feature(piece int) int { return x.s.WallFeature(x.wall(piece)) }

// side is the side of a wall that a point of a piece is on.
func (x *section) side(piece int, on plane.Point) blank.Side {
	if x.middle {
		x.last = x.s.SideOfWall(x.pieces[piece].Owner, on, x.z, x.last)
		return x.last
	}
	return x.s.SideOf(x.pieces[piece].Owner, on)
}

// void is a cell of the plan with a point that lies in void, and the slab of the section in which the cell is void.
func (x *section) void(p plane.Point) (cell, slab int) {
	c := x.s.CellAt(p)
	if x.middle && x.s.Solid(c, x.slab) {
		return c, x.slab + 1
	}
	return c, x.slab
}

// outer is the cell of the plan outside of a piece of a section, beside a place of it, and the slab in which it is void.
func (x *section) outer(c *plane.Curve, share float64) (cell, slab int) {
	const past = 20 * plane.Near
	at := c.At(share)
	t := c.Tangent(at)
	return x.void(plane.Point{X: at.X + past*t.Y, Y: at.Y - past*t.X})
}

// onHole tells whether the void beside a piece is closed in plan.
func (x *section) onHole(piece int) bool {
	outer := x.pieces[piece].Outer
	if x.middle {
		if r, z := x.s.Middle(x.slab); r != nil && z == x.z {
			return x.s.ClosedHalfWay(x.slab)[outer]
		}
		cell, k := x.outer(&x.pieces[piece].Curve, 0.5)
		return !x.s.Solid(cell, k) && x.s.Closed(k, cell)
	}
	return !x.s.Solid(outer, x.slab) && x.s.Closed(x.slab, outer)
}

// ofTeeth tells whether teeth carry a neck, which is then no wall or gap: one with both ends on one toothed outline, and material with
// one end on one, which is the wall behind its roots. A corner with something else is on none.
func (x *section) ofTeeth(n *plane.Neck) bool {
	a, b := x.wallsAt(n.I, n.P), x.wallsAt(n.J, n.Q)
	toothed := func(at [2]int) bool { return toothedWall(x.s, at[0]) && x.s.SameWallCopy(at[0], at[1]) }
	if n.Void || x.s.SameWallCopy(a[0], b[0]) {
		return toothed(a) && toothed(b) && x.s.SameWallCopy(a[0], b[0])
	}
	return toothed(a) || toothed(b)
}

// span is a neck between two stations, or over a part of the way.
type span struct {
	neck        plane.Neck // where it is thinnest
	in          *section   // that it was found in
	found       plane.Neck // there
	low, high   float64
	bottom, top *plane.Neck // at the stations, where it reaches them
	area        float64     // the integral of its width over the height
	leans       bool        // both its sides do
	edge        bool        // it is two faces that lean until they meet along a line, or one and a wall that it comes to
	runsOut     bool        // it comes to nothing
	angle       float64     // between its sides there, degrees; the lesser of two
	path        *path       // nil where nothing moves
	features    [2][]int    // at P and Q
	walls       [2]int      // the lesser first
	onHole      [2]bool     // of material: P and Q are
	web         bool        // of material: both ends are on holes
	opens       bool        // one is, which opens where the neck comes to nothing
	turned      bool        // P is on the second side of its stretch
	handed      []*span     // of several that go on from each other: as they were found
}

// spansOf are the necks that are wanted over slab k, and, where it is a lower half, over the upper one. Reliefs lean, but what is beside
// them is not followed: other necks go on as where the reliefs take least, and those that end on reliefs are as at the mouth.
func spansOf(s *blank.Shape, ns *necks, k int, wanted func(x *section, n *plane.Neck) bool) (all []*span) {
	add := func(x *section, n *plane.Neck) *span {
		if !wanted(x, n) || ns.reliefs && s.Half(k) != 0 && x.reliefAt(n) != "" {
			return nil
		}
		return newSpan(x, n, k)
	}
	if s.Half(k) == 0 {
		return stillSpans(s, ns, k, add)
	}
	face, alone := "", false
	if ns.reliefs {
		face, alone = s.OnlyReliefs(k)
		all = besideReliefs(s, ns, k, wanted)
	}
	switch {
	case !alone:
		return append(slopedSpans(s, ns, k, add), all...)
	case face == "bottom":
		return append(stillSpans(s, ns, k+1, add), all...)
	}
	return append(stillSpans(s, ns, k, add), all...)
}

// stillSpans are those of a slab, the same all the way up.
func stillSpans(s *blank.Shape, ns *necks, k int, add func(x *section, n *plane.Neck) *span) (all []*span) {
	x := sectionOfSlab(s, k)
	for i := range ns.slabs[k] {
		if y := add(x, &ns.slabs[k][i]); y != nil {
			all = append(all, y.still())
		}
	}
	return all
}

// slopedSpans are those of a stretch in which something leans.
func slopedSpans(s *blank.Shape, ns *necks, k int, add func(x *section, n *plane.Neck) *span) (all []*span) {
	atEnds := [2][]plane.Neck{ns.slabs[k], ns.slabs[k+1]}
	b := newBreaks(s, k)
	if r, z := s.Middle(k); r != nil {
		x := &section{s: s, slab: k, middle: true, z: z, pieces: r.Pieces()}
		for _, n := range ns.of(r) {
			if y := add(x, &n); y != nil && !touch(&n) && y.between(x, &n, atEnds) {
				all = append(all, y)
			}
		}
	}
	for half := range 2 { // what is at a station and, some way from it, no more
		x, look := sectionOfSlab(s, k+half), b != nil && b.meet
		for i := range ns.slabs[k+half] {
			n := &ns.slabs[k+half][i]
			if touch(n) || slices.ContainsFunc(all, func(y *span) bool { return y.endsIn(n, half) }) {
				continue
			}
			switch y := add(x, n); {
			case y == nil:
			case n.Length > 0: // what holds over a length goes on otherwise than its middle does
				look = true
			case y.from(x, ns, n, half, atEnds):
				all = append(all, y)
			}
		}
		if look {
			all = append(all, others(s, ns, k, nextTo(s, k, half), all, add, atEnds)...)
		}
	}
	return handedOn(amid(s, ns, k, b, all, add, atEnds))
}

// besideReliefs are the necks of a stretch that end on reliefs, as the station on the side of their face shows them: there the relief is
// widest, and the wall beside it thinnest. They are not followed.
func besideReliefs(s *blank.Shape, ns *necks, k int, wanted func(x *section, n *plane.Neck) bool) (all []*span) {
	for half, face := range [2]string{"bottom", "top"} {
		x := sectionOfSlab(s, k+half)
		for i := range ns.slabs[k+half] {
			n := ns.slabs[k+half][i]
			if touch(&n) || !wanted(x, &n) || x.reliefAt(&n) != face || x.onRamp(&n) {
				continue
			}
			all = append(all, newSpan(x, &n, k).still())
		}
	}
	return all
}

// still makes a span of a neck that is the same over its height.
func (y *span) still() *span {
	n := y.neck
	y.bottom, y.top, y.area = &n, &n, n.Width*(y.high-y.low)
	return y
}

// nextTo is the height next to the lower station of a stretch whose lower half is slab k, or to the upper one, at which its section is
// looked at.
func nextTo(s *blank.Shape, k, half int) float64 {
	station := [2]float64{s.Low(k), s.High(k)}[half]
	return station + beside*(mean(s.Low(k), s.High(k))-station)
}

// amid adds to the spans of a stretch those that begin and end on the way: where one ends another may begin, and sections are looked at
// between all heights at which one does.
func amid(s *blank.Shape, ns *necks, k int, b *breaks, all []*span, add func(*section, *plane.Neck) *span,
	atEnds [2][]plane.Neck) []*span {
	least := beside * (s.High(k) - s.Low(k))
	looked := []float64{mean(s.Low(k), s.High(k))}
	for _, z := range b.begun(all) {
		all = append(all, others(s, ns, k, z, all, add, atEnds)...)
	}
	for again := true; again; {
		again = false
		zs := []float64{s.Low(k), s.High(k)}
		for i := 0; i < len(all); i++ {
			if z, is := b.in(all[i]); is && z-all[i].low > least && all[i].high-z > least {
				all = append(all, all[i].part(z))
				i-- // what is left of it may be parted again
			}
		}
		for _, y := range all {
			zs = append(zs, y.low, y.high)
		}
		slices.Sort(zs)
		for i := 1; i < len(zs); i++ {
			low, high := zs[i-1], zs[i]
			if high-low <= least || slices.ContainsFunc(looked, func(z float64) bool { return low < z && z < high }) {
				continue
			}
			looked = append(looked, mean(low, high))
			more := others(s, ns, k, mean(low, high), all, add, atEnds)
			all, again = append(all, more...), again || len(more) > 0
		}
	}
	return all
}

// others are the necks of the section at a height that are not among some.
func others(s *blank.Shape, ns *necks, k int, z float64, known []*span, add func(*section, *plane.Neck) *span,
	atEnds [2][]plane.Neck) (more []*span) {
	r := s.SectionAt(z)
	if r == nil {
		return nil
	}
	x := &section{s: s, slab: k, middle: true, z: z, pieces: r.Pieces()}
	var there []plane.Neck // of those known
	for _, y := range known {
		if y.path == nil || z < y.low || z > y.high {
			continue
		}
		if c, ok := y.path.whole(s, z); ok {
			there = append(there, c)
		}
	}
	for _, n := range ns.of(r) {
		if slices.ContainsFunc(there, func(c plane.Neck) bool { return c.Void == n.Void && sameStretch(&c, &n) }) {
			continue
		}
		if y := add(x, &n); y != nil && !touch(&n) && y.between(x, &n, atEnds) {
			more = append(more, y)
		}
	}
	return more
}

// sameStretch tells whether two necks at one height are one, or of one stretch between the same parallel sides.
func sameStretch(a, b *plane.Neck) bool {
	return sameNeck(a, b) || b.Length > 0 && math.Abs(a.Width-b.Width) <= 10*plane.Near && alongside(a, b)
}

// alongside tells whether two necks, the first at another height, are of one stretch between the same parallel sides, at whichever
// places along it.
func alongside(a, b *plane.Neck) bool {
	p, q := plane.Line(a.P, a.Q), plane.Line(b.P, b.Q)
	u, v := p.Tangent(a.P), q.Tangent(b.P)
	if math.Abs(u.X*v.Y-u.Y*v.X) > tangent {
		return false
	}
	middle := a.Middle()
	reach := func(n *plane.Neck) (low, high float64) { // along the sides
		low, high = math.Inf(1), math.Inf(-1)
		for _, c := range append(n.Ends[:], plane.Chord{P: n.P, Q: n.Q}) {
			d := ((c.P.X+c.Q.X)/2-middle.X)*-u.Y + ((c.P.Y+c.Q.Y)/2-middle.Y)*u.X
			low, high = math.Min(low, d), math.Max(high, d)
		}
		return low, high
	}
	lo, hi := reach(a)
	low, high := reach(b)
	across := (b.Middle().X-middle.X)*u.X + (b.Middle().Y-middle.Y)*u.Y
	return math.Abs(across) <= 10*plane.Near && low <= hi+plane.Near && lo <= high+plane.Near
}

// newSpan is a neck of a section over slab k, not yet followed.
func newSpan(x *section, n *plane.Neck, k int) *span {
	a, b := x.wall(n.I), x.wall(n.J)
	y := &span{neck: *n, in: x, found: *n, low: x.s.Low(k), high: x.s.High(k), features: [2][]int{{x.feature(n.I)}, {x.feature(n.J)}},
		walls: [2]int{min(a, b), max(a, b)}}
	if !n.Void {
		y.onHole = [2]bool{x.onHole(n.I), x.onHole(n.J)}
		y.web, y.opens = y.onHole[0] && y.onHole[1], y.onHole[0] || y.onHole[1]
	}
	for _, also := range n.Also {
		for side, i := range also {
			if f := x.feature(i); !slices.Contains(y.features[side], f) {
				y.features[side] = append(y.features[side], f)
			}
		}
	}
	return y
}

// endsIn tells whether a span ends in a neck at its lower station, or its upper one, or in another part of it between parallel sides.
func (y *span) endsIn(n *plane.Neck, half int) bool {
	end := [2]*plane.Neck{y.bottom, y.top}[half]
	if end == nil || end.Void != n.Void {
		return false
	}
	between := end.Length > 0 && n.Length > 0 && math.Abs(end.Width-n.Width) <= 10*plane.Near
	return sameNeck(end, n) || between && alongside(end, n)
}

// handedOn makes one span of those that go on from each other on the way: where the foot of a chord passes from one side to the next.
func handedOn(all []*span) []*span {
	slices.SortStableFunc(all, func(a, b *span) int { return cmp.Compare(a.low, b.low) })
	for i := 0; i < len(all); i++ {
		for j := i + 1; j < len(all); j++ {
			a, b := all[i], all[j]
			if a.top != nil || b.bottom != nil || b.low > a.high+blank.SameHeight || a.neck.Void != b.neck.Void {
				continue
			}
			z := mean(math.Max(a.low, b.low), math.Min(a.high, b.high))
			p, ok := a.path.whole(a.in.s, z)
			q, both := b.path.whole(b.in.s, z)
			if !ok || !both || !sameNeck(&p, &q) {
				continue
			}
			if a.handed == nil {
				first := *a
				a.handed = []*span{&first}
			}
			a.handed = append(a.handed, b)
			a.area += b.area - b.path.area(b.low, math.Min(a.high, b.high))
			a.high, a.top, a.path = math.Max(a.high, b.high), b.top, b.path
			if b.neck.Width < a.neck.Width-plane.Near {
				a.neck, a.in, a.found = b.neck, b.in, b.found
			}
			if b.runsOut && (!a.runsOut || b.angle < a.angle) {
				a.angle = b.angle
			}
			a.runsOut, a.edge = a.runsOut || b.runsOut, a.edge || b.edge
			all = slices.Delete(all, j, j+1)
			j = i
		}
	}
	return all
}

func toothedWall(s *blank.Shape, wall int) bool {
	return form.Toothed(s.Feature(s.WallFeature(wall)).Profile)
}

// between finds how far the neck of a section half way goes on up and down; false where it cannot be followed.
func (y *span) between(x *section, n *plane.Neck, atEnds [2][]plane.Neck) bool {
	q := pathOf(x, n)
	if c, ok := q.at(x.z, n); !ok || !sameNeck(&c, n) {
		return false
	}
	y.path, q.found, q.z = q, *n, x.z
	y.finish(x, n, x.z, atEnds)
	return true
}

// from is the same of the neck of a station, where a little away from it, or right beside it, there is one.
func (y *span) from(x *section, ns *necks, n *plane.Neck, half int, atEnds [2][]plane.Neck) bool {
	q := pathOf(x, n)
	start := nextTo(x.s, x.slab-half, half)
	if !q.shows(x.s, ns, n, start) {
		start = [2]float64{y.low + 2*blank.SameHeight, y.high - 2*blank.SameHeight}[half]
		if y.high-y.low <= 4*blank.SameHeight || !q.shows(x.s, ns, n, start) {
			return false // at the station alone, where what is between has just gone, or grows into a length
		}
	}
	y.path, q.found, q.z = q, *n, start
	y.finish(x, n, start, atEnds)
	return y.high-y.low > 10*blank.SameHeight // else it is but near to one
}

// finish follows a neck from a height to both stations, and finds where it is thinnest.
func (y *span) finish(x *section, n *plane.Neck, from float64, atEnds [2][]plane.Neck) {
	low, high, q, k := y.low, y.high, y.path, x.slab
	if x.s.Half(k) > 0 {
		k--
	}
	y.leans = q.ends[0].moves(low, high) && q.ends[1].moves(low, high)
	var last [2]plane.Neck
	for half, station := range [2]float64{low, high} {
		z, end, there := q.upTo(x.s, n, from, station, nextTo(x.s, k, half))
		last[half] = end
		switch {
		case q.moves(low, high) && q.width(station) <= 10*plane.Near && (there || !n.Void):
			y.comesTo(x.s, station, from, atEnds[half])
		case there && half == 0:
			y.bottom = &end
		case there:
			y.top = &end
		case half == 0:
			y.low = z
		default:
			y.high = z
		}
	}
	y.area = q.area(y.low, y.high)
	y.thin(x.s, n, last, atEnds)
	if y.runsOut {
		y.angle = y.angleOut()
	}
}

// onFace tells whether a side of a neck of material that is on no hole is a slope of over 30 degrees.
func (y *span) onFace() bool {
	if y.path == nil {
		return false
	}
	for k, e := range y.path.ends {
		if w := e.slope(); !y.onHole[k] && !w.Upright() && w.Lean() > MostWall {
			return true
		}
	}
	return false
}

// comesTo finds whether the sides of a neck that come together at a station, on the way from another height, do so along an edge, or as
// a wall that comes to nothing: in a point where a void opens, where a hole opens along a line, or where a steep slope comes to an
// upright wall. Two sides that lean towards each other until the part ends are a ridge of it, and so are two that
// meet there all round.
func (y *span) comesTo(s *blank.Shape, station, from float64, there []plane.Neck) {
	end, ok := y.path.at(station, &y.neck)
	point := ok && slices.ContainsFunc(there, func(t plane.Neck) bool {
		return touch(&t) && t.Void == y.neck.Void && t.P.Distance(end.Middle()) <= 100*plane.Near
	})
	if y.opens && y.neck.Length == 0 { // a neck that is none between parallel sides is wider on both sides of it
		point = point || y.path.holds(s, &y.neck, station+beside*(from-station))
	}
	a, b := y.path.ends[0].slope(), y.path.ends[1].slope()
	low, high := s.WholeSpan()
	ends := math.Min(station-low, high-station) <= blank.SameHeight // the part does
	switch {
	case point || y.neck.Void:
		y.edge = !point
	case y.opens && !(ends && goesRound(&y.neck)):
		p, q := y.leanings()
		y.edge = p > 0 && q > 0 && ends
	default:
		y.edge = !a.Upright() && !b.Upright() || math.Max(a.Lean(), b.Lean()) > MostWall
	}
	y.runsOut = y.runsOut || !y.edge
}

// goesRound tells whether a neck goes round between concentric circles.
func goesRound(n *plane.Neck) bool {
	turn := 0.0
	for _, c := range n.Medial {
		turn += math.Abs(c.Sweep)
	}
	return turn >= 2*math.Pi*allRound
}

// thin finds where a neck is thinnest from its lower to its upper end: at a station it is as the section there shows it.
func (y *span) thin(s *blank.Shape, n *plane.Neck, last [2]plane.Neck, atEnds [2][]plane.Neck) {
	q := y.path
	for half, c := range last {
		if c.Width < y.neck.Width-plane.Near || c.Width <= y.neck.Width+plane.Near && c.Length > y.neck.Length {
			y.neck = c
			i := slices.IndexFunc(atEnds[half], func(o plane.Neck) bool { return sameNeck(&c, &o) })
			if end := [2]*plane.Neck{y.bottom, y.top}[half]; i >= 0 && end != nil && !merges(&c, &atEnds[half][i]) {
				y.neck = atEnds[half][i]
				y.neck.I, y.neck.J = c.I, c.J
			}
		}
	}
	if q.bends(y.low, y.high) {
		t, w := blank.LeastAlong(func(t float64) float64 { return q.width(y.low + t*(y.high-y.low)) })
		z := y.low + t*(y.high-y.low)
		if c, ok := q.at(z, n); ok && w < y.neck.Width-plane.Near && s.Inscribes(c.Middle(), c.Width/2, z, n.Void) {
			y.neck = c
		}
	}
	if y.runsOut {
		y.neck.Width = math.Max(0, math.Min(y.neck.Width, math.Min(q.width(y.low), q.width(y.high))))
	}
}

// merges tells whether a neck becomes one with others at a station, as pieces of a ring that close it there: what the section there shows
// is far longer.
func merges(own, there *plane.Neck) bool {
	return own.Length > 0 && there.Length > 1.5*own.Length
}

// touch tells whether a neck is a point where the boundary touches itself.
func touch(n *plane.Neck) bool { return n.Width <= plane.Near && n.P == n.Q }
