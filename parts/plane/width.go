package plane

import "math"

// Width returns the least distance between parallel lines that hold the curves between them, the extent of the
// curves along those lines, and the direction across. Of several directions of one width it takes the longest.
//
// The distance between supporting lines, as their direction turns, is least either where one of them lies on two
// points or tangent pieces at once, or between two arcs whose centres line up across it. The first kind are the
// directions at which the supporting piece changes; they are found by dividing the half turn until each stretch
// has one supporting piece on each side.
func Width(curves []Curve) (width, length float64, across Point) {
	h := hullOf(curves)
	width = math.Inf(1)
	try := func(u Point) {
		if w := h.extent(u); w < width-sameWidth {
			width, across, length = w, u, h.extent(u.left())
		} else if l := h.extent(u.left()); w <= width+sameWidth && l > length {
			width, across, length = math.Min(w, width), u, l
		}
	}
	for i, p := range h {
		try(p.from)
		j := h.at(p.from.scale(-1))
		for _, a := range [2]int{i, (i + len(h) - 1) % len(h)} { // the supporting pairs on both sides of this direction
			for _, b := range [2]int{j, (j + len(h) - 1) % len(h)} {
				if w := h[b].disc.C.sub(h[a].disc.C); w.size() > Near {
					try(w.unit())
					try(w.unit().left())
				}
			}
		}
	}
	return width, length, across
}
