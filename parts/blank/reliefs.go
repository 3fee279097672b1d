package blank

import (
	"fmt"
	"math"

	"corerod/parts"
	"corerod/parts/form"
	"corerod/parts/plane"
)

// featuresOf are the features of a part's shape: its bodies with the islands of cuts, then its cuts, then what punches form in the faces of
// bodies; and how many of them are bodies.
func featuresOf(p *parts.Part, cuts []*parts.Feature) (all []*parts.Feature, bodies int) {
	all = append(all, p.Bodies...)
	for _, c := range cuts {
		if c.Island != nil {
			all = append(all, c.Island)
		}
	}
	bodies = len(all)
	all = append(all, cuts...)
	for _, b := range p.Bodies {
		for i := range b.Reliefs {
			x := &b.Reliefs[i]
			at := form.Centre(b.Profile)
			all = append(all, &parts.Feature{Name: b.Name, Place: x.Place, Profile: parts.Rectangle{At: parts.Point(at)}, Shape: x.Place,
				Extent: b.Extent, MadeBy: "pressing", Punch: "none", Repeat: b.Repeat, Relief: x, Of: b})
		}
	}
	return all, bodies
}

// aloneIn are, for the cut that a relief or an island belongs to, the bodies that it leaves alone: all but that of the relief and islands,
// and the island.
func (s *Shape) aloneIn(cut int) (kept []int) {
	f := s.features[cut]
	for b, o := range s.features[:s.bodies] {
		if f.Relief != nil && o != f.Of && o.Of == nil || f.Island == o { // a relief takes from the islands in its face too
			kept = append(kept, b)
		}
	}
	return kept
}

// isIsland tells whether a feature is the island of a cut.
func (s *Shape) isIsland(feature int) bool {
	return feature < s.bodies && s.features[feature].Of != nil
}

// sinkIslands puts each copy of an island on the floor of its recess.
func (s *Shape) sinkIslands() {
	type standing struct {
		island *parts.Feature
		copy   int
	}
	base := map[standing]float64{}
	for i := range s.walls {
		if w := &s.walls[i]; s.features[w.feature].Island != nil {
			base[standing{s.features[w.feature].Island, w.copy}] = w.base
		}
	}
	for i := range s.walls[:s.bodyWalls()] {
		if w := &s.walls[i]; s.isIsland(w.feature) {
			w.base = base[standing{s.features[w.feature], w.copy}]
			w.low, w.high = w.slopeLow(), w.slopeHigh()
		}
	}
}

// touching reports islands that touch the wall of their recess.
func (s *Shape) touching() (ps parts.Problems) {
	for i := range s.walls[:s.bodyWalls()] {
		w := &s.walls[i]
		if !s.isIsland(w.feature) || w.copy > 0 {
			continue
		}
		for j := s.bodyWalls(); j < len(s.walls); j++ {
			v := &s.walls[j]
			f := s.features[v.feature]
			if f.Island != s.features[w.feature] || v.copy > 0 || v.low > w.low+SameHeight && v.high < w.high-SameHeight {
				continue
			}
			z := w.slopeLow()
			if f.Extent.Open == "bottom" {
				z = w.slopeHigh()
			}
			inner, err := w.section(z)
			outer, other := v.section(z)
			if err != nil || other != nil || len(outer) == 0 || fitsIn(inner, outer) {
				continue
			}
			if !outer.Holds(boxMiddle(inner)) {
				at := form.Centre(f.Profile)
				const says = "the island of %s lies outside its recess; it is drawn in the part's own coordinates, so write " +
					"`at: [%.6g, %.6g]` for one in the middle of the recess"
				ps = append(ps, s.Problem(s.features[w.feature].Place, says, f.Name, at.X, at.Y))
				break
			}
			says := "where its recess is deepest it touches the wall or reaches past it"
			if by, ok := smallerBy(inner, outer); ok {
				says += fmt.Sprintf("; drawn %.4g mm smaller all round it fits", math.Ceil(by*1e4)/1e4)
			}
			ps = append(ps, s.Problem(s.features[w.feature].Place, "the island of %s is too wide: %s", f.Name, says))
			break
		}
	}
	return ps
}

// smallerBy is by how much an outline has to be smaller all round to fit in another, mm; false where it never does.
func smallerBy(inner, outer plane.Loop) (by float64, ok bool) {
	lo, hi := inner.Bounds()
	less, more := 0.0, lo.Distance(hi)/2
	for range 60 {
		d := mid(less, more)
		if l, err := inner.Mitred(d).Inward(d); err == nil && fitsIn(l, outer) {
			more, ok = d, true
		} else {
			less = d
		}
	}
	return more, ok
}

// boxMiddle is the middle of the upright rectangle round an outline.
func boxMiddle(l plane.Loop) plane.Point {
	lo, hi := l.Bounds()
	return plane.Point{X: mid(lo.X, hi.X), Y: mid(lo.Y, hi.Y)}
}

// fitsIn tells whether an outline lies inside another, clear of it.
func fitsIn(inner, outer plane.Loop) bool {
	if wider, err := inner.Inward(-plane.Thin); err == nil {
		inner = wider
	}
	return len(inner) > 0 && outer.Holds(inner[0].A) && !inner.Meets(outer)
}

// outlineAt is the outline of a body at an end face: of a drafted one its narrow end, where that is there.
func outlineAt(b *parts.Feature, on string, wide plane.Loop, height float64) plane.Loop {
	if b.Draft == nil || b.Draft.Angle == 0 || b.Draft.Up != (on == "top") {
		return wide
	}
	ts, err := draftedTiers(b.Draft, wide, height)
	if err != nil {
		return wide // said of the body
	}
	t, u := &ts[0], 0.0
	if on == "top" {
		t, u = &ts[len(ts)-1], height
	}
	if l, err := t.at(u); err == nil && len(l) > 0 {
		return l
	}
	return wide
}

// reliefTiers are what the relief of a feature takes out of its body, of an outline at its wide end and a height.
func reliefTiers(f *parts.Feature, l plane.Loop, height float64) (ts []tier, err error) {
	var t tier
	x, at := f.Relief, form.Centre(f.Profile)
	turns := make([]float64, x.Copies()) // of its copies, degrees
	switch {
	case x.Tilt != nil:
		t, err = tiltTier(x.Tilt, outlineAt(f.Of, x.On, l, height), l, height)
	case x.Teeth != nil:
		t, err = toothSpace(x.Teeth, l, at, height)
		for i := range turns {
			turns[i] = x.Teeth.Turn + 360*float64(i)/float64(len(turns))
		}
	default:
		t, err = rampTier(x.Ramp, l, at, height)
		for i := range turns {
			turns[i] = 360 * float64(i) / float64(len(turns))
		}
	}
	if x.On == "bottom" {
		t.turnOver(height)
	}
	for _, degrees := range turns {
		y := t
		y.drawn = t.drawn.Moved(at, degrees, plane.Point{})
		ts = append(ts, y)
	}
	return ts, err
}

// turnOver makes of a tier in the upper face the same in the lower one.
func (t *tier) turnOver(height float64) {
	t.lo, t.hi, t.tip = height-t.hi, height-t.lo, [2]bool{t.tip[1], t.tip[0]}
	moves := make([]*motion, len(t.moves))
	for i, m := range t.moves {
		o := *m
		o.slope, o.from = -m.slope, height-m.from
		moves[i] = &o
	}
	t.moves = moves
}

// still is the motion of a side that stays where it is.
func still() *motion { return &motion{slope: math.Inf(1)} }

// tiltTier is what lies beyond a tilted upper face: a rectangle round the outline, one side of which goes on toward the other. Its highest
// point is one of the face as drawn.
func tiltTier(d *parts.Tilt, face, l plane.Loop, height float64) (tier, error) {
	lo, hi := l.Moved(plane.Point{}, 90-d.Toward, plane.Point{}).Bounds()
	near, _ := face.Moved(plane.Point{}, 90-d.Toward, plane.Point{}).Bounds()
	lo.Y = near.Y
	lean := math.Tan(d.Angle * math.Pi / 180)
	deep := (hi.Y - lo.Y) * lean
	box := plane.Loop{}
	p := [4]plane.Point{{X: lo.X - besideBox, Y: lo.Y}, {X: hi.X + besideBox, Y: lo.Y}, {X: hi.X + besideBox, Y: hi.Y},
		{X: lo.X - besideBox, Y: hi.Y}}
	for i := range p {
		box = append(box, plane.Line(p[i], p[(i+1)%4]))
	}
	t := tier{lo: height - deep, hi: height, drawn: box.Moved(plane.Point{}, d.Toward-90, plane.Point{}), bar: true, ends: true,
		tip: [2]bool{true, false}, moves: []*motion{{slope: -lean, from: height}, still(), still(), still()}}
	if deep > height+SameHeight {
		most := math.Floor(math.Atan2(height, hi.Y-lo.Y)*180/math.Pi*100) / 100
		return t, fmt.Errorf("a face tilted by %g degrees is %.4g mm lower at its other end than a body %.4g mm high has room for; up to "+
			"%g degrees fit", d.Angle, deep, height, most)
	}
	return t, nil
}

// toothSpace is one space between face teeth, along x, from the circle of the inner diameter to that of the outer one, or past the outside
// of a body that ends there.
func toothSpace(d *parts.FaceTeeth, l plane.Loop, at plane.Point, height float64) (tier, error) {
	half, in, out := d.Depth*math.Tan(d.Angle*math.Pi/360), d.Inner/2, d.Outer/2
	if reachFrom(l, at) <= out+plane.Near {
		out += besideBox
	}
	p := func(r, y float64) plane.Point {
		return plane.Point{X: at.X + math.Sqrt(math.Max(0, r*r-half*half)), Y: at.Y + y}
	}
	m := &motion{slope: -d.Depth / half, from: height}
	t := tier{lo: height - d.Depth, hi: height, bar: true, ends: true, tip: [2]bool{true, false},
		drawn: plane.Loop{plane.Line(p(in, -half), p(out, -half)), plane.ArcBetween(at, p(out, -half), p(out, half), out, true),
			plane.Line(p(out, half), p(in, half)), plane.ArcBetween(at, p(in, half), p(in, -half), in, false)},
		moves: []*motion{m, still(), m, still()}}
	if d.Depth > height+SameHeight {
		return t, fmt.Errorf("tooth spaces %.4g mm deep do not fit in a body %.4g mm high", d.Depth, height)
	}
	return t, nil
}

// reachFrom is how far an outline reaches from a point.
func reachFrom(l plane.Loop, at plane.Point) (far float64) {
	for i := range l {
		c := &l[i]
		far = math.Max(far, c.A.Distance(at))
		if d := at.Distance(c.C); c.IsArc() && d > leastRun {
			if p := (plane.Point{X: c.C.X + (c.C.X-at.X)/d*c.R, Y: c.C.Y + (c.C.Y-at.Y)/d*c.R}); c.Covers(p) {
				far = math.Max(far, d+c.R)
			}
		}
	}
	return far
}

// rampTier is what lies over a helical ramp in the upper face: a sector of a ring, one end of which turns toward the other.
func rampTier(d *parts.Ramp, l plane.Loop, at plane.Point, height float64) (tier, error) {
	in, out := d.Inner/2, d.Outer/2
	if far := reachFrom(l, at) + besideBox; out == 0 || in >= far-besideBox {
		out = far
	}
	from, to, moving := d.Start, d.End, 2
	if to < from {
		from, to, moving = to, from, 0
	}
	span := (to - from) * math.Pi / 180
	p := func(r, degrees float64) plane.Point {
		sin, cos := math.Sincos(degrees * math.Pi / 180)
		return plane.Point{X: at.X + r*cos, Y: at.Y + r*sin}
	}
	t := tier{lo: height - d.Rise, hi: height, bar: true, ends: true, tip: [2]bool{true, false},
		drawn: plane.Loop{plane.Line(p(in, from), p(out, from)), plane.ArcBetween(at, p(out, from), p(out, to), out, true),
			plane.Line(p(out, to), p(in, to)), plane.ArcBetween(at, p(in, to), p(in, from), in, false)},
		moves: []*motion{still(), still(), still(), still()}}
	t.moves[moving] = &motion{turns: true, slope: -d.Rise / span, from: height, span: span}
	switch {
	case d.Rise > height+SameHeight:
		return t, fmt.Errorf("a ramp that rises by %.4g mm does not fit in a body %.4g mm high", d.Rise, height)
	case out <= in+besideBox+plane.Thin:
		return t, fmt.Errorf("the ramp begins at a diameter of %.4g mm, outside the body; an inner diameter of less than %.4g mm fits",
			2*in, 2*(out-besideBox))
	}
	if steep := math.Atan2(d.Rise/span, in) * 180 / math.Pi; steep > steepestRamp {
		return t, fmt.Errorf("at its inner diameter the ramp rises at %.4g degrees, steeper than a punch face forms; a rise of up to "+
			"%g mm fits, or a larger inner diameter", steep, math.Floor(math.Tan(steepestRamp*math.Pi/180)*in*span*1e3)/1e3)
	}
	return t, nil
}

// crowded reports copies of a body that lie in the way of a relief of another copy.
func (s *Shape) crowded() (ps parts.Problems) {
	for n := s.bodies; n < s.drawn; n++ {
		f := s.features[n]
		if f.Relief == nil || f.Repeat.Copies() == 1 {
			continue
		}
		if a, ok := s.inTheWay(n); ok {
			const says = "copy %d of %s reaches into what the relief of another copy takes away; draw the copies as bodies of their own"
			ps = append(ps, s.Problem(f.Relief.Place, says, a+1, f.Name))
		}
	}
	return ps
}

// inTheWay is a copy of a body whose outline meets that of a relief of another copy.
func (s *Shape) inTheWay(relief int) (copy int, ok bool) {
	for i := range s.walls {
		w := &s.walls[i]
		if w.feature != relief {
			continue
		}
		for j := range s.walls[:s.bodyWalls()] {
			v := &s.walls[j]
			if x := s.features[relief]; s.features[v.feature] != x.Of || v.copy == w.copy/x.Relief.Copies() {
				continue
			}
			if w.drawn.Holds(v.drawn[0].A) || v.drawn.Holds(w.drawn[0].A) || w.drawn.Meets(v.drawn) {
				return v.copy, true
			}
		}
	}
	return 0, false
}

// steepestRamp is how steep a ramp may be at its inner diameter, degrees from the face: the flank of a punch that presses powder no
// steeper than the walls that die and core rod form, which lean by MostWall. From memory.
const steepestRamp = 90 - MostWall

// ReliefUnder is the relief that a cell's column ends on, on a side, by its feature; false where it ends on none.
func (s *Shape) ReliefUnder(c int, side string) (feature int, ok bool) {
	if !s.HasMaterial(c) {
		return 0, false
	}
	f := s.end(c, side)
	if f.flat() || s.features[s.walls[f.wall].feature].Relief == nil {
		return 0, false
	}
	return s.walls[f.wall].feature, true
}

// EndsOnRelief tells whether a cell's column ends on a relief on a side.
func (s *Shape) EndsOnRelief(c int, side string) bool {
	_, ok := s.ReliefUnder(c, side)
	return ok
}

// OnlyReliefs tells whether in the stretch whose lower half is slab k nothing leans but reliefs, and the end face that they are in: the
// top one where they are in both.
func (s *Shape) OnlyReliefs(k int) (face string, only bool) {
	for i := range s.walls {
		w := &s.walls[i]
		if !w.slopes(s.Low(k), s.High(k)) {
			continue
		}
		x := s.features[w.feature].Relief
		if x == nil {
			return "", false
		}
		if face != "top" {
			face = x.On
		}
	}
	return face, face != ""
}

// ReliefExtent is how far a copy of a relief goes in the part.
type ReliefExtent struct {
	At        plane.Point // where it lies deepest, in part coordinates
	Low, High float64     // the least and the greatest height of its slope
	Floor     float64     // the least column that it leaves, mm
	Share     float64     // the most that reliefs take of a column as its faces are drawn
}

// withoutReliefs is how high the column of a cell would be without the reliefs in its ends, mm: where another slope ends it, the least.
func (s *Shape) withoutReliefs(c int) float64 {
	_, low := s.EndSpan(c, "bottom")
	high, _ := s.EndSpan(c, "top")
	if n, under := s.ReliefUnder(c, "bottom"); under {
		low = s.features[n].Extent.From
	}
	if n, under := s.ReliefUnder(c, "top"); under {
		high = s.features[n].Extent.To
	}
	return high - low
}

// ReliefExtent finds that of a copy; false where no material is under it.
func (s *Shape) ReliefExtent(relief, copy int) (x ReliefExtent, ok bool) {
	f := s.features[relief]
	side, each := f.Relief.On, f.Relief.Copies()
	x.Low, x.High, x.Floor = math.Inf(1), math.Inf(-1), math.Inf(1)
	deepest := math.Inf(-1)
	for _, places := range [][]float64{{0.5}, {0, 1}} { // along an edge before its ends
		for c := range s.cells {
			if n, under := s.ReliefUnder(c, side); !under || n != relief || s.walls[s.end(c, side).wall].copy/each != copy {
				continue
			}
			a, b := s.EndSpan(c, side)
			least := s.LeastColumn(c)
			x.Low, x.High, x.Floor = math.Min(x.Low, a), math.Max(x.High, b), math.Min(x.Floor, least)
			x.Share = math.Max(x.Share, 1-least/s.withoutReliefs(c))
			for _, e := range s.around(c) {
				for _, t := range places {
					p := e.At(t)
					deep, q := -Outward(side, s.heightOver(s.end(c, side), p), 0), s.ToPart(p)
					alike := t == 0.5 && deep > deepest-SameHeight
					after := q.X > x.At.X+plane.Near || q.X > x.At.X-plane.Near && q.Y > x.At.Y+plane.Near
					if deep > deepest+SameHeight || alike && after {
						deepest, x.At = math.Max(deep, deepest), q
					}
				}
			}
		}
	}
	return x, !math.IsInf(x.Low, 1)
}
