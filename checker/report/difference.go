package report

import (
	"fmt"
	"strings"
)

// lineEdit is one line of a difference: kept (' '), taken out ('-') or put in ('+').
type lineEdit struct {
	mark byte
	text string
}

// difference lists how the lines of one text become those of another, with as few lines changed as can be (the greedy
// algorithm of Myers, 1986).
func difference(a, b []string) []lineEdit {
	furthest := map[int]int{1: 0}
	var trace []map[int]int
	for d := 0; ; d++ {
		at := map[int]int{}
		for k, x := range furthest {
			at[k] = x
		}
		trace = append(trace, at)
		for k := -d; k <= d; k += 2 {
			x := furthest[k-1] + 1
			if k == -d || k != d && furthest[k-1] < furthest[k+1] {
				x = furthest[k+1]
			}
			for x < len(a) && x-k < len(b) && a[x] == b[x-k] {
				x++
			}
			furthest[k] = x
			if x >= len(a) && x-k >= len(b) {
				return back(a, b, trace)
			}
		}
	}
}

// back follows the trace of a difference from its end.
func back(a, b []string, trace []map[int]int) []lineEdit {
	var all []lineEdit
	x, y := len(a), len(b)
	for d := len(trace) - 1; d >= 0; d-- {
		at, k := trace[d], x-y
		from := k - 1
		if k == -d || k != d && at[k-1] < at[k+1] {
			from = k + 1
		}
		px := at[from]
		py := px - from
		for x > px && y > py && x > 0 && y > 0 {
			x, y = x-1, y-1
			all = append(all, lineEdit{' ', a[x]})
		}
		switch {
		case d == 0:
		case x == px:
			y--
			all = append(all, lineEdit{'+', b[y]})
		default:
			x--
			all = append(all, lineEdit{'-', a[x]})
		}
	}
	for i, j := 0, len(all)-1; i < j; i, j = i+1, j-1 {
		all[i], all[j] = all[j], all[i]
	}
	return all
}

// around is the number of unchanged lines shown round a change.
const around = 3

// hunks writes a difference in groups of lines, each headed by where it stands in both texts.
func hunks(edits []lineEdit) (lines []string) {
	near := make([]bool, len(edits))
	for i, e := range edits {
		if e.mark != ' ' {
			for j := max(0, i-around); j <= min(len(edits)-1, i+around); j++ {
				near[j] = true
			}
		}
	}
	oldLine, newLine := 1, 1
	for i := 0; i < len(edits); i++ {
		if near[i] && (i == 0 || !near[i-1]) {
			lines = append(lines, hunkHead(edits, near, i, oldLine, newLine))
		}
		if near[i] {
			lines = append(lines, string(edits[i].mark)+edits[i].text)
		}
		if edits[i].mark != '+' {
			oldLine++
		}
		if edits[i].mark != '-' {
			newLine++
		}
	}
	return lines
}

func hunkHead(edits []lineEdit, near []bool, i, oldLine, newLine int) string {
	old, new := 0, 0
	for ; i < len(edits) && near[i]; i++ {
		if edits[i].mark != '+' {
			old++
		}
		if edits[i].mark != '-' {
			new++
		}
	}
	return fmt.Sprintf("@@ -%d,%d +%d,%d @@", oldLine, old, newLine, new)
}

// linesOf splits a text into lines without their ends.
func linesOf(b []byte) []string {
	text := strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(string(b))
	return strings.Split(strings.TrimSuffix(text, "\n"), "\n")
}
