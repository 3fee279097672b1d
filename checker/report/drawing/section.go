package drawing

import (
	"math"

	"corerod/checker"
	"corerod/parts/subject"
)

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
	both, over := s.p.Part.Pressing == "both", s.p.Layout.WayUp.Over
	if both || !over {
		s.line(mid, v.bottom-v.height()-8, mid, v.bottom-v.height()-1, "")
		s.arrow(mid, v.bottom-v.height()-1, -math.Pi/2)
	}
	if both || over {
		s.line(mid, v.bottom+8, mid, v.bottom+1, "")
		s.arrow(mid, v.bottom+1, math.Pi/2)
	}
}
