package rules

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"corerod/parts/source"
)

// head is what a pack needs beside its rules: a table, limits on every basis, a source.
const head = `pack: trial
version: 1.0.0
title: Trial
sources:
  book: {title: A book}
limits:
  least: {value: 1.5, basis: published, source: book}
  special: {value: 0.8, basis: practice}
  guess: {value: 2, basis: memory}
  nothing: {value: 0, basis: practice}
tables:
  depths: {x: bore, y: depth, between: line, rows: [[1, 2], [3, 6]], basis: memory}
  mixed: {x: bore, y: depth, between: line, rows: [[1, -2], [3, 6]], basis: memory}
`

// packText is a pack of one rule with the given lines.
func packText(lines string) string {
	return head + "rules:\n  trial:\n    title: Trial\n    stage: fill\n    because: because\n    change: change\n" + lines
}

// withNeed is a pack of one rule over a kind with one need.
func withNeed(over, that string) string {
	return packText("    basis: practice\n    over: " + over + "\n    says: \"{" + over + ".name}\"\n    need: [{grade: ask, that: '" +
		strings.ReplaceAll(that, "'", "''") + "'}]\n")
}

func load(text string) (*Pack, source.Problems) {
	return LoadPack([]File{{"pack.yaml", []byte(text)}}, nil)
}

// bookOf loads a pack that must be right.
func bookOf(t testing.TB, text string) *Book {
	t.Helper()
	p, ps := load(text)
	if len(ps) > 0 {
		t.Fatalf("%v\n%s", ps, text)
	}
	b, ps := NewBook(p)
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	return b
}

// listed writes problems one a line.
func listed(ps source.Problems) string {
	var b strings.Builder
	for _, p := range ps {
		fmt.Fprintf(&b, "%d:%d %s\n", p.Line, p.Column, strings.TrimPrefix(p.Message, "rule `trial`: "))
	}
	return b.String()
}

// inTime holds what began then to a time. A short run has ten times as much: the race detector slows it.
func inTime(t *testing.T, what string, begin time.Time, most time.Duration) {
	t.Helper()
	if testing.Short() {
		most *= 10
	}
	if took := time.Since(begin); took > most {
		t.Errorf("%s: took %v", what, took)
	}
}
