package report

import (
	"crypto/sha256"
	"encoding/base64"
	"fmt"
	"io"
	"slices"
	"strings"

	"corerod/checker/report/drawing"
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

// htmlWriter writes one HTML page.
type htmlWriter struct{ b strings.Builder }

func (h *htmlWriter) add(format string, args ...any) { fmt.Fprintf(&h.b, format, args...) }

// element writes text in an element; attributes are the page's own.
func (h *htmlWriter) element(tag, attributes, text string) {
	h.add("<%s%s>%s</%s>\n", tag, attributes, drawing.Inert(text), tag)
}

// open begins a page; nothing but its own style is let in.
func (h *htmlWriter) open(title string) {
	sum := sha256.Sum256([]byte(style))
	h.add("<!doctype html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n")
	h.add(`<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'sha256-%s'">`+"\n", base64.StdEncoding.EncodeToString(sum[:]))
	h.add(`<meta name="viewport" content="width=device-width, initial-scale=1">` + "\n")
	h.element("title", "", title)
	h.add("<style>%s</style>\n</head>\n<body>\n", style)
}

func (h *htmlWriter) close(w io.Writer) error {
	h.add("</body>\n</html>\n")
	_, err := io.WriteString(w, h.b.String())
	return err
}

// list writes lines as a list; nothing where there are none.
func (h *htmlWriter) list(lines []string) {
	if len(lines) == 0 {
		return
	}
	h.add("<ul>\n")
	for _, l := range lines {
		h.element("li", "", l)
	}
	h.add("</ul>\n")
}

// entry is one row of a list of names and what stands under them; nothing where that is empty.
func (h *htmlWriter) entry(name, says string) {
	if says != "" {
		h.add("<dt>%s</dt><dd>%s</dd>\n", drawing.Inert(name), drawing.Inert(says))
	}
}

// sections writes titled tables and lines: the table first, whatever leads to it.
func (h *htmlWriter) sections(all []section) {
	for i := range all {
		s := &all[i]
		h.element("h3", "", s.title)
		h.table(s.table)
		h.list(slices.Concat(s.lead, heads(s.entries), s.notes))
	}
}

// table writes rows, the first as heads of the columns; nothing where there are none.
func (h *htmlWriter) table(rows [][]string) {
	if len(rows) == 0 {
		return
	}
	h.add("<div class=\"wide\" tabindex=\"0\">\n<table>\n")
	for i, row := range rows {
		cell := map[bool]string{true: "th", false: "td"}[i == 0]
		h.add("<tr>")
		for _, c := range row {
			h.add("<%s>%s</%s>", cell, drawing.Inert(c), cell)
		}
		h.add("</tr>\n")
	}
	h.add("</table>\n</div>\n")
}

// chart puts a chart into the page with what it shows; nothing where there is none.
func (h *htmlWriter) chart(picture, caption string) {
	if picture == "" {
		return
	}
	h.add("<figure>\n%s", picture)
	h.element("figcaption", "", caption)
	h.add("</figure>\n")
}

// cautions close a page.
func (h *htmlWriter) cautions() {
	h.add("<footer>\n<h2>Cautions</h2>\n<ul>\n")
	for _, c := range Cautions {
		h.element("li", "", c)
	}
	h.add("</ul>\n</footer>\n")
}
