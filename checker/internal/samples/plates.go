package samples

import (
	"fmt"
	"strings"
)

// Bar has a hole for each distance from the edge.
func Bar(edges ...float64) string {
	var b strings.Builder
	b.WriteString("part: bar\nunits: mm\nbodies: {bar: {rectangle: {length: 200, width: 30, corner: 3}, from: 0, to: 6}}\ncuts:\n")
	for i, e := range edges {
		fmt.Fprintf(&b, "  h%d: {circle: {diameter: 4, at: [%d, %g]}}\n", i, -82+15*i, 15-2-e)
	}
	return b.String()
}

// ThinEye is a plate whose wall beside the eye is as thick as is asked for, needed 0.8 and 1.5 mm; high is its height.
func ThinEye(wall float64, revision string) string {
	return fmt.Sprintf("part: plate\ndrawing: HM-0170\nrevision: %s\nunits: mm\nbodies: {plate: {rectangle: {length: 40, width: 30, "+
		"corner: 3}, from: 0, to: 4}}\ncuts: {eye: {circle: {diameter: 6, at: [0, %g]}}}\n", revision, 12-wall)
}
