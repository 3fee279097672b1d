package drawing

import (
	"math"
	"slices"

	"corerod/checker"
	"corerod/parts/plane"
	"corerod/parts/tooling"
)

// toolView is the tool along the first section, at one of its two positions. Heights are those of the part as pressed.
type toolView struct {
	*view
	strips []strip
	loops  []plane.Loop // of the part
	table  float64      // height of the die's upper face
	base   float64      // height at which the lower members are cut off
	head   float64      // and the upper ones
	raised float64      // by how much the upper ones stand higher at fill
	from   float64      // places between which the part lies
	to     float64
	fill   bool // loose powder in the die, upper punches above it
}

// Walls of the die that are shown beside the part, and what is shown of punches, as shares of the part's width.
const (
	dieShown   = 0.18
	punchShown = 0.18
)

// tools draws the tool at fill and pressed beside each other, at the largest scale that fits. Where fill is not known only
// the pressed part is shown.
func (s *sheet) tools(x, y, width, height float64) (scale float64) {
	sec := s.d.Sections[0]
	if s.p.Layout.WayUp.Over {
		sec = turnedOver(sec)
	}
	lo, hi := bounds(sec.Loops)
	wide := (hi.X - lo.X) * dieShown
	deep := (hi.X - lo.X) * punchShown
	entry := math.Max(0.15*(hi.Y-lo.Y), 1)
	table := hi.Y + entry
	most := s.p.Layout.Fill
	base := math.Min(lo.Y, table-most.Value) - deep
	strips := within(sec, lo.X, hi.X)
	raised := table + deep/2
	head := raised + deep + hi.Y - lowestTop(strips)
	positions := []bool{true, false}
	if !most.Known {
		positions = positions[1:]
	}
	var views []*toolView
	for _, fill := range positions {
		t := &toolView{strips: strips, loops: sec.Loops, table: table, base: base, raised: raised - lowestTop(strips),
			head: head, fill: fill, from: lo.X, to: hi.X,
			view: &view{low: plane.Point{X: lo.X - wide, Y: base}, high: plane.Point{X: hi.X + wide, Y: head}}}
		views = append(views, t)
	}
	n := float64(len(positions))
	for _, scale = range scales {
		views[0].scale = scale
		if n*views[0].width()+(n+1)*14 <= width && views[0].height()+16 <= height {
			break
		}
	}
	s.toolScale = scale
	for i, t := range views {
		t.scale = scale
		share := width / n
		t.left = x + float64(i)*share + (share-t.width())/2
		t.bottom = y + (height+t.height())/2 - 4
		s.low, s.high = t.bottom-t.height()-4, t.bottom+8
		s.tool(t, sec)
	}
	return scale
}

// turnedOver is a section of a part that lies in the die on its head: heights are counted downward.
func turnedOver(sec *checker.Section) *checker.Section {
	over := *sec
	over.Loops, over.Strips = nil, nil
	down := func(p plane.Point) plane.Point { return plane.Point{X: p.X, Y: -p.Y} }
	for _, l := range sec.Loops {
		var m plane.Loop
		for _, c := range l.Reversed() {
			m = append(m, plane.Curve{A: down(c.A), B: down(c.B), C: down(c.C), R: c.R, Sweep: -c.Sweep})
		}
		over.Loops = append(over.Loops, m)
	}
	for _, x := range sec.Strips {
		x.Low, x.High, x.Bottom, x.Top, x.Under, x.Over = -x.High, -x.Low, x.Top, x.Bottom, x.Over, x.Under
		over.Strips = append(over.Strips, x)
	}
	return &over
}

// lowestTop is the lowest height at which an upper punch ends.
func lowestTop(strips []strip) float64 {
	least := math.Inf(1)
	for _, x := range strips {
		if x.Upper != nil {
			least = math.Min(least, x.High)
		}
	}
	return least
}

// strip is a strip of the path with what a core rod forms of it: the walls of a through-hole, as the tapers have it. No punch
// is there.
type strip struct {
	tooling.Strip
	rodUnder, rodOver bool
}

// within are the strips of a section, but for those beside the part.
func within(sec *checker.Section, low, high float64) (in []strip) {
	most := math.Tan(tooling.MostWall*math.Pi/180) * coreRod // a wall at just that angle is the core rod's
	steep := func(x tooling.Strip, s span) bool { return math.Abs(s[1]-s[0])*most > x.To-x.From }
	for _, x := range sec.Strips {
		if x.To > low+edgeOfPart && x.From < high-edgeOfPart {
			in = append(in, strip{x, x.Under && steep(x, lowerFace(sec.Loops, x)), x.Over && steep(x, upperFace(sec.Loops, x))})
		}
	}
	onRod(in, sec.Loops)
	for i := range in {
		if in[i].rodOver {
			in[i].Upper = nil
		}
	}
	return split(in, sec.Loops)
}

// split parts strips where a face of the part in them has an edge: at rims and feet, which strips know nothing of.
func split(strips []strip, loops []plane.Loop) (all []strip) {
	var stops []float64
	for _, l := range loops {
		for i := range l {
			stops = append(stops, l[i].A.X)
			if l[i].IsArc() { // chords that cannot be told from it
				for k := 1; k < arcParts; k++ {
					stops = append(stops, l[i].At(float64(k)/arcParts).X)
				}
			}
		}
	}
	slices.Sort(stops)
	for _, x := range strips {
		from := x.From
		for _, at := range stops {
			if at > from+edgeOfPart && at < x.To-edgeOfPart {
				y := x
				y.From, y.To = from, at
				all, from = append(all, y), at
			}
		}
		x.From = from
		all = append(all, x)
	}
	return all
}

// arcParts is how many chords stand for an arc of the part.
const arcParts = 12

// onRod leaves to core rods the walls that go on from one: the others end on a shoulder, and are a punch's.
func onRod(strips []strip, loops []plane.Loop) {
	rod := func(i, side int) bool { // whether a rod stands beside a strip
		k := i + side
		if k < 0 || k >= len(strips) ||
			math.Abs(math.Max(strips[k].From, strips[i].From)-math.Min(strips[k].To, strips[i].To)) > plane.Near {
			return false
		}
		return strips[k].Inside || strips[k].rodUnder || strips[k].rodOver
	}
	side := func(s span) int { // where a height is the lower one
		if s[0] < s[1] {
			return -1
		}
		return 1
	}
	for again := true; again; {
		again = false
		for i := range strips {
			x := &strips[i]
			over := x.rodOver && rod(i, side(upperFace(loops, x.Strip)))
			under := x.rodUnder && rod(i, -side(lowerFace(loops, x.Strip)))
			again = again || over != x.rodOver || under != x.rodUnder
			x.rodOver, x.rodUnder = over, under
		}
	}
}

// fillings defines the hatchings of the members and of the part, and the dots of powder.
func (s *sheet) fillings(name string, scale float64) {
	for _, h := range []struct {
		of           string
		angle, apart float64
	}{{"die", 45, 3.2}, {"upper", -45, 2}, {"lower", -45, 2}, {"core", 45, 1.3}, {"part", 45, 0.9}} {
		s.hatch(name+h.of, scale, h.angle, h.apart)
	}
	d := 1.4 / scale
	s.add(`<pattern id="%s%spowder" width="%s" height="%s" patternUnits="userSpaceOnUse"><circle cx="%s" cy="%s" r="%s" `+
		`fill="currentColor"/></pattern>`+"\n",
		s.prefix, name, fine(d), fine(d), fine(d/2), fine(d/2), fine(0.22/scale))
}

// tool draws die, core rods, punches and powder or part.
func (s *sheet) tool(t *toolView, sec *checker.Section) {
	name := map[bool]string{true: "fill", false: "press"}[t.fill]
	s.fillings(name, t.scale)
	t.begin(&s.svg, "tool-"+name)
	s.die(t, name)
	s.runs(t, name+"core", "core-rod", func(x strip) (member any, low, high span) {
		switch {
		case x.Inside:
			return "core", level(t.base), level(t.table)
		case x.rodUnder:
			return "core", level(t.base), lowerFace(t.loops, x.Strip)
		case x.rodOver:
			return "core", upperFace(t.loops, x.Strip), level(t.table)
		}
		return nil, span{}, span{}
	})
	s.runs(t, name+"core", "core-rod", func(x strip) (member any, low, high span) {
		if !x.rodUnder || !x.rodOver { // else what lies over it is still to be drawn
			return nil, span{}, span{}
		}
		return "core", upperFace(t.loops, x.Strip), level(t.table)
	})
	s.runs(t, name+"lower", "lower-punch", func(x strip) (member any, low, high span) {
		if x.Lower == nil || x.Lower.Kind != tooling.LowerPunch || x.rodUnder {
			return nil, span{}, span{}
		}
		return x.Lower, level(t.base), t.floor(x)
	})
	s.runs(t, name+"upper", "upper-punch", func(x strip) (member any, low, high span) {
		if x.Upper == nil {
			return nil, span{}, span{}
		}
		return x.Upper, t.under(x), level(t.head)
	})
	if t.fill {
		s.runs(t, name+"powder", "powder", func(x strip) (member any, low, high span) {
			if x.Lower == nil {
				return nil, span{}, span{}
			}
			over := level(t.table)
			if x.rodOver {
				over = upperFace(t.loops, x.Strip)
			}
			return "powder", t.floor(x), over
		})
	} else {
		s.add(`<path class="part" fill="url(#%s%spart)" fill-rule="evenodd" d="%s"/>`+"\n", s.prefix, name, loopsData(sec.Loops))
	}
	s.add("</g>\n")
	title := map[bool]string{true: "at fill", false: "pressed"}[t.fill]
	if s.p.Layout.WayUp.Over {
		title += ", turned over"
	}
	s.text(t.left+t.width()/2, t.bottom+6, 3.5, "middle", title)
}

// runs draws one kind of member: strips side by side of one member as one outline. of says which member a strip is of, nil
// for none, and between which heights.
func (s *sheet) runs(t *toolView, fill, class string, of func(strip) (member any, low, high span)) {
	for i := 0; i < len(t.strips); {
		member, _, _ := of(t.strips[i])
		j := i + 1
		for member != nil && j < len(t.strips) {
			if m, _, _ := of(t.strips[j]); m != member || t.strips[j].From-t.strips[j-1].To > plane.Near {
				break
			}
			j++
		}
		if member != nil {
			above, below := "", ""
			for _, x := range t.strips[i:j] {
				_, low, high := of(x)
				above += "V" + fine(high[0]) + acrossTo(x.To, high[0], high[1])
				below = "V" + fine(low[1]) + acrossTo(x.From, low[1], low[0]) + below
			}
			_, low, _ := of(t.strips[i])
			s.add(`<path class="%s" fill="url(#%s%s)" d="M%s %s%s%sZ"/>`+"\n", class, s.prefix, fill, fine(t.strips[i].From),
				fine(low[0]), above, below)
		}
		i = j
	}
}

// acrossTo is path data from one height to a place at another.
func acrossTo(place, from, to float64) string {
	if from == to {
		return "H" + fine(place)
	}
	return "L" + fine(place) + " " + fine(to)
}

// die draws the die: beside the part, in what it leaves open in plan, and its shelves.
func (s *sheet) die(t *toolView, name string) {
	block := func(from, to float64) {
		s.add(`<path class="die" fill="url(#%s%sdie)" d="M%s %sH%sV%sH%sZ"/>`+"\n", s.prefix, name, fine(from), fine(t.base), fine(to),
			fine(t.table), fine(from))
	}
	block(t.low.X, t.from)
	block(t.to, t.high.X)
	s.runs(t, name+"die", "die", func(x strip) (member any, low, high span) {
		switch {
		case x.To <= t.from+plane.Near || x.From >= t.to-plane.Near:
			return nil, span{}, span{}
		case x.Lower != nil && x.Lower.Kind == tooling.Die:
			return x.Lower, level(t.base), t.floor(x)
		case x.Bottom == nil && x.Top == nil && !x.Inside && x.High == x.Low:
			return "die", level(t.base), level(t.table)
		}
		return nil, span{}, span{}
	})
}

// floor is the lower face of the space over a strip: pressed that of the part, at fill as far lower as it is filled deeper.
func (t *toolView) floor(x strip) span {
	low := lowerFace(t.loops, x.Strip)
	if !t.fill || !x.Fill.Known || x.rodUnder {
		return low
	}
	return low.raised(t.table - x.Fill.Value - x.Low)
}

// under is the face of the upper punch over a strip.
func (t *toolView) under(x strip) span {
	high := upperFace(t.loops, x.Strip)
	if t.fill {
		return high.raised(t.raised)
	}
	return high
}
