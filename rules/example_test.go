package rules_test

import (
	"fmt"

	"corerod/parts/subject"
	"corerod/rules"
)

// A pack is data: a limit with its origin, and a rule that compares a measure with it.
func ExampleBook_Judge() {
	pack, problems := rules.LoadPack([]rules.File{{Name: "shop.yaml", Bytes: []byte(`pack: shop
version: 1.0.0
title: Shop
limits: {height_most: {value: 50, unit: mm, basis: practice}}
rules:
  part-height:
    title: Part height
    stage: press
    over: part
    need: [{grade: change, that: part.height <= limits.height_most}]
    says: "the part is {length(part.height)} high"
    because: The press fills no deeper.
    change: lower the part
    since: 1.0.0
`)}}, nil)
	if len(problems) > 0 {
		fmt.Println(problems)
		return
	}
	book, _ := rules.NewBook(pack)
	for _, f := range book.Judge(rules.Case{Part: &subject.Part{Height: 60}, Unit: "mm"}).Findings {
		fmt.Printf("%s: %s; it misses by %g mm\n", f.Grade, f.Says, *f.Compared[0].MissesBy)
	}
	// Output: change: the part is 60 mm high; it misses by 10 mm
}
