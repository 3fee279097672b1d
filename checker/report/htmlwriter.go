package report

import (
	"crypto/sha256"
	_ "embed"
	"encoding/base64"
	"fmt"
	"io"
	"slices"
	"strings"

	"corerod/checker/report/drawing"
)

// style of every page. Pages have no script and load nothing.
//
//go:embed style.css
var style string

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
	h.add(`<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'sha256-%s'">`+"\n",
		base64.StdEncoding.EncodeToString(sum[:]))
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
