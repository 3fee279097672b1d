package form

import (
	"fmt"
	"slices"
	"strconv"

	"corerod/parts/source"
)

// tie notes which points of an outline lie on one line along an axis: such a side stays straight and along its axis when it is
// moved, so their coordinates move together.
func (l *numberList) tie(f *Form, n *source.Node, path string) {
	if !f.Outline {
		return
	}
	points := vertexes(f, n, path, nil)
	if len(points) < 3 {
		return
	}
	for axis := range 2 {
		at := func(i int) string { return points[i%len(points)].node.Items[axis].Value }
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
				tied = append(tied, fmt.Sprintf("%s[%d]", points[k%len(points)].path, axis))
			}
			if len(tied) > 1 {
				l.ties = append(l.ties, tied)
			}
			i = j
		}
	}
}

// vertexes lists the points of an outline in its order.
func vertexes(f *Form, n *source.Node, path string, all []spot) []spot {
	f = f.choose(n)
	switch {
	case f == nil || n == nil:
	case f.Outline && f.Tuple != nil:
		if n.Shape == source.Sequence && len(n.Items) == 2 {
			all = append(all, spot{path, f, n})
		}
	case f.Type == source.FormList:
		for i, it := range n.Items {
			all = vertexes(f.item(i), it, path+"["+strconv.Itoa(i)+"]", all)
		}
	case f.Type == source.FormMap:
		for _, k := range f.Keys {
			if v := n.At(k.Name); v != nil {
				all = vertexes(k.Form(), v, path+"."+k.Name, all)
			}
		}
	}
	return all
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
