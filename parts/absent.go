package parts

import (
	"slices"

	"corerod/parts/source"
)

// zeroKeys are the numbers that a profile may have, and that are 0 where the file does not give them.
var zeroKeys = map[string][]string{
	"rectangle": {"corner"}, "polygon": {"corner"}, "path": {"corner"}, "hexagon": {"corner"}, "flatted": {"corner"}, "spline": {"corner"},
	"gear": {"tip_radius"}, "serration": {"tip_radius", "root_radius"}, "ball": {"band"},
}

// Absent lists numbers of a feature that the file does not give and that are 0 so far: radii, the flat of a chamfer, the
// band of a ball, a draft either way. An edit of one adds it.
func Absent(root *source.Node, feature string) (all []Number) {
	unit := "mm"
	if u := root.At("units"); u != nil && u.Value == "in" {
		unit = "in"
	}
	add := func(path, write string, step float64, at *source.Node) {
		own := unit
		if write != "%s" {
			own = "" // not a number by itself
		}
		all = append(all, Number{Path: path, Line: at.Line, Feature: feature, Unit: own, Step: step, Most: MostLength, write: write})
	}
	for _, section := range []string{"bodies", "cuts"} {
		n := root.At(section).At(feature)
		if n == nil || madeLater(n) {
			continue
		}
		path := section + "." + feature
		for _, p := range profileKeys {
			for _, key := range zeroKeys[p] {
				if in := n.At(p); in != nil && in.At(key) == nil {
					add(path+"."+p+"."+key, "%s", lengthStep[unit], in)
				}
			}
			if in := n.At(p); in != nil && n.At("draft") == nil && !slices.Contains(sectionKeys, p) {
				add(path+".draft", "{angle: %s, narrows: up}", angleStep, n)
				add(path+".draft", "{angle: %s, narrows: down}", angleStep, n)
			}
		}
	}
	if c := root.At("edges").At(feature).At("chamfer"); c != nil && c.At("flat") == nil {
		add("edges."+feature+".chamfer.flat", "%s", lengthStep[unit], c)
	}
	return all
}
