package report

import (
	"fmt"
	"slices"
	"strings"

	"corerod/checker"
	"corerod/checker/report/words"
	"corerod/parts/subject"
	"corerod/rules"
)

// verdict is the first line of the page, and what it counts.
func (p *reviewPage) verdict() string {
	r := p.r
	var all []string
	switch r.Reviewed() {
	case 0:
		all = append(all, "Nothing was reviewed")
	case 1:
		all = append(all, p.text(named(p.first))+": "+verdictOf(p.first).String())
	default:
		all = append(all, tally(r).String())
	}
	if n := unreadFiles(r); n > 0 {
		all = append(all, "problems in "+words.Plural(n, "file"))
	}
	if n := len(r.Faults); n > 0 {
		all = append(all, words.Plural(n, "fault")+" of corerod itself")
	}
	return fmt.Sprintf("### %s\n\nStatus %d: %s (`%s`).\n", strings.Join(all, "; "), r.Status, statusWords(r), gradesOf(r))
}

// statusWords say what the status of a review means.
func statusWords(r *checker.Review) string {
	if r.Status == checker.Found && r.Against != nil {
		return "findings that are new or worse at the grade that counts, or parts and features that rules no longer see"
	}
	return words.Statuses[r.Status]
}

// gradesOf are the grades from which findings count.
func gradesOf(r *checker.Review) string {
	var all []string
	for _, f := range r.Forces {
		if g := string(f.StatusAt); !slices.Contains(all, g) {
			all = append(all, g)
		}
	}
	return strings.Join(all, ", ")
}

// named is a part as its drawing names it.
func named(p *checker.PartReview) string {
	text := p.Part.Name
	if p.Part.Drawing != "" {
		text += ", drawing " + words.Short(p.Part.Drawing, mostName)
		if p.Part.Revision != "" {
			text += " revision " + words.Short(p.Part.Revision, mostName)
		}
	}
	return text
}

// unreadFiles counts the files, of parts and of packs, that have problems.
func unreadFiles(r *checker.Review) int {
	files := map[string]bool{}
	for _, u := range r.Unread {
		files[u.File] = true
	}
	return len(files)
}

// table has a row for each part that is not clear, and for one that was reviewed alone.
func (p *reviewPage) table() string {
	var b strings.Builder
	rows, clear := 0, p.r.Graded[""]
	parts := slices.DeleteFunc(slices.Clone(p.parts), func(x *checker.PartReview) bool { return x.Grade == "" }) // all it has is conceded
	if p.r.Reviewed() == 1 {
		parts, clear = []*checker.PartReview{p.first}, 0
	}
	for _, x := range parts {
		row := "| " + strings.Join(p.row(x), " | ") + " |\n"
		if rows == mostRows || b.Len()+len(row) > mostTable {
			break
		}
		rows++
		b.WriteString(row)
	}
	p.rows = p.r.Reviewed() - clear - rows
	if rows == 0 && p.rows == 0 {
		return ""
	}
	text := "\n| grade | part | file | stop | change | ask | height | across | mass, g | class | force, kN |\n" +
		strings.Repeat("|---", 11) +
		"|\n" + b.String()
	if p.rows > 0 {
		text += fmt.Sprintf("\nLeft out of the table: %s with findings.\n", words.Plural(p.rows, "more part"))
	}
	if clear > 0 {
		text += fmt.Sprintf("\n%s clear.\n", areOrIs(clear, "part"))
	}
	return text
}

func areOrIs(n int, what string) string {
	if n == 1 {
		return "1 " + what + " is"
	}
	return fmt.Sprintf("%d %ss are", n, what)
}

// row is a part's row of the table.
func (p *reviewPage) row(x *checker.PartReview) []string {
	s, u := x.Subject, x.Part.Unit
	known := func(v subject.Optional) string {
		if !v.Known {
			return ""
		}
		return words.Digits(v.Value)
	}
	cells := []string{words.Grade(x.Grade), markdown(words.Short(named(x), mostName)), markdown(words.Short(x.File, mostName))}
	for _, g := range []rules.Grade{rules.Stop, rules.Change, rules.Ask} {
		cells = append(cells, fmt.Sprint(graded(x, g)))
	}
	return append(cells, words.Value(s.Height, "mm", u), words.Value(s.Outside, "mm", u), known(s.Mass),
		words.Class(s.Class), known(s.Force))
}

// since tells what became of the parts since an earlier review.
func (p *reviewPage) since() string {
	if p.r.Against == nil {
		return ""
	}
	m := &markdownWriter{}
	for _, l := range sinceReview(p.r) {
		m.add("- " + m.text(l))
	}
	var records []renewedOf
	for _, x := range p.r.Parts {
		since := sinceOf(x)
		if len(since.renewed) > 0 {
			records = append(records, renewedOf{x.Part.Name, since.renewed})
		}
		for _, l := range since.lines() {
			m.add("- " + m.text(x.Part.Name+": "+l))
		}
	}
	return "\n" + m.page(mostSince) + p.renewed(records)
}

// renewedOf are the records of one part that a change needs.
type renewedOf struct {
	part    string
	records []renewed
}

// renewed writes records as lines set in, which are shown as they are.
func (p *reviewPage) renewed(all []renewedOf) string {
	var b strings.Builder
	for _, x := range all {
		for _, k := range x.records {
			text := fmt.Sprintf("\n%s, in place of line %d:\n\n", p.text(x.part), k.line)
			for _, l := range k.record {
				text += "    " + l + "\n"
			}
			if b.Len()+len(text) > mostSince {
				return "\n" + p.text(renewedHead) + "\n" + b.String() + "\nThe text has more of them.\n"
			}
			b.WriteString(text)
		}
	}
	if b.Len() == 0 {
		return ""
	}
	return "\n" + p.text(renewedHead) + "\n" + b.String()
}

// problems lists those of files and packs and our own faults, the concessions that are not used, and the folders that were
// passed over.
func (p *reviewPage) problems() string {
	m, passed := &markdownWriter{}, &markdownWriter{}
	for _, f := range faults(p.r) {
		m.add("- " + m.text(f))
	}
	for _, u := range p.r.Unread {
		at := ""
		if u.Line > 0 {
			at = fmt.Sprintf(", line %d, column %d", u.Line, u.Column)
		}
		m.add("- " + m.text(words.Short(u.File, mostName)) + at + ": " + m.text(u.Message))
	}
	for _, f := range p.r.PassedOver {
		passed.add("- " + passed.text(words.Short(f.File, mostName)+" "+f.Why+"."))
	}
	return m.under("Problems", mostProblems) + p.unused.under("Concessions", mostPassed) + passed.under("Passed over", mostPassed)
}
