package report

import (
	"fmt"
	"io"
	"math"
	"slices"

	"corerod/checker"
	"corerod/parts/plane"
	"corerod/parts/subject"
)

// Line widths on paper, mm, and the types of lines, ISO 128.
const (
	thick = 0.5
	thin  = 0.25
)

const (
	hiddenLine = ` stroke-dasharray="3 1.5"`
	centreLine = ` stroke-dasharray="8 1.5 1 1.5"`
)

// scales of drawings, ISO 5455, the largest first.
var scales = []float64{50, 20, 10, 5, 2, 1, 0.5, 0.2, 0.1, 0.05}

// scaleName writes a scale as drawings do.
func scaleName(k float64) string {
	if k >= 1 {
		return mm(k) + ":1"
	}
	return "1:" + mm(math.Round(1/k))
}

// view is one view on paper: a point (x, y) of what is drawn stands at left + scale (x - low.X), bottom - scale (y - low.Y).
type view struct {
	low, high    plane.Point // of what is drawn
	scale        float64
	left, bottom float64

	above, beside float64 // what further rows of balloons take
}

func (v *view) x(x float64) float64 { return v.left + v.scale*(x-v.low.X) }
func (v *view) y(y float64) float64 { return v.bottom - v.scale*(y-v.low.Y) }
func (v *view) width() float64      { return v.scale * (v.high.X - v.low.X) }
func (v *view) height() float64     { return v.scale * (v.high.Y - v.low.Y) }

// begin opens the group in which a view draws in its own coordinates.
func (v *view) begin(c *svg, class string) {
	c.add(`<g class="%s" transform="matrix(%s 0 0 -%s %s %s)" fill="none" stroke="currentColor" stroke-width="%s">`+"\n",
		class, fine(v.scale), fine(v.scale), fine(v.left-v.scale*v.low.X), fine(v.bottom+v.scale*v.low.Y), fine(thick/v.scale))
}

// sheet is the drawing of one part on an A4 sheet.
type sheet struct {
	svg
	p      *checker.PartReview
	d      *checker.Drawing
	number map[*checker.Finding]int

	toolScale float64
	low, high float64      // on paper, what the last views take
	links     bool         // balloons lead to the findings of a page
	linked    map[int]bool // that have a balloon to come back to
}

// Paper of a sheet, mm: A4 across, and its frame.
const (
	paperWidth, paperHeight = 297.0, 210.0
	frame                   = 10.0
	titleHeight             = 34.0
)

// Drawing writes the drawing of a reviewed part as SVG: a sheet with the plan and its sections, and one with the tool at fill
// and pressed.
func Drawing(w io.Writer, p *checker.PartReview) error {
	s := newSheet(p, "")
	s.add(`<svg xmlns="http://www.w3.org/2000/svg" width="%smm" height="%smm" viewBox="0 0 %s %s" font-family="sans-serif" color="black" fill="currentColor">`+"\n",
		mm(paperWidth), mm(2*paperHeight), mm(paperWidth), mm(2*paperHeight))
	s.add("<title>%s</title>\n", inert(p.Part.Name))
	s.add(`<rect width="%s" height="%s" fill="white"/>`+"\n", mm(paperWidth), mm(2*paperHeight))
	scale := s.views(frame+4, frame+4, paperWidth-2*frame-8, paperHeight-2*frame-titleHeight-8)
	s.frame(0, scale, 1)
	tool := s.tools(frame+4, paperHeight+frame+4, paperWidth-2*frame-8, paperHeight-2*frame-titleHeight-8)
	s.frame(paperHeight, tool, 2)
	s.add("</svg>\n")
	_, err := io.WriteString(w, s.b.String())
	return err
}

func newSheet(p *checker.PartReview, prefix string) *sheet {
	s := &sheet{svg: svg{prefix: prefix}, p: p, d: checker.Draw(p), number: map[*checker.Finding]int{}, linked: map[int]bool{}}
	for i, f := range byGrade(p.Findings) {
		s.number[f] = i + 1
	}
	return s
}

// room on paper round a view, mm: for dimensions and balloons.
const (
	planLeft, planRight = 18.0, 18.0
	sectionLeft         = 12.0
	sectionRight        = 16.0
	roomTop, roomBottom = 16.0, 14.0
	betweenRooms        = planRight + sectionLeft
	allRooms            = planLeft + betweenRooms + sectionRight
)

// views draws the plan on the left and the sections on the right into a rectangle, at the largest scale that fits.
func (s *sheet) views(x, y, width, height float64) (scale float64) {
	lo, hi := bounds(s.d.Outline)
	plan := &view{low: lo, high: hi}
	var sections []*view
	for _, sec := range s.d.Sections {
		lo, hi := bounds(sec.Loops)
		sections = append(sections, &view{low: lo, high: hi})
	}
	fits := func(balloons bool) (right, tall float64, ok bool) {
		for _, v := range append([]*view{plan}, sections...) {
			v.scale, v.above, v.beside = scale, 0, 0
		}
		if balloons {
			plan.makeRoom(s.planMarks(plan), true)
			for i, v := range sections {
				v.makeRoom(s.sectionMarks(v, s.d.Sections[i]), false)
			}
		}
		for _, v := range sections {
			right, tall = math.Max(right, v.width()), tall+v.height()+v.above+roomTop+roomBottom
		}
		return right, tall, plan.width()+plan.beside+right+allRooms <= width && math.Max(plan.height()+plan.above+roomTop+roomBottom, tall) <= height
	}
	var right, tall float64
	ok := false
	for _, balloons := range []bool{true, false} { // where there is no scale at which all rows of balloons fit, they stand over the edge
		for _, scale = range scales {
			if right, tall, ok = fits(balloons); ok {
				break
			}
		}
		if ok {
			break
		}
	}
	spare := (width - plan.width() - plan.beside - right - allRooms) / 3
	plan.left, plan.bottom = x+planLeft+spare, y+(height+plan.height()+plan.above+roomTop-roomBottom)/2
	s.low, s.high = plan.bottom-plan.height()-plan.above-roomTop, plan.bottom+roomBottom+2
	s.plan(plan)
	at := y
	gap := (height - tall) / float64(len(sections))
	for i, v := range sections {
		v.left = plan.left + plan.width() + plan.beside + spare + betweenRooms
		v.bottom = at + gap/2 + v.above + roomTop + v.height()
		at += gap + v.above + roomTop + v.height() + roomBottom
		s.section(v, s.d.Sections[i])
		s.low, s.high = math.Min(s.low, v.bottom-v.height()-v.above-roomTop), math.Max(s.high, v.bottom+roomBottom)
	}
	return scale
}

// bounds of loops.
func bounds(loops []plane.Loop) (lo, hi plane.Point) {
	lo, hi = plane.Point{X: math.Inf(1), Y: math.Inf(1)}, plane.Point{X: math.Inf(-1), Y: math.Inf(-1)}
	for _, l := range loops {
		a, b := l.Bounds()
		lo = plane.Point{X: math.Min(lo.X, a.X), Y: math.Min(lo.Y, a.Y)}
		hi = plane.Point{X: math.Max(hi.X, b.X), Y: math.Max(hi.Y, b.Y)}
	}
	if len(loops) == 0 {
		return plane.Point{}, plane.Point{X: 1, Y: 1}
	}
	return lo, hi
}

// outlines draws the edges of the view from above.
func (s *sheet) outlines(v *view) {
	v.begin(&s.svg, "plan")
	s.add(`<path class="outline" d="%s"/>`+"\n", loopsData(s.d.Outline))
	var seen, hidden []plane.Curve
	for _, l := range s.d.Lines {
		if l.Hidden {
			hidden = append(hidden, l.Curve)
		} else {
			seen = append(seen, l.Curve)
		}
	}
	if len(seen) > 0 {
		s.add(`<path class="seen" d="%s"/>`+"\n", curvesData(chained(seen), false))
	}
	if len(hidden) > 0 {
		s.add(`<path class="hidden" stroke-width="%s" stroke-dasharray="%s %s" d="%s"/>`+"\n", fine(thin/v.scale), fine(3/v.scale), fine(1.5/v.scale), curvesData(chained(hidden), false))
	}
	s.add("</g>\n")
}

// planMarks are the places of the findings in the view from above, sectionMarks those in a section.
func (s *sheet) planMarks(v *view) (marks []mark) {
	for f, n := range s.number {
		if f.Subject.Kind() != subject.PartKind && n <= mostBalloons {
			marks = append(marks, mark{n, f, v.x(f.PlaceOf().X), v.y(f.PlaceOf().Y)})
		}
	}
	return marks
}

func (s *sheet) sectionMarks(v *view, sec *checker.Section) (marks []mark) {
	for f, at := range sec.Through {
		c := f.Subject.Place()
		beside := at < v.low.X-besideView || at > v.high.X+besideView // the path meets nothing there
		if z := (c.ZLow + c.ZHigh) / 2; !beside && f.Subject.Kind() != subject.PartKind && s.number[f] <= mostBalloons {
			marks = append(marks, mark{s.number[f], f, v.x(at), v.y(math.Min(math.Max(z, v.low.Y), v.high.Y))})
		}
	}
	return marks
}

// plan draws the view from above.
func (s *sheet) plan(v *view) {
	balloons := v.stand(s.planMarks(v), true)
	s.outlines(v)
	s.begin(thin)
	for _, a := range s.d.Axes { // of what is cut, which may reach past the part, or stand beside it
		x, y, r := v.x(a.At.X), v.y(a.At.Y), a.R*v.scale+2
		if a.At.X < v.low.X || a.At.X > v.high.X || a.At.Y < v.low.Y || a.At.Y > v.high.Y {
			continue
		}
		s.line(math.Max(x-r, v.left-2), y, math.Min(x+r, v.left+v.width()+2), y, centreLine)
		s.line(x, math.Max(y-r, v.bottom-v.height()-2), x, math.Min(y+r, v.bottom+2), centreLine)
	}
	var taken []takenBy
	for _, b := range balloons {
		taken = append(taken, takenBy{b.at, balloon + 2})
	}
	for _, sec := range s.d.Sections {
		taken = s.cuttingPlane(v, sec, taken)
	}
	s.across(v, v.high.X-v.low.X, s.p.Part.Unit)
	s.upright(v, 13, v.high.Y-v.low.Y, s.p.Part.Unit)
	s.chords(v)
	s.end()
	s.text(v.left+v.width()/2, v.bottom+roomBottom+1, 2.5, "middle", "plan, from above")
	s.balloons(balloons)
}

// begin opens a group of thin lines on paper; end closes it.
func (s *sheet) begin(width float64) {
	s.add(`<g fill="none" stroke="currentColor" stroke-width="%s">`+"\n", mm(width))
}

func (s *sheet) end() { s.add("</g>\n") }

// section draws the part cut along a path.
func (s *sheet) section(v *view, sec *checker.Section) {
	hatch := "hatch" + sec.Letter
	s.hatch(hatch, v.scale, 45, 2)
	v.begin(&s.svg, "section")
	s.add(`<path class="cut" fill="url(#%s%s)" fill-rule="evenodd" d="%s"/>`+"\n", s.prefix, hatch, loopsData(sec.Loops))
	s.add("</g>\n")
	s.begin(thin)
	for _, at := range sec.Axes {
		if at < v.low.X || at > v.high.X { // the path meets nothing there
			continue
		}
		s.line(v.x(at), v.y(v.low.Y)+3, v.x(at), v.y(v.high.Y)-3, centreLine)
	}
	s.upright(v, 7, v.high.Y-v.low.Y, s.p.Part.Unit)
	s.pressing(v)
	s.end()
	s.text(v.left+v.width()/2, v.bottom+roomBottom-4, 3.5, "middle", sec.Letter+" - "+sec.Letter)
	s.balloons(v.stand(s.sectionMarks(v, sec), false))
}

// pressing shows the pressing axis and the ends from which the powder is pressed.
func (s *sheet) pressing(v *view) {
	x := v.left + v.width() + 5
	s.line(x, v.bottom, x, v.bottom-9, "")
	s.arrow(x, v.bottom-9, math.Pi/2)
	s.label(x+1.5, v.bottom-6.5, "start", "z")
	mid := v.left + v.width() + 12
	s.line(mid, v.bottom-v.height()-8, mid, v.bottom-v.height()-1, "")
	s.arrow(mid, v.bottom-v.height()-1, -math.Pi/2)
	if s.p.Part.Pressing == "both" {
		s.line(mid, v.bottom+8, mid, v.bottom+1, "")
		s.arrow(mid, v.bottom+1, math.Pi/2)
	}
}

// label writes a figure among lines, clear of them.
func (s *sheet) label(x, y float64, anchor, text string) {
	s.add(`<g fill="currentColor" stroke="none">`)
	s.text(x, y, 2.5, anchor, text)
	s.add("</g>\n")
}

// across draws the width of a view as a dimension below it; upright its height on its left, some mm off.
func (s *sheet) across(v *view, size float64, unit string) {
	y := v.bottom + 7
	for _, x := range []float64{v.left, v.left + v.width()} {
		s.line(x, v.bottom+1, x, y+1.5, "")
	}
	s.line(v.left, y, v.left+v.width(), y, "")
	s.arrow(v.left, y, 0)
	s.arrow(v.left+v.width(), y, math.Pi)
	s.label(v.left+v.width()/2, y-1, "middle", coordinate(size, unit))
}

func (s *sheet) upright(v *view, off, size float64, unit string) {
	x := v.left - off
	for _, y := range []float64{v.bottom, v.bottom - v.height()} {
		s.line(v.left-1, y, x-1.5, y, "")
	}
	s.line(x, v.bottom, x, v.bottom-v.height(), "")
	s.arrow(x, v.bottom, -math.Pi/2)
	s.arrow(x, v.bottom-v.height(), math.Pi/2)
	s.add(`<g fill="currentColor" stroke="none" transform="translate(%s %s) rotate(-90)">`, mm(x-1), mm(v.bottom-v.height()/2))
	s.text(0, 0, 2.5, "middle", coordinate(size, unit))
	s.add("</g>\n")
}

// chords draws the walls and gaps that findings are of as dimensions, each once, arrows from outside where there is no room
// between.
func (s *sheet) chords(v *view) {
	var drawn []plane.Curve
	for _, f := range byGrade(s.p.Findings) {
		c, ok := s.d.Chords[f]
		same := func(x plane.Curve) bool {
			return x.A.Distance(c.A)+x.B.Distance(c.B) < sameChord || x.A.Distance(c.B)+x.B.Distance(c.A) < sameChord
		}
		if !ok || slices.ContainsFunc(drawn, same) {
			continue
		}
		drawn = append(drawn, c)
		x1, y1, x2, y2 := v.x(c.A.X), v.y(c.A.Y), v.x(c.B.X), v.y(c.B.Y)
		a := math.Atan2(y2-y1, x2-x1)
		s.add(`<g class="chord">`)
		s.line(x1-6*math.Cos(a), y1-6*math.Sin(a), x2+6*math.Cos(a), y2+6*math.Sin(a), "")
		s.arrow(x1, y1, a+math.Pi)
		s.arrow(x2, y2, a)
		if a > math.Pi/2 || a <= -math.Pi/2 {
			x2, y2, a = x1, y1, a+math.Pi
		}
		s.label(x2+4*math.Cos(a)+2*math.Sin(a), y2+4*math.Sin(a)-2*math.Cos(a)+1, "start", coordinate(c.Length(), s.p.Part.Unit))
		s.add("</g>\n")
	}
}

// takenBy is where something stands on paper, and how far from it the middle of a letter is clear of it, mm.
type takenBy struct {
	at    plane.Point
	clear float64
}

// cuttingPlane draws the path of a section in the plan: a chain line, thick at its ends and corners, with arrows the way one
// looks, and its letter clear of what stands there, which is returned with its own.
func (s *sheet) cuttingPlane(v *view, sec *checker.Section, taken []takenBy) []takenBy {
	var points []plane.Point
	lo, hi := bounds(sec.Loops)
	for i := range sec.Path {
		l := &sec.Path[i]
		from, to := math.Max(l.From, lo.X-5/v.scale), math.Min(l.To, hi.X+5/v.scale)
		if from < to {
			points = append(points, l.Point(from), l.Point(to))
		}
	}
	points = slices.CompactFunc(points, func(a, b plane.Point) bool { return a.Distance(b) < samePoint })
	d := ""
	for i, p := range points {
		d += fmt.Sprintf("%s%s %s", map[bool]string{true: "M", false: "L"}[i == 0], mm(v.x(p.X)), mm(v.y(p.Y)))
	}
	s.add(`<path d="%s"%s/>`+"\n", d, centreLine)
	last := len(points) - 1
	for i, p := range points {
		beside := points[max(0, i-1)]
		if i == 0 {
			beside = points[1]
		}
		u := math.Atan2(v.y(beside.Y)-v.y(p.Y), v.x(beside.X)-v.x(p.X))
		x, y := v.x(p.X), v.y(p.Y)
		s.line(x, y, x+4*math.Cos(u), y+4*math.Sin(u), fmt.Sprintf(` stroke-width="%s"`, mm(thick)))
		if i != 0 && i != last {
			continue
		}
		from := u + math.Pi/2 // where one stands: on the right of the way, y downward
		if i == last {
			from = u - math.Pi/2
		}
		s.line(x+6*math.Cos(from), y+6*math.Sin(from), x, y, "")
		s.arrow(x, y, from)
		at := plane.Point{X: x + 8.5*math.Cos(from), Y: y + 8.5*math.Sin(from)}
		for slices.ContainsFunc(taken, func(o takenBy) bool { return o.at.Distance(at) < o.clear }) {
			at.X, at.Y = at.X+math.Cos(from), at.Y+math.Sin(from)
		}
		taken = append(taken, takenBy{at, 3})
		s.label(at.X, at.Y+1.3, "middle", sec.Letter)
	}
	return taken
}
