package report

import (
	"io"
	"path"
	"slices"
	"strconv"
	"strings"

	"corerod/checker"
	"corerod/checker/report/drawing"
	"corerod/checker/report/words"
)

// FileNames gives the parts of files names of files of their own, without an ending: that of the part file, with a number where
// several have the same, large and small letters alike as on some disks. Nothing of them comes from inside a file.
func FileNames(files []string) map[string]string {
	names, taken := map[string]string{}, map[string]bool{}
	for _, file := range files {
		base := path.Base(strings.ReplaceAll(file, `\`, "/"))
		base = strings.Map(func(r rune) rune {
			if r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || strings.ContainsRune("-_", r) {
				return r
			}
			return '-'
		}, strings.TrimSuffix(base, path.Ext(base)))
		base = strings.TrimLeft(base, "-")
		switch low := strings.ToLower(base); {
		case base == "" || low == "index":
			base = "part"
		case strings.HasPrefix(low, "index-"): // front pages of lots
			base = "part-" + base
		}
		name := base
		for i := 2; taken[strings.ToLower(name)]; i++ {
			name = base + "-" + strconv.Itoa(i)
		}
		names[file], taken[strings.ToLower(name)] = name, true
	}
	return names
}

// NewFront writes the first page of several sheets: each part with its plan and its verdict, the worst first. names are those of the
// sheets.
func NewFront(w io.Writer, names map[string]string) Stream { return &front{w: w, names: names} }

// front keeps the entries of parts until the end, by grade.
type front struct {
	w     io.Writer
	names map[string]string
	parts [4]htmlWriter
}

// Part implements Stream.
func (s *front) Part(p *checker.PartReview) {
	h := &s.parts[slices.Index(ofGrades, p.Grade)]
	h.add("<li><a href=\"%s.html\">%s</a>\n", s.names[p.File], drawing.Inert(p.Part.Name))
	h.add("%s", drawing.Plan(p))
	h.element("p", "", verdictOf(p).String())
	h.element("p", ` class="faint"`, p.File)
	h.add("</li>\n")
}

// End implements Stream.
func (s *front) End(r *checker.Review) error {
	h, title := &htmlWriter{}, "Review of "+words.Plural(r.Reviewed(), "part")
	h.open(title)
	h.add("<header>\n")
	h.element("h1", "", title)
	h.element("p", ` class="verdict"`, tally(r).String()+".")
	h.add("</header>\n<main>\n<ul class=\"parts\">\n")
	for i := range s.parts {
		h.add("%s", s.parts[i].b.String())
	}
	h.add("</ul>\n")
	h.unread(r)
	if r.Against != nil {
		h.element("h2", "", "Since an earlier review")
		h.list(sinceReview(r))
	}
	h.add("</main>\n")
	h.cautions()
	return h.close(s.w)
}

// unread lists what could not be reviewed.
func (h *htmlWriter) unread(r *checker.Review) {
	var lines []string
	for _, u := range unreadOf(r) {
		lines = append(append(lines, u.head()), u.problems...)
	}
	if lines = append(lines, faults(r)...); len(lines) > 0 {
		h.element("h2", "", "Not reviewed")
		h.list(lines)
	}
}
