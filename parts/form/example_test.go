package form_test

import (
	"fmt"

	"corerod/parts"
	"corerod/parts/form"
)

const link = `part: link
units: mm
bodies: {arm: {slot: {length: 40, width: 16}, from: 0, to: 7}}
cuts: {pin: {circle: {diameter: 6, at: [12, 0]}}}
`

func ExampleParse() {
	p, problems := form.Parse("link.yaml", []byte(link))
	if len(problems) > 0 {
		fmt.Println(problems)
		return
	}
	pin := p.Cuts[0]
	fmt.Println(p.Name, pin.Name, pin.Profile.(parts.Circle).Diameter, "mm, line", pin.Place.Line)
	// Output: link pin 6 mm, line 4
}

// What is wrong with a file is told all at once, with the place of each fault.
func ExampleParse_problems() {
	_, problems := form.Parse("link.yaml", []byte("part: link\nunits: mm\nbodies: {arm: {slot: {lenght: 40, width: 0}, from: 0, to: 7}}\n"))
	for _, p := range problems {
		fmt.Printf("%d:%d %s\n", p.Line, p.Column, p.Message)
	}
	// Output:
	// 3:23 unknown key `lenght` in slot; did you mean `length`?
	// 3:42 width is `0`; it must be above 0
}
