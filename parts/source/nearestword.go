package source

import (
	"fmt"
	"slices"
	"strings"
)

// nearestKey is the key that an unknown one of a map most likely stands for: one that the map does not have yet, also where
// the unknown one has a word more, as y_unit for unit.
func nearestKey(word string, known []string, n *Node) string {
	free := slices.DeleteFunc(slices.Clone(known), func(k string) bool { return n.At(k) != nil })
	if near := Nearest(word, free); near != "" {
		return near
	}
	for _, k := range free {
		if low := strings.ToLower(word); strings.HasSuffix(low, "_"+k) || strings.HasPrefix(low, k+"_") {
			return k
		}
	}
	return Nearest(word, known)
}

// nearestUnit returns the nearest word; powers written small count as digits.
func nearestUnit(word string, words []string) string {
	plain := strings.NewReplacer("²", "2", "³", "3", "°", "deg").Replace(word)
	if slices.Contains(words, plain) {
		return plain
	}
	return Nearest(word, words)
}

// Nearest returns the candidate most like the word, or "" where none is near enough to be what was meant.
func Nearest(word string, candidates []string) string {
	best, least := "", 0
	for _, c := range candidates {
		d := distance(strings.ToLower(word), c)
		if d <= max(1, len(c)/3) && (best == "" || d < least) {
			best, least = c, d
		}
	}
	return best
}

// Meant asks whether the nearest of some words was meant: the end of a message, "" where none is near.
func Meant(word string, known []string) string {
	if near := Nearest(word, known); near != "" {
		return fmt.Sprintf("; did you mean `%s`?", near)
	}
	return ""
}

// distance is the number of letters to insert, delete, replace or swap with their neighbour to turn a into b.
func distance(a, b string) int {
	if len(a) > 64 {
		return len(a)
	}
	x, y := []rune(a), []rune(b)
	rows := make([][]int, len(x)+1)
	for i := range rows {
		rows[i] = make([]int, len(y)+1)
		rows[i][0] = i
	}
	for j := range rows[0] {
		rows[0][j] = j
	}
	for i := 1; i <= len(x); i++ {
		for j := 1; j <= len(y); j++ {
			cost := 1
			if x[i-1] == y[j-1] {
				cost = 0
			}
			rows[i][j] = min(rows[i-1][j]+1, rows[i][j-1]+1, rows[i-1][j-1]+cost)
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				rows[i][j] = min(rows[i][j], rows[i-2][j-2]+1)
			}
		}
	}
	return rows[len(x)][len(y)]
}
