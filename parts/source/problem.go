// Package source turns the bytes of a YAML file into bounded nodes that know where they stand, and collects every
// problem of a file with its line and column. Each YAML file of corerod, part or pack, is read through it.
//
// What YAML allows and a reader could misread is refused with a reason, never guessed: repeated keys, anchors,
// aliases, merge keys, tags, several documents, control and bidirectional characters, line breaks that only some
// programs see, octal, hexadecimal and underscored numbers. Lines and columns count from 1, columns in code points.
package source

import (
	"cmp"
	"fmt"
	"slices"
)

// Problem is one fault of a file: where it stands, and what was wrong and what would be right.
// Line and Column are 0 where the whole file is meant.
type Problem struct {
	File    string
	Line    int
	Column  int
	Message string
}

// Problems are all faults found in one reading. As an error it states the first and how many more there are.
type Problems []Problem

func (p Problem) Error() string {
	if p.Line == 0 {
		return fmt.Sprintf("%s: %s", p.File, p.Message)
	}
	return fmt.Sprintf("%s, line %d, column %d: %s", p.File, p.Line, p.Column, p.Message)
}

func (ps Problems) Error() string {
	switch len(ps) {
	case 0:
		return "no problem"
	case 1:
		return ps[0].Error()
	}
	return fmt.Sprintf("%s (and %d more)", ps[0].Error(), len(ps)-1)
}

// MostProblems is the number of problems of one file that are listed; the rest are counted.
const MostProblems = 50

// Sorted returns the problems by file, line, column and message, without repetitions. Past MostProblems of one
// file the rest are replaced by one entry that counts them.
func (ps Problems) Sorted() Problems {
	all := slices.Clone(ps)
	slices.SortStableFunc(all, func(a, b Problem) int {
		return cmp.Or(cmp.Compare(a.File, b.File), cmp.Compare(a.Line, b.Line), cmp.Compare(a.Column, b.Column),
			cmp.Compare(a.Message, b.Message))
	})
	all = slices.Compact(all)
	var out Problems
	for len(all) > 0 {
		n := 1
		for n < len(all) && all[n].File == all[0].File {
			n++
		}
		if n > MostProblems {
			out = append(out, all[:MostProblems]...)
			out = append(out, Problem{File: all[0].File, Message: fmt.Sprintf("%d more problems are not listed", n-MostProblems)})
		} else {
			out = append(out, all[:n]...)
		}
		all = all[n:]
	}
	return out
}
