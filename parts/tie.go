package parts

import (
	"fmt"
	"slices"

	"corerod/parts/source"
)

// tie notes which points of a polygon, path or half section lie on one line along an axis: such a side stays straight
// and along its axis when it is moved, so their coordinates move together.
func (l *numberList) tie(n *source.Node, path string) {
	points, paths := corners(n, path)
	if len(points) < 3 {
		return
	}
	for axis := range 2 {
		at := func(i int) string { return points[i%len(points)].Items[axis].Value }
		first := 0
		for first < len(points) && at(first) == at(first+len(points)-1) {
			first++ // begin where a side begins
		}
		for i := first; i < first+len(points); {
			j := i + 1
			for j < first+len(points) && at(j) == at(i) {
				j++
			}
			var tied []string
			for k := i; k < j; k++ {
				tied = append(tied, fmt.Sprintf("%s[%d]", paths[k%len(points)], axis))
			}
			if len(tied) > 1 {
				l.ties = append(l.ties, tied)
			}
			i = j
		}
	}
}

// corners lists the points of an outline in order, with their paths.
func corners(n *source.Node, path string) (points []*source.Node, paths []string) {
	add := func(p *source.Node, at string) {
		if p != nil && p.Shape == source.Sequence && len(p.Items) == 2 {
			points, paths = append(points, p), append(paths, at)
		}
	}
	add(n.At("start"), path+".start")
	for _, key := range []string{"points", "steps", "section"} {
		list := n.At(key)
		if list == nil || list.Shape != source.Sequence {
			continue
		}
		for i, it := range list.Items {
			at := fmt.Sprintf("%s.%s[%d]", path, key, i)
			add(it, at)
			add(it.At("line"), at+".line")
			add(it.At("arc"), at+".arc")
		}
	}
	return points, paths
}

// tied is the list of numbers with those that move together as one, which is held where one of them is.
func (l *numberList) tied() []Number {
	gone := map[string]bool{}
	for _, paths := range l.ties {
		var group []int
		for _, p := range paths {
			if i := slices.IndexFunc(l.all, func(n Number) bool { return n.Path == p }); i >= 0 {
				group = append(group, i)
			}
		}
		for k, i := range group {
			switch n := l.all[i]; {
			case len(group) < len(paths) || k > 0:
				gone[n.Path] = true
			default:
				for _, j := range group[1:] {
					o := l.all[j]
					l.all[i].Held = l.all[i].Held || o.Held
					l.all[i].Along = append(l.all[i].Along, Along{Path: o.Path, Line: o.Line, From: o.From, Value: o.Value})
				}
			}
		}
	}
	return slices.DeleteFunc(l.all, func(n Number) bool { return gone[n.Path] })
}
