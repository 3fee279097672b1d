package change

import (
	"fmt"
	"math"
	"strconv"

	"corerod/checker"
	"corerod/parts/source"
	"corerod/parts/subject"
)

// uprighted proposes to draw the cone of a turned feature as a cylinder, at the radius of either of its ends.
func (s *search) uprighted(names []string, taper *subject.Taper) (all []proposal) {
	for _, section := range []string{"bodies", "cuts"} {
		s.eachOf(names, section, func(name, path string, n *source.Node) {
			points := n.At("turned").At("section")
			if points == nil {
				return
			}
			for i, a := range points.Items {
				j := (i + 1) % len(points.Items)
				if b := points.Items[j]; leans(a, b, taper.Angle) {
					says := "draw the wall of " + name + " upright"
					radius := func(k int) string { return fmt.Sprintf("%s.turned.section[%d][0]", path, k) }
					all = append(all, proposal{says, []checker.Set{s.set(radius(i), b.Items[0].Value)}},
						proposal{says, []checker.Set{s.set(radius(j), a.Items[0].Value)}})
				}
			}
		})
	}
	return all
}

// leans tells whether the line between two points of a half section leans by an angle from the axis, degrees.
func leans(a, b *source.Node, angle float64) bool {
	var at [4]float64
	for i, n := range []*source.Node{a, b} {
		if n.Shape != source.Sequence || len(n.Items) != 2 {
			return false
		}
		for k, item := range n.Items {
			v, err := strconv.ParseFloat(item.Value, 64)
			if err != nil {
				return false
			}
			at[2*i+k] = v
		}
	}
	return math.Abs(math.Atan2(math.Abs(at[2]-at[0]), math.Abs(at[3]-at[1]))*180/math.Pi-angle) < leansAs
}
