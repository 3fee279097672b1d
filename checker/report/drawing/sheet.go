// Package drawing draws a reviewed part as SVG: the plan with sections, dimensions, balloons for findings and a title block, the tool at
// fill and pressed, and charts of its columns. Views are true to a scale of ISO 5455; lines are of ISO 128, letters of ISO 3098, the title
// block of ISO 7200. Paper is measured in mm.
package drawing

import (
	"io"
	"math"

	"corerod/checker"
	"corerod/checker/report/words"
)

// sheet is the drawing of one part on an A4 sheet.
type sheet struct {
	svg
	p      *checker.PartReview
	d      *checker.Drawing
	number map[*checker.Finding]int

	finished  bool // the part is drawn as finished
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

// Sheets writes the drawing of a reviewed part as SVG: a sheet with the plan and its sections, and one with the tool at fill
// and pressed.
func Sheets(w io.Writer, p *checker.PartReview) error {
	s := newSheet(p, "")
	s.open(2 * paperHeight)
	s.firstSheet()
	tool := s.tools(frame+4, paperHeight+frame+4, paperWidth-2*frame-8, paperHeight-2*frame-titleHeight-8)
	s.frame(paperHeight, tool, 2)
	s.add("</svg>\n")
	_, err := io.WriteString(w, s.b.String())
	return err
}

// Finished writes one sheet with the plan and sections of a part after machining, sizing and grinding, without findings.
func Finished(w io.Writer, p *checker.PartReview) error {
	q := *p
	q.Findings, q.Layout = nil, p.Layout.AsFinished()
	s := newSheet(&q, "")
	s.finished = true
	s.open(paperHeight)
	s.firstSheet()
	s.add("</svg>\n")
	_, err := io.WriteString(w, s.b.String())
	return err
}

// open begins the drawing on paper of a height, mm.
func (s *sheet) open(height float64) {
	s.add(`<svg xmlns="http://www.w3.org/2000/svg" width="%smm" height="%smm" viewBox="0 0 %s %s" font-family="sans-serif" color="black" `+
		`fill="currentColor">`+"\n",
		mm(paperWidth), mm(height), mm(paperWidth), mm(height))
	s.add("<title>%s</title>\n", Inert(s.p.Part.Name))
	s.add(`<rect width="%s" height="%s" fill="white"/>`+"\n", mm(paperWidth), mm(height))
}

// firstSheet draws the first sheet.
func (s *sheet) firstSheet() {
	s.frame(0, s.views(frame+4, frame+4, paperWidth-2*frame-8, paperHeight-2*frame-titleHeight-8), 1)
}

func newSheet(p *checker.PartReview, prefix string) *sheet {
	s := &sheet{svg: svg{prefix: prefix}, p: p, d: checker.Draw(p), number: map[*checker.Finding]int{}, linked: map[int]bool{}}
	for i, f := range words.ByGrade(p.Findings) {
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
		return right, tall, plan.width()+plan.beside+right+allRooms <= width &&
			math.Max(plan.height()+plan.above+roomTop+roomBottom, tall) <= height
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
