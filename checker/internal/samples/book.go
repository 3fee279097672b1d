// Package samples has parts and books of rules for tests of package checker and those above it: sound parts, faults to plant in
// them, and plates with one finding. It does not know package checker, so that the tests of that can use it too.
package samples

import (
	"testing"

	"corerod/rules"
)

func StandardBook(tb testing.TB) *rules.Book {
	tb.Helper()
	p, err := rules.LoadBuiltin("press-and-sinter")
	if err != nil {
		tb.Fatal(err)
	}
	b, ps := rules.NewBook(p)
	if len(ps) > 0 {
		tb.Fatal(ps)
	}
	return b
}

// ListBook has one rule whose need is over the holes of a part.
func ListBook(t testing.TB, need string) *rules.Book {
	t.Helper()
	text := "pack: shop\nversion: 1.0.0\ntitle: Shop\nsources: {qp: {title: Procedure}}\n" +
		"limits: {edge: {value: 2, unit: mm, basis: shop, source: qp}}\nrules:\n" +
		"  hole-edge: {title: Hole edge, stage: fill, over: part, need: [{grade: change, that: '" + need + "'}], " +
		"says: holes near the edge, because: Thin., change: move them, since: 1.0.0}\n"
	p, ps := rules.LoadPack([]rules.File{{Name: "pack.yaml", Bytes: []byte(text)}}, nil)
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	b, ps := rules.NewBook(p)
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	return b
}
