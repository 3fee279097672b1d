package report

import (
	"fmt"
	"strings"

	"corerod/checker"
	"corerod/checker/report/drawing"
	"corerod/parts/subject"
)

// tool writes the layout of the tool: the picture, the charts, and what the layout says.
func (h *page) tool(p *checker.PartReview, draw *drawing.Pictures) {
	h.add("<h2 id=\"tool\">Tool</h2>\n<figure>\n")
	picture, scale := draw.Tool()
	h.add("%s", picture)
	h.add("<figcaption>Along A - A, scale %s where 1 mm of the picture is 1 mm.</figcaption>\n</figure>\n", scale)
	t := &toolingWriter{unit: p.Part.Unit, l: p.Layout, s: p.Subject}
	t.apart = true
	t.title(t.class())
	for _, c := range t.l.Cannot {
		t.line("No tool forms it as drawn: %s.", c)
	}
	t.members()
	t.choices()
	h.blocks(t.blocks)
	h.chart(draw.Heights(), fmt.Sprintf("Height of each column, %s: broken, loose powder at fill; filled, pressed.", p.Part.Unit))
	t.blocks = nil
	t.density()
	h.blocks(t.blocks)
	h.chart(draw.Densities(), "Green density along the height of each column, g/cm3.")
	t.blocks = nil
	t.ejection()
	t.sizes()
	t.press()
	t.assumed()
	h.blocks(t.blocks)
}

// chart puts a chart into the page with what it shows; nothing where there is none.
func (h *page) chart(picture, caption string) {
	if picture == "" {
		return
	}
	h.add("<figure>\n%s", picture)
	h.element("figcaption", "", caption)
	h.add("</figure>\n")
}

// blocks writes titled lines and tables. Their text is escaped for a terminal already, and here for the page.
func (h *page) blocks(all []block) {
	for _, b := range all {
		h.element("h3", "", b.title)
		if len(b.rows) > 0 {
			h.add("<div class=\"wide\" tabindex=\"0\">\n<table>\n")
			for i, row := range b.rows {
				cell := map[bool]string{true: "th", false: "td"}[i == 0]
				h.add("<tr>")
				for _, c := range row {
					h.add("<%s>%s</%s>", cell, drawing.Inert(c), cell)
				}
				h.add("</tr>\n")
			}
			h.add("</table>\n</div>\n")
		}
		if len(b.lines) > 0 {
			h.add("<ul>\n")
			for _, l := range b.lines {
				h.element("li", "", l)
			}
			h.add("</ul>\n")
		}
	}
}

// measures lists what rules see of the part, a subject a row.
func (h *page) measures(p *checker.PartReview) {
	h.add("<h2 id=\"measures\">Measures</h2>\n")
	h.element("p", "", "As rules see them: lengths in mm, angles in degrees, x, y and z in the frame of the part file.")
	for _, k := range subject.Kinds() {
		all := subject.Of(p.Subject, k)
		if len(all) == 0 {
			continue
		}
		h.add("<details>\n<summary>%s</summary>\n<table>\n", k.List+map[bool]string{true: "part"}[k == subject.PartKind])
		for _, x := range all {
			var says []string
			for i := range k.Fields {
				f := &k.Fields[i]
				if f.Type == subject.List || isPlace(f) {
					continue
				}
				if v := measured(f, x); v != "-" {
					says = append(says, strings.TrimSpace(f.Name+" "+v+" "+unitOf(f)))
				}
			}
			h.add("<tr><th>%s</th><td>%s; %s</td></tr>\n", drawing.Inert(x.Place().Name), drawing.Inert(strings.Join(says, "; ")), drawing.Inert(placed(x.Place())))
		}
		h.add("</table>\n</details>\n")
	}
}
