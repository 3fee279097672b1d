package blank

import (
	"math"

	"corerod/parts/plane"
)

func gridPoint(p plane.Point) [2]int64 {
	return [2]int64{int64(math.Round(p.X / snap)), int64(math.Round(p.Y / snap))}
}

// loops joins the lines of a section to closed outlines, lines along each other as one and chords of a circle as an arc.
func (c *cutter) loops() (out []plane.Loop) {
	all := c.sides()
	from := map[[2]int64][]int{}
	for i, x := range all {
		if gridPoint(x.a) != gridPoint(x.b) {
			from[gridPoint(x.a)] = append(from[gridPoint(x.a)], i)
		}
	}
	used := make([]bool, len(all))
	for i := range all {
		if used[i] || gridPoint(all[i].a) == gridPoint(all[i].b) {
			continue
		}
		var ring []side
		for at := i; at >= 0; at = following(all, used, from, all[at]) {
			used[at] = true
			ring = append(ring, all[at])
		}
		if len(ring) > 2 && gridPoint(ring[0].a) == gridPoint(ring[len(ring)-1].b) {
			out = append(out, smooth(ring))
		}
	}
	return out
}

// following is the line that goes on where another ends, sharpest to the left where there are several, or -1.
func following(all []side, used []bool, from map[[2]int64][]int, x side) int {
	best, turn := -1, math.Inf(-1)
	for _, i := range from[gridPoint(x.b)] {
		if used[i] {
			continue
		}
		u, v := direction(x), direction(all[i])
		if t := math.Atan2(u.X*v.Y-u.Y*v.X, u.X*v.X+u.Y*v.Y); t > turn {
			best, turn = i, t
		}
	}
	return best
}

func direction(x side) plane.Point { return plane.Point{X: x.b.X - x.a.X, Y: x.b.Y - x.a.Y} }

// smooth is a ring with as few lines and arcs as it has.
func smooth(ring []side) (l plane.Loop) {
	start := 0
	for start < len(ring)-1 && goesOn(ring[(start+len(ring)-1)%len(ring)], ring[start]) {
		start++
	}
	turned := append(append([]side{}, ring[start:]...), ring[:start]...)
	for i := range turned {
		turned[i].a = turned[(i+len(turned)-1)%len(turned)].b // the same to the grid, and now to the last digit
	}
	for i := 0; i < len(turned); {
		j := i + 1
		for j < len(turned) && straight(turned[i:j+1]) {
			j++
		}
		if k := roundEnd(turned, i); k > max(j, i+3) {
			arc, _ := plane.ArcThrough(turned[i].a, turned[(i+k)/2].a, turned[k-1].b)
			l, i = append(l, arc), k
			continue
		}
		l, i = append(l, plane.Line(turned[i].a, turned[j-1].b)), j
	}
	return l
}

// goesOn tells whether one line may go on from another as the same straight or round wall.
func goesOn(a, b side) bool {
	if a.bent != b.bent {
		return false
	}
	u, v := direction(a), direction(b)
	return math.Abs(math.Atan2(u.X*v.Y-u.Y*v.X, u.X*v.X+u.Y*v.Y)) < onwards
}

// straight tells whether lines follow each other along one line, to a hundredth of a micrometre.
func straight(xs []side) bool {
	line := plane.Line(xs[0].a, xs[len(xs)-1].b)
	for _, x := range xs[1:] {
		if line.Off(x.a) > offLine {
			return false
		}
	}
	u, v := direction(xs[0]), direction(xs[len(xs)-1])
	return u.X*v.X+u.Y*v.Y > 0
}

// roundEnd is the end of the longest stretch of lines from one on that are chords of one circle, less than half of it.
func roundEnd(xs []side, first int) int {
	end := first
	if !xs[first].bent {
		return end
	}
	for k := first + 4; k <= len(xs); k++ {
		if !xs[k-1].bent || !goesOn(xs[k-2], xs[k-1]) {
			break
		}
		arc, ok := plane.ArcThrough(xs[first].a, xs[(first+k)/2].a, xs[k-1].b)
		if !ok || math.Abs(arc.Sweep) > aboutHalf || !chordsOf(&arc, xs[first:k]) {
			break
		}
		end = k
	}
	return end
}

func chordsOf(arc *plane.Curve, xs []side) bool {
	for _, x := range xs {
		if arc.Off(x.a) > offArc {
			return false
		}
	}
	return true
}
