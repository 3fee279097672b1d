package drawing

import (
	"fmt"
	"strings"

	"corerod/checker/report/words"
	"corerod/rules"
)

// frame draws the border of a sheet, its title block with the fields of ISO 7200, the legend and the scale bar.
func (s *sheet) frame(top, scale float64, number int) {
	s.begin(thick)
	s.add(`<rect x="%s" y="%s" width="%s" height="%s"/>`+"\n", mm(frame), mm(top+frame), mm(paperWidth-2*frame), mm(paperHeight-2*frame))
	s.end()
	s.titleBlock(paperWidth-frame-130, top+paperHeight-frame-titleHeight, scale, number)
	x, y := frame+4, top+paperHeight-frame-titleHeight+4
	switch {
	case s.finished:
	case number == 1:
		s.legend(x, y)
	default:
		s.members(x, y)
	}
	s.bar(x, y+26, scale)
}

// field is one field of the title block: where it stands in it, its name and what it says.
type field struct {
	x, y, width float64
	name, says  string
}

const fieldHeight = titleHeight / 4

func (s *sheet) titleBlock(x, y, scale float64, number int) {
	p := s.p.Part
	material := p.Material.Name
	if p.Material.Density > 0 {
		if material != "" {
			material += ", "
		}
		material += words.Digits(p.Material.Density) + " g/cm3"
	}
	kind, sheets := "Review drawing", 2
	switch {
	case s.finished:
		kind, sheets = "Finished part", 1
	case number == 2:
		kind = "Tool layout"
	}
	fields := []field{
		{0, 0, 70, "Legal owner", ""}, {70, 0, 30, "Created by", ""}, {100, 0, 30, "Approved by", ""},
		{0, 1, 70, "Title", p.Title}, {70, 1, 60, "Supplementary title", p.Name},
		{0, 2, 45, "Document type", kind}, {45, 2, 55, "Identification number", p.Drawing}, {100, 2, 30, "Rev.", p.Revision},
		{0, 3, 45, "Material", material}, {45, 3, 25, "Scale", scaleName(scale)}, {70, 3, 20, "Lengths in", p.Unit},
		{90, 3, 25, "Date of issue", ""}, {115, 3, 15, "Sheet", fmt.Sprintf("%d/%d", number, sheets)},
	}
	s.begin(thin)
	for _, f := range fields {
		s.add(`<rect x="%s" y="%s" width="%s" height="%s"/>`+"\n", mm(x+f.x), mm(y+f.y*fieldHeight), mm(f.width), mm(fieldHeight))
	}
	s.end()
	for _, f := range fields {
		s.text(x+f.x+1, y+f.y*fieldHeight+2.6, 1.5, "start", f.name)
		s.text(x+f.x+1, y+f.y*fieldHeight+7, 2.5, "start", words.Short(f.says, int(f.width/1.9)))
	}
}

// legend tells the grades' rings apart.
func (s *sheet) legend(x, y float64) {
	says := []struct {
		grade rules.Grade
		text  string
	}{
		{rules.Stop, "stop: cannot be pressed, ejected or handled as drawn"},
		{rules.Change, "change: outside a limit"},
		{rules.Ask, "ask: possible with care, talk to the shop"},
	}
	for i, g := range says {
		at := y + 3 + float64(i)*7.5
		s.begin(thin)
		s.ring(g.grade, x+3, at)
		s.end()
		s.text(x+8, at+1.2, 2.5, "start", g.text)
	}
	s.text(x+75, y+11.7, 2.5, "start", s.undrawn())
}

// members names the kinds of members by their hatching.
func (s *sheet) members(x, y float64) {
	kinds := []struct{ fill, text string }{{"pressdie", "die"}, {"pressupper", "punches"}, {"presscore", "core rods"},
		{"presspart", "part"}, {"fillpowder", "loose powder"}}
	if !s.p.Layout.Fill.Known {
		kinds = kinds[:4]
	}
	scale := s.toolScale
	for i, k := range kinds {
		at, row := x+float64(i%3)*40, y+float64(i/3)*9
		s.add(`<rect transform="matrix(%s 0 0 -%s %s %s)" width="%s" height="%s" fill="url(#%s%s)" stroke="currentColor" `+
			`stroke-width="%s"/>`+"\n",
			fine(scale), fine(scale), mm(at), mm(row+5), fine(8/scale), fine(5/scale), s.prefix, k.fill, fine(thin/scale))
		s.text(at+10, row+3.6, 2.5, "start", k.text)
	}
}

// bar gives the scale as a bar of 10 mm of the part, or half an inch.
func (s *sheet) bar(x, y, scale float64) {
	long, name := 10.0, "10 mm"
	if s.p.Part.Unit == "in" {
		long, name = 12.7, "0.5 in"
	}
	for long*scale > 60 {
		long, name = long/10, map[string]string{"10 mm": "1 mm", "1 mm": "0.1 mm", "0.5 in": "0.05 in", "0.05 in": "0.005 in"}[name]
	}
	s.begin(thick)
	s.line(x, y, x+long*scale, y, "")
	s.line(x, y-1, x, y+1, "")
	s.line(x+long*scale, y-1, x+long*scale, y+1, "")
	s.end()
	s.text(x+long*scale+2, y+1, 2.5, "start", name)
}

// undrawn names the findings that have no balloon: those of the part as a whole, and those past the most.
func (s *sheet) undrawn() string {
	text := ""
	for _, f := range words.ByGrade(s.p.Findings) {
		if f.Subject.Kind().Name == "part" {
			text += fmt.Sprintf(" %d", s.number[f])
		}
	}
	if text != "" {
		text = "Of the whole part:" + text
	}
	if n := len(s.number); n > mostBalloons {
		text = strings.TrimPrefix(fmt.Sprintf("%s; %d to %d have no balloon", text, mostBalloons+1, n), "; ")
	}
	return text
}
