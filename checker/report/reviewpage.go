package report

import (
	"fmt"
	"strings"

	"corerod/checker"
	"corerod/checker/report/words"
	"corerod/parts/source"
)

// unread is what is wrong with one file of a part, a pack or a shop.
type unread struct {
	file     string
	problems []string
}

// unreadOf words the problems of a review's files, in their order: those of one file that follow each other stand together.
func unreadOf(r *checker.Review) (all []unread) {
	for _, u := range r.Unread {
		file := source.Plain(u.File)
		if len(all) == 0 || all[len(all)-1].file != file {
			all = append(all, unread{file: file})
		}
		at := ""
		if u.Line > 0 {
			at = fmt.Sprintf("line %d, column %d: ", u.Line, u.Column)
		}
		last := &all[len(all)-1]
		last.problems = append(last.problems, at+source.Plain(u.Message))
	}
	return all
}

// head leads to the problems of a file.
func (u *unread) head() string { return "Problems in " + u.file + ":" }

// faults words our own faults.
func faults(r *checker.Review) (lines []string) {
	for _, f := range r.Faults {
		lines = append(lines, "A fault of corerod itself; please report it with the part file: "+source.Plain(f))
	}
	return lines
}

// tally counts the parts by grade.
func tally(r *checker.Review) verdict {
	v := verdict{before: words.Plural(r.Reviewed(), "part") + " reviewed: "}
	for _, g := range ofGrades {
		if n := r.Graded[g]; n > 0 {
			v.counts = append(v.counts, count{n, words.Grade(g)})
		}
	}
	return v
}

// inForce tells what the parts were judged by.
func inForce(r *checker.Review) (lines []string) {
	if len(r.Only) > 0 {
		lines = append(lines, "Judged by these rules alone: "+strings.Join(r.Only, ", ")+".")
	}
	for i, f := range r.Forces {
		if len(r.Forces) > 1 {
			lines = append(lines, fmt.Sprintf("%s of %d, from grade %s on:", []string{"Rules", "Other rules"}[min(i, 1)],
				len(r.Forces), f.StatusAt))
		}
		lines = append(lines, words.Force(f.Book.Packs, f.Shop)...)
		if f.Concede != nil {
			lines = append(lines, fmt.Sprintf("Concessions: %s, %s, sha256 %.12s.", source.Plain(f.Concede.File),
				words.Plural(len(f.Concede.Records), "record"), f.Concede.SHA256))
		}
	}
	for _, f := range r.NotInForce {
		lines = append(lines, "Not in force: "+source.Plain(f)+".")
	}
	return lines
}
