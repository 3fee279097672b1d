package measure_test

import (
	"fmt"

	"corerod/parts/form"
	"corerod/parts/measure"
)

// The wall between two holes of 10 and 6 mm whose centres are 8.6 mm apart is 8.6 - 5 - 3 = 0.6 mm.
func ExamplePart() {
	p, _ := form.Parse("link.yaml", []byte(`part: link
units: mm
bodies: {arm: {slot: {length: 40, width: 16}, from: 0, to: 7}}
cuts: {shaft: {circle: {diameter: 10, at: [12, 0]}}, pin: {circle: {diameter: 6, at: [3.4, 0]}}}
`))
	m, problems := measure.Part(p)
	if len(problems) > 0 {
		fmt.Println(problems)
		return
	}
	for _, w := range m.Subject.Walls {
		if w.Web {
			fmt.Printf("%s: %.4f mm thick, %g mm high\n", w.Name, w.Thickness, w.Height)
		}
	}
	// Output: pin to shaft: 0.6000 mm thick, 7 mm high
}
