package rules

import (
	"fmt"
	"strings"
	"testing"

	"corerod/parts/subject"
)

const usualNeed = "wall.thickness >= limits.least && (wall.web || wall.ratio <= 8)"

// BenchmarkNeed evaluates one compiled need on one subject.
func BenchmarkNeed(b *testing.B) {
	book := bookOf(b, withNeed("wall", usualNeed))
	s := book.scene(Case{Part: alone(wall(2)), Unit: "mm"})
	env := book.Rules[0].Pack.env()
	in := &bound{scene: s, over: s.of(subject.WallKind)[0], limits: env.limits}
	x := env.expression(usualNeed)
	b.ReportAllocs()
	for b.Loop() {
		if ok, err := x.holds(in); !ok || err != nil {
			b.Fatal(ok, err)
		}
		s.steps = 0
	}
}

// BenchmarkLazy reads a pack of 60 rules and judges a part on which one kind of subject stands.
func BenchmarkLazy(b *testing.B) {
	files := []File{{"pack.yaml", []byte(manyRules(60, "hole", "hole.width > 1 && hole.ratio < 8"))}}
	part := alone(wall(2))
	for b.Loop() {
		p, _ := read(files, isTrials, nil)
		book, _ := NewBook(p)
		book.Judge(Case{Part: part, Unit: "mm"})
	}
}

// differentRules is a pack of so many rules, no two needs alike.
func differentRules(n int) string {
	text := manyRules(n, "wall", usualNeed+" && wall.height < LIMIT")
	for i := range n {
		text = strings.Replace(text, "LIMIT", fmt.Sprint(100+i), 1)
	}
	return text
}

// BenchmarkCheck loads a pack of 60 rules with different needs, all of them compiled and examined.
func BenchmarkCheck(b *testing.B) {
	files := []File{{"pack.yaml", []byte(differentRules(60))}}
	for b.Loop() {
		if _, ps := LoadPack(files, nil); len(ps) > 0 {
			b.Fatal(ps)
		}
	}
}
