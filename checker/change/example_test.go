package change_test

import (
	"context"
	"fmt"
	"io"
	"strings"

	"corerod/checker"
	"corerod/checker/change"
	"corerod/rules"
)

// A review of one part by a built-in pack, with a checked change for each finding.
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
	r := change.Run(context.Background(), []checker.File{file}, book,
		change.Options{Changes: 1, Options: checker.Options{StatusAt: rules.Change}})
	for _, f := range r.Parts[0].Findings {
		set := f.Changes[0].Sets[0]
		fmt.Printf("%s, %s: %s from %s to %s %s\n", f.Grade, f.Rule.Name, set.Path, set.From, set.To, set.Unit)
	}
	fmt.Println("status", r.Status)
	// Output:
	// ask, wall-slenderness: cuts.pin.circle.at[0] from 3.4 to 3.1 mm
	// change, wall-thickness: cuts.pin.circle.at[0] from 3.4 to 2.5 mm
	// status 1
}
