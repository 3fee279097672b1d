package report

import (
	"fmt"
	"io"
	"strings"

	"corerod/checker"
	"corerod/checker/report/drawing"
	"corerod/checker/report/words"
)

// Sheet writes the review of one part as a page: the verdict, the drawing with balloons that lead to the findings, each
// finding, the tool, the measures, and what the review stands on.
func Sheet(w io.Writer, r *checker.Review, p *checker.PartReview) error {
	h, says := &htmlWriter{}, pageOfPart(p)
	h.open(p.Part.Name + ", review")
	h.head(says)
	h.add("<main>\n")
	draw := drawing.NewPictures(p)
	h.drawing(draw, p.Part.Unit)
	h.findings(says)
	h.tool(draw, toolOf(&checker.Derived{Part: p.Part, Subject: p.Subject, Layout: p.Layout}), p.Part.Unit)
	h.measures(measuresOf(p.Subject, nil))
	h.concessions(says)
	if r.Against != nil {
		h.element("h2", "", "Since an earlier review")
		h.list(sinceReview(r))
		h.since(&says.since)
	}
	h.standsOn(inForce(r), says)
	h.add("</main>\n")
	h.cautions()
	return h.close(w)
}

// head puts the verdict first.
func (h *htmlWriter) head(p *partPage) {
	h.add("<header>\n")
	title := p.name
	if p.title != "" {
		title = p.title + " (" + p.name + ")"
	}
	h.element("h1", "", title)
	h.element("p", ` class="verdict"`, p.verdict.String())
	h.element("p", "", p.figures)
	if p.wayUp != "" {
		h.element("p", "", p.wayUp+".")
	}
	h.element("p", ` class="faint"`, strings.Join(append(p.drawing, p.file), ", "))
	h.add("</header>\n")
}

func (h *htmlWriter) drawing(draw *drawing.Pictures, unit string) {
	h.add("<h2 id=\"drawing\">Drawing</h2>\n<figure>\n")
	picture, scale, undrawn := draw.Views()
	h.add("%s", picture)
	h.add("<figcaption>Scale %s where 1 mm of the picture is 1 mm; lengths in %s. ", scale, unit)
	h.add("A balloon with two rings is a stop, with one a change, with a broken one an ask.")
	if undrawn != "" {
		h.add(" %s.", drawing.Inert(undrawn))
	}
	h.add("</figcaption>\n</figure>\n")
}

func (h *htmlWriter) findings(p *partPage) {
	h.add("<h2 id=\"findings\">Findings</h2>\n")
	if len(p.findings) == 0 {
		h.element("p", "", "None.")
	}
	for i := range p.findings {
		h.finding(&p.findings[i])
	}
	if p.search != "" {
		h.list([]string{p.search})
	}
}

func (h *htmlWriter) finding(f *finding) {
	h.add(`<article id="finding-%d" tabindex="-1">`+"\n", f.number)
	h.add(`<h3>%d <span class="grade %s">%s</span> %s</h3>`+"\n", f.number, f.grade, f.grade+f.standing,
		drawing.Inert(f.rule+", "+f.subject))
	h.element("p", "", words.Sentence(f.says))
	h.add("<dl>\n")
	h.entry("Where", f.where)
	if !f.whole {
		h.add(`<dt>Drawn</dt><dd><a href="#balloon-%d">on the drawing</a></dd>`+"\n", f.number)
	}
	for i, l := range f.compared {
		h.entry(map[bool]string{true: "Measured"}[i < words.MostCompared], l)
	}
	for _, a := range f.also {
		h.entry("Also", words.Sentence(a))
	}
	h.entry("Change", words.Sentence(f.change))
	if f.none {
		h.entry("Checked", words.Sentence(noChange))
	}
	for _, c := range f.checked {
		h.entry("Checked", c)
	}
	h.entry("In the die", f.because)
	h.entry("Ground", f.sources)
	h.entry("Concession", words.Sentence(f.concession))
	h.add("</dl>\n</article>\n")
}

// tool writes the layout of the tool: the picture, the charts, and what the layout says.
func (h *htmlWriter) tool(draw *drawing.Pictures, p *toolPage, unit string) {
	h.add("<h2 id=\"tool\">Tool</h2>\n<figure>\n")
	picture, scale := draw.Tool()
	h.add("%s", picture)
	h.add("<figcaption>Along A - A, scale %s where 1 mm of the picture is 1 mm.</figcaption>\n</figure>\n", scale)
	h.sections(append([]section{{title: p.class, notes: append([]string{p.wayUp + "."}, p.cannot...)}}, p.members...))
	h.chart(draw.Heights(), fmt.Sprintf("Height of each column, %s: broken, loose powder at fill; filled, pressed.", unit))
	h.sections(p.density)
	h.chart(draw.Densities(), "Green density along the height of each column, g/cm3.")
	h.sections(p.making)
}

// measures lists what rules see of the part, a subject a row.
func (h *htmlWriter) measures(all []measuresOfKind) {
	h.add("<h2 id=\"measures\">Measures</h2>\n")
	h.element("p", "", "As rules see them: lengths in mm, angles in degrees, x, y and z in the frame of the part file.")
	for i := range all {
		k := &all[i]
		list := k.list
		if k.part {
			list = "part"
		}
		h.add("<details>\n<summary>%s</summary>\n<table>\n", list)
		for _, s := range k.subjects {
			var says []string
			for c, v := range s.values {
				if m := &k.columns[c]; v != absent {
					says = append(says, strings.TrimSpace(m.name+" "+v+" "+m.unit))
				}
			}
			h.add("<tr><th>%s</th><td>%s; %s</td></tr>\n", drawing.Inert(s.name), drawing.Inert(strings.Join(says, "; ")),
				drawing.Inert(s.place))
		}
		h.add("</table>\n</details>\n")
	}
}

// concessions lists the records for the part with what became of each.
func (h *htmlWriter) concessions(p *partPage) {
	h.add("<h2 id=\"concessions\">Concessions</h2>\n")
	if len(p.concessions) == 0 {
		h.element("p", "", "None.")
	}
	h.list(p.concessions)
}

// since tells what became of the part since an earlier review, and what is gone.
func (h *htmlWriter) since(s *sincePart) {
	h.list(s.lines())
	var lines []string
	for i, x := range s.renewed {
		if i == 0 {
			lines = append(lines, renewedHead)
		}
		lines = append(lines, fmt.Sprintf("in place of line %d:", x.line))
		for _, l := range x.record {
			lines = append(lines, strings.TrimSpace(l))
		}
	}
	h.list(lines)
}

// standsOn tells what was in force, noted and assumed.
func (h *htmlWriter) standsOn(inForce []string, p *partPage) {
	h.add("<h2>What it stands on</h2>\n<ul>\n")
	for _, l := range inForce {
		h.element("li", "", l)
	}
	for _, n := range p.notes {
		h.element("li", "", fmt.Sprintf("Line %d: %s.", n.line, n.says))
	}
	h.add("</ul>\n")
	if len(p.notJudged) > 0 {
		h.element("h3", "", "Not judged")
		h.list(p.notJudged)
	}
	if len(p.narrowest) > 0 {
		h.element("h3", "", "Met most narrowly")
		h.list(p.narrowest)
	}
}
