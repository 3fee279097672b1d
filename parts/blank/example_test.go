package blank_test

import (
	"fmt"

	"corerod/parts/blank"
	"corerod/parts/form"
)

// A link with two holes is one slab of 7 mm; the volume is 40 x 16 with round ends less the holes, by 7.
func ExampleMake() {
	p, _ := form.Parse("link.yaml", []byte(`part: link
units: mm
bodies: {arm: {slot: {length: 40, width: 16}, from: 0, to: 7}}
cuts: {shaft: {circle: {diameter: 10, at: [12, 0]}}, pin: {circle: {diameter: 6, at: [3.4, 0]}}}
`))
	s, problems := blank.Make(p)
	if len(problems) > 0 {
		fmt.Println(problems)
		return
	}
	volume, _ := s.Volume()
	low, high := s.WholeSpan()
	fmt.Printf("%d slab from %g to %g mm, %.1f mm3\n", s.Slabs(), low, high, volume)
	// Output: 1 slab from 0 to 7 mm, 3347.7 mm3
}
