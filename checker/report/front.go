package report

import (
	"io"
	"path"
	"slices"
	"strconv"
	"strings"

	"corerod/checker"
)

// FileNames gives each part a file name of its own, without an ending: that of its part file, with a number where several
// have the same. Nothing of it comes from inside a file.
func FileNames(ps []*checker.PartReview) []string {
	var names []string
	for _, p := range ps {
		base := path.Base(strings.ReplaceAll(p.File, `\`, "/"))
		base = strings.Map(func(r rune) rune {
			if r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || strings.ContainsRune("-_", r) {
				return r
			}
			return '-'
		}, strings.TrimSuffix(base, path.Ext(base)))
		if base = strings.TrimLeft(base, "-"); base == "" || base == "index" {
			base = "part"
		}
		name := base
		for i := 2; slices.Contains(names, name); i++ {
			name = base + "-" + strconv.Itoa(i)
		}
		names = append(names, name)
	}
	return names
}

// Front writes the first page of several sheets: each part with its plan and its verdict, the worst first.
func Front(w io.Writer, r *checker.Review) error {
	h := &page{}
	h.open("Review of " + plural(len(r.Parts), "part"))
	h.add("<header>\n")
	h.element("h1", "", "Review of "+plural(len(r.Parts), "part"))
	t := &textWriter{apart: true, blocks: []block{{}}}
	t.tally(r)
	h.element("p", ` class="verdict"`, strings.Join(t.blocks[0].lines, " "))
	h.add("</header>\n<main>\n<ul class=\"parts\">\n")
	names := FileNames(r.Parts)
	order := make([]int, len(r.Parts))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int {
		a, b := r.Parts[i].Grade, r.Parts[j].Grade
		switch {
		case a == b:
			return 0
		case b == "" || a != "" && a.Worse(b):
			return -1
		}
		return 1
	})
	for _, i := range order {
		p := r.Parts[i]
		h.add("<li><a href=\"%s.html\">%s</a>\n", names[i], inert(p.Part.Name))
		h.thumbnail(p)
		h.element("p", "", verdict(p))
		h.element("p", ` class="faint"`, p.File)
		h.add("</li>\n")
	}
	h.add("</ul>\n")
	h.unread(r)
	if r.Against != nil {
		h.element("h2", "", "Since an earlier review")
		h.list(asLines(func(t *textWriter) { t.against(r) }))
	}
	h.add("</main>\n")
	h.cautions()
	return h.close(w)
}

// thumbnail draws a part's plan.
func (h *page) thumbnail(p *checker.PartReview) {
	s := &sheet{p: p, d: checker.DrawPlan(p)}
	lo, hi := bounds(s.d.Outline)
	v := &view{low: lo, high: hi, scale: min(58/(hi.X-lo.X), 38/(hi.Y-lo.Y)), left: 1}
	v.left, v.bottom = (60-v.width())/2, (40+v.height())/2
	s.outlines(v)
	h.add(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 60 40" role="img" aria-label="plan">`+"\n%s</svg>\n", s.b.String())
}

// unread lists what could not be reviewed.
func (h *page) unread(r *checker.Review) {
	lines := asLines(func(t *textWriter) { t.unread(r) })
	if len(lines) > 0 {
		h.element("h2", "", "Not reviewed")
		h.list(lines)
	}
}
