package drawing

import (
	"fmt"

	"corerod/checker"
)

// Size on paper of a picture in a page, mm.
const pictureWide, pictureHigh = 270.0, 150.0

// Pictures draws what a page shows of one reviewed part. Each picture is an svg element with its end of line.
type Pictures struct{ s *sheet }

// NewPictures lays out the drawing of a part for a page in which an element finding-N stands for each finding N: balloons lead
// there.
func NewPictures(p *checker.PartReview) *Pictures {
	s := newSheet(p, "")
	s.links = true
	return &Pictures{s}
}

// Views is the plan and the sections with their balloons, the scale at which they are drawn, and which findings have no balloon,
// "" where all have.
func (d *Pictures) Views() (picture, scale, undrawn string) {
	k := d.s.views(4, 4, pictureWide-8, pictureHigh-8)
	return d.s.picture("plan and sections, with a balloon for each finding", d.s.low, d.s.high), scaleName(k), d.s.undrawn()
}

// Tool is the tool at fill and pressed, and the scale at which it is drawn.
func (d *Pictures) Tool() (picture, scale string) {
	k := d.s.tools(4, 4, pictureWide-8, pictureHigh-26)
	low, high := d.s.low, d.s.high
	d.s.members(8, high+4)
	return d.s.picture("die, punches and core rods along section A", low, high+20), scaleName(k)
}

// picture is what a sheet has drawn between two heights, and empties it.
func (s *sheet) picture(label string, low, high float64) string {
	text := fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 %s %s %s" font-family="sans-serif" role="group" `+
		`aria-label="%s">`+"\n%s</svg>\n", mm(low), mm(pictureWide), mm(high-low), label, s.b.String())
	s.b.Reset()
	return text
}

// Plan is the view of a part from above as a small picture of 60 mm by 40 mm.
func Plan(p *checker.PartReview) string {
	s := &sheet{p: p, d: checker.DrawPlan(p)}
	lo, hi := bounds(s.d.Outline)
	v := &view{low: lo, high: hi, scale: min(58/(hi.X-lo.X), 38/(hi.Y-lo.Y)), left: 1}
	v.left, v.bottom = (60-v.width())/2, (40+v.height())/2
	s.outlines(v)
	return fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 60 40" role="img" aria-label="plan">`+"\n%s</svg>\n",
		s.b.String())
}
