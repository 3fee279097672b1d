package report

import (
	"crypto/sha256"
	"encoding/base64"
	"fmt"
	"io"
	"slices"
	"strings"

	"corerod/checker"
	"corerod/checker/report/drawing"
	"corerod/checker/report/words"
)

// style of every page. Pages have no script and load nothing.
const style = `
:root{color-scheme:light dark;--ink:#111;--paper:#fff;--faint:#555;--rule:#bbb;--link:#004a99}
@media (prefers-color-scheme:dark){:root{--ink:#eee;--paper:#141414;--faint:#b5b5b5;--rule:#555;--link:#8ec5ff}}
*{box-sizing:border-box}
body{margin:0;background:var(--paper);color:var(--ink);font:16px/1.45 sans-serif;overflow-wrap:anywhere}
main,header,footer{max-width:60rem;margin:0 auto;padding:0 1rem}
h1{margin:1rem 0 0}h2{margin:2rem 0 .5rem;border-bottom:2px solid var(--ink)}h3{margin:1.2rem 0 .3rem}
a{color:var(--link)}a:focus,:target{outline:3px solid var(--link);outline-offset:2px}
svg{width:100%;height:auto;color:var(--ink);fill:currentColor}
figure{margin:1rem 0}figcaption,.faint{color:var(--faint)}
.verdict{font-size:1.4rem;font-weight:bold;margin:.3rem 0}
.grade{display:inline-block;padding:0 .5em;border:2px solid var(--ink);font-weight:bold}
.grade.stop{border:4px double var(--ink)}.grade.ask{border-style:dashed}
dl{display:grid;grid-template-columns:minmax(6rem,9rem) 1fr;gap:.15rem .8rem;margin:.4rem 0}
dt{color:var(--faint)}dd{margin:0}
table{border-collapse:collapse;width:100%;overflow-wrap:break-word}td,th{border-bottom:1px solid var(--rule);padding:.15rem .5rem .15rem 0;text-align:left;vertical-align:top}
.wide{overflow-x:auto}.parts{display:grid;grid-template-columns:repeat(auto-fill,minmax(15rem,1fr));gap:1rem;list-style:none;padding:0}
.parts li{border:1px solid var(--rule);padding:.6rem}.parts svg{height:9rem}
@media (max-width:34rem){dl{grid-template-columns:1fr}dd{margin-bottom:.4rem}}
@media print{:root{--ink:#000;--paper:#fff;--faint:#333;--rule:#888;--link:#000}body{font-size:10pt}article,figure,tr{break-inside:avoid}
.wide{overflow:visible}td,th{padding-right:.3rem;font-size:8pt}details>*{display:revert}a{text-decoration:none}}
@page{size:auto;margin:14mm}
`

// page is one HTML page being written.
type page struct{ b strings.Builder }

func (h *page) add(format string, args ...any) { fmt.Fprintf(&h.b, format, args...) }

// element writes text in an element; attributes are the page's own.
func (h *page) element(tag, attributes, text string) {
	h.add("<%s%s>%s</%s>\n", tag, attributes, drawing.Inert(text), tag)
}

// open begins a page; nothing but its own style is let in.
func (h *page) open(title string) {
	sum := sha256.Sum256([]byte(style))
	h.add("<!doctype html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n")
	h.add(`<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'sha256-%s'">`+"\n", base64.StdEncoding.EncodeToString(sum[:]))
	h.add(`<meta name="viewport" content="width=device-width, initial-scale=1">` + "\n")
	h.element("title", "", title)
	h.add("<style>%s</style>\n</head>\n<body>\n", style)
}

func (h *page) close(w io.Writer) error {
	h.add("</body>\n</html>\n")
	_, err := io.WriteString(w, h.b.String())
	return err
}

// Sheet writes the review of one part as a page: the verdict, the drawing with balloons that lead to the findings, each
// finding, the tool, the measures, and what the review stands on.
func Sheet(w io.Writer, r *checker.Review, p *checker.PartReview) error {
	h := &page{}
	h.open(p.Part.Name + ", review")
	h.head(p)
	h.add("<main>\n")
	draw := drawing.NewPictures(p)
	h.drawing(p, draw)
	h.findings(p)
	h.tool(p, draw)
	h.measures(p)
	h.concessions(p)
	h.since(r, p)
	h.standsOn(r, p)
	h.add("</main>\n")
	h.cautions()
	return h.close(w)
}

// head puts the verdict first.
func (h *page) head(p *checker.PartReview) {
	h.add("<header>\n")
	title := p.Part.Name
	if p.Part.Title != "" {
		title = p.Part.Title + " (" + p.Part.Name + ")"
	}
	h.element("h1", "", title)
	h.element("p", ` class="verdict"`, verdict(p))
	h.element("p", "", figures(p))
	h.element("p", ` class="faint"`, strings.Join(append(words.Drawing(p.Part), p.File), ", "))
	h.add("</header>\n")
}

func (h *page) drawing(p *checker.PartReview, draw *drawing.Pictures) {
	h.add("<h2 id=\"drawing\">Drawing</h2>\n<figure>\n")
	picture, scale, undrawn := draw.Views()
	h.add("%s", picture)
	h.add("<figcaption>Scale %s where 1 mm of the picture is 1 mm; lengths in %s. ", scale, p.Part.Unit)
	h.add("A balloon with two rings is a stop, with one a change, with a broken one an ask.")
	if undrawn != "" {
		h.add(" %s.", drawing.Inert(undrawn))
	}
	h.add("</figcaption>\n</figure>\n")
}

func (h *page) findings(p *checker.PartReview) {
	h.add("<h2 id=\"findings\">Findings</h2>\n")
	if len(p.Findings) == 0 {
		h.element("p", "", "None.")
	}
	all := words.ByGrade(p.Findings)
	numbers := map[string]int{}
	for i, f := range all {
		numbers[f.ID] = i + 1
	}
	for i, f := range all {
		h.finding(i+1, p, f, numbers)
	}
	h.list(asLines(func(t *textWriter) { t.searched(p) }))
}

func (h *page) finding(n int, p *checker.PartReview, f *checker.Finding, numbers map[string]int) {
	unit := p.Part.Unit
	h.add(`<article id="finding-%d" tabindex="-1">`+"\n", n)
	grade := string(f.Grade)
	if f.Since != "" {
		grade += ", " + string(f.Since)
	}
	if f.Conceded() {
		grade += ", conceded"
	}
	h.add(`<h3>%d <span class="grade %s">%s</span> %s</h3>`+"\n", n, f.Grade, grade, drawing.Inert(words.Rule(f.Rule.Name)+", "+f.Subject.Place().Name))
	h.element("p", "", words.Sentence(f.Says))
	h.add("<dl>\n")
	h.entry("Where", where(f, unit))
	if f.Subject.Kind().Name != "part" {
		h.add(`<dt>Drawn</dt><dd><a href="#balloon-%d">on the drawing</a></dd>`+"\n", n)
	}
	lines := words.Comparisons(f, unit, words.MostCompared)
	for i, l := range lines {
		if i == words.MostCompared {
			h.entry("", l)
		} else {
			h.entry("Measured", l)
		}
	}
	h.entry("Change", words.Sentence(f.Rule.Change))
	if noChange(p, f) {
		h.entry("Checked", words.Sentence(noChangeText))
	}
	for _, c := range f.Changes {
		h.entry("Checked", words.Change(c)+" "+words.Effect(c, numbers))
	}
	h.entry("In the die", f.Rule.Because)
	h.entry("Ground", words.Sources(f))
	if f.Concession != nil {
		h.entry("Concession", words.Sentence(words.Concession(f.Concession)))
	}
	h.add("</dl>\n</article>\n")
}

func (h *page) entry(name, says string) {
	if says != "" {
		h.add("<dt>%s</dt><dd>%s</dd>\n", drawing.Inert(name), drawing.Inert(says))
	}
}

// concessions lists the records for the part with what became of each.
func (h *page) concessions(p *checker.PartReview) {
	h.add("<h2 id=\"concessions\">Concessions</h2>\n")
	if len(p.Concessions) == 0 {
		h.element("p", "", "None.")
		return
	}
	h.add("<ul>\n")
	for _, k := range p.Concessions {
		h.element("li", "", fmt.Sprintf("%s, %s: %s.", words.Rule(k.Rule), k.Name, words.Concession(k)))
	}
	h.add("</ul>\n")
}

// since tells what became of the part since an earlier review, and what is gone.
func (h *page) since(r *checker.Review, p *checker.PartReview) {
	if r.Against == nil {
		return
	}
	h.element("h2", "", "Since an earlier review")
	h.list(asLines(func(t *textWriter) { t.against(r) }))
	h.list(asLines(func(t *textWriter) { t.since(p) }))
	h.list(asLines(func(t *textWriter) { t.renewed(p) }))
}

// list writes lines as a list; nothing where there are none.
func (h *page) list(lines []string) {
	lines = slices.DeleteFunc(lines, func(l string) bool { return l == "" })
	if len(lines) == 0 {
		return
	}
	h.add("<ul>\n")
	for _, l := range lines {
		h.element("li", "", l)
	}
	h.add("</ul>\n")
}

// standsOn tells what was in force, noted and assumed.
func (h *page) standsOn(r *checker.Review, p *checker.PartReview) {
	h.add("<h2>What it stands on</h2>\n<ul>\n")
	t := &textWriter{apart: true, blocks: []block{{}}}
	t.inForce(r)
	for _, l := range t.blocks[0].lines {
		h.element("li", "", l)
	}
	for _, n := range p.Notes {
		h.element("li", "", fmt.Sprintf("Line %d: %s.", n.At.Line, n.Says))
	}
	h.add("</ul>\n")
	if len(p.Narrowest) > 0 {
		h.element("h3", "", "Met most narrowly")
		h.add("<ul>\n")
		for _, m := range p.Narrowest {
			h.element("li", "", margin(m, p.Part.Unit))
		}
		h.add("</ul>\n")
	}
}

func (h *page) cautions() {
	h.add("<footer>\n<h2>Cautions</h2>\n<ul>\n")
	for _, c := range Cautions {
		h.element("li", "", c)
	}
	h.add("</ul>\n</footer>\n")
}
