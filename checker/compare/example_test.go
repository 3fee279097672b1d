package compare_test

import (
	"context"
	"fmt"
	"io"
	"strings"

	"corerod/checker"
	"corerod/checker/compare"
	"corerod/parts/source"
	"corerod/rules"
)

// Two revisions of a link: the pin moves away from the shaft.
func ExampleRevisions() {
	pack, err := rules.LoadBuiltin("press-and-sinter")
	if err != nil {
		fmt.Println(err)
		return
	}
	book, _ := rules.NewBook(pack)
	const link = `part: link
units: mm
bodies: {arm: {slot: {length: 40, width: 16}, from: 0, to: 7}}
cuts: {shaft: {circle: {diameter: 10, at: [12, 0]}}, pin: {circle: {diameter: 6, at: [3.4, 0]}}}
`
	texts := []string{link, strings.Replace(link, "3.4", "2.5", 1)}
	var files []checker.File
	var roots []*source.Node
	for _, text := range texts {
		files = append(files, checker.File{Name: "link.yaml",
			Open: func() (io.ReadCloser, error) { return io.NopCloser(strings.NewReader(text)), nil }})
		root, _ := source.Parse("link.yaml", []byte(text))
		roots = append(roots, root)
	}
	r := checker.Run(context.Background(), files, book, checker.Options{})
	c := compare.Revisions(r.Parts[0], r.Parts[1], roots[0], roots[1])
	for _, f := range c.Features {
		fmt.Println(f.New.Key, f.How)
	}
	for i := range c.Findings {
		p := &c.Findings[i]
		fmt.Println(p.Finding().Rule.Name, p.How)
	}
	// Output:
	// pin changed
	// wall-thickness cleared
	// wall-slenderness cleared
}
