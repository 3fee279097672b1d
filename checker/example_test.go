package checker_test

import (
	"context"
	"fmt"
	"io"
	"strings"

	"corerod/checker"
	"corerod/rules"
)

// A review of one part by a built-in pack.
func ExampleRun() {
	pack, err := rules.LoadBuiltin("press-and-sinter")
	if err != nil {
		fmt.Println(err)
		return
	}
	book, _ := rules.NewBook(pack)
	file := checker.File{Name: "link.yaml", Open: func() (io.ReadCloser, error) {
		return io.NopCloser(strings.NewReader(`part: link
units: mm
bodies: {arm: {slot: {length: 40, width: 16}, from: 0, to: 7}}
cuts: {shaft: {circle: {diameter: 10, at: [12, 0]}}, pin: {circle: {diameter: 6, at: [3.4, 0]}}}
`)), nil
	}}
	r := checker.Run(context.Background(), []checker.File{file}, book, checker.Options{StatusAt: rules.Change})
	for _, f := range r.Parts[0].Findings {
		fmt.Printf("line %d, %s, %s on %s\n", f.At.Line, f.Grade, f.Rule.Name, f.Subject.Place().Name)
	}
	fmt.Println("status", r.Status)
	// Output:
	// line 4, ask, wall-slenderness on pin to shaft
	// line 4, change, wall-thickness on pin to shaft
	// status 1
}
