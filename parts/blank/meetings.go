package blank

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
)

// mostMeets is the number of heights at which sloped walls meet others that are found to a nanometre. Where there are
// more, slices do not end at them, and the volume is that of the sections between them, right to a millionth or so.
const mostMeets = 12

// cuts are where the slopes of each feature are to be cut, now that the lower end of every copy is known.
func (s *Shape) cuts() map[int]cuts {
	if !s.hasSlopes() {
		return nil
	}
	all, ends := s.tierEnds()
	events := s.events(all, ends)
	clear := wellApart(events)
	for _, e := range events {
		s.meets = append(s.meets, e.z)
	}
	s.ends = ends
	out := map[int]cuts{}
	for _, b := range all {
		c := out[b.feature]
		for _, z := range ends {
			c.ends = append(c.ends, z-b.z)
		}
		for _, z := range clear {
			c.meets = append(c.meets, z-b.z)
		}
		if len(ends) > mostSplits {
			c.ends = nil
		}
		if len(s.meets) > mostMeets {
			c.meets = nil
		}
		if again := b.again(ends); len(again) <= mostMeets {
			c.meets = append(c.meets, again...)
		}
		out[b.feature] = c
	}
	return out
}

// again are the heights over its lower end at which a slope of a ball or half section is as wide as elsewhere at its ends
// or at given heights of the part: what it leaves below the one can end above the other.
func (b *based) again(zs []float64) (us []float64) {
	for i := range b.tiers {
		t := &b.tiers[i]
		if t.walls == nil {
			return nil
		}
		heights := []float64{t.lo, t.hi}
		for _, z := range zs {
			if t.lo < z-b.z && z-b.z < t.hi {
				heights = append(heights, z-b.z)
			}
		}
		for _, u := range heights {
			for _, c := range t.walls(u) {
				us = append(us, b.reach(c.R)...)
			}
		}
	}
	return distinct(us)
}

// reach are the heights inside the slopes of a ball or half section at which a wall has a radius.
func (b *based) reach(r float64) (us []float64) {
	for i := range b.tiers {
		if t := &b.tiers[i]; t.sloped {
			for _, u := range t.reach(r) {
				if t.lo+SameHeight < u && u < t.hi-SameHeight {
					us = append(us, u)
				}
			}
		}
	}
	return us
}

// samples are between two heights: their ends, and the cells of the sections there.
type samples struct {
	low, high   float64
	below, over string
}

// events are the heights at which sloped walls begin or cease to meet others: there the cells of a section change. They
// are found between samples of each stretch, by halving; where there are several between two, all of them are looked for
// as long as they are not too many together.
func (s *Shape) events(all []based, ends []float64) (es []event) {
	var left []samples
	for i := 0; i+1 < len(ends); i++ {
		const count = 8
		h := ends[i+1] - ends[i]
		at := func(k int) float64 { return ends[i] + h*(float64(k)+0.5)/count }
		p := samples{high: at(0), over: s.signature(all, at(0))}
		for k := 1; k < count; k++ {
			p = samples{p.high, at(k), p.over, s.signature(all, at(k))}
			switch {
			case p.below == p.over:
			case len(es) < mostMeets:
				e, rest := s.first(all, p)
				es = append(es, e)
				left = append(left, rest)
			default:
				es = append(es, event{(p.low + p.high) / 2, 0})
			}
		}
	}
	more := slices.Clone(es)
	for _, p := range left {
		for p.below != p.over {
			if len(more) >= mostMeets {
				return es
			}
			e, rest := s.first(all, p)
			more, p = append(more, e), rest
		}
	}
	slices.SortFunc(more, func(a, b event) int { return cmp.Compare(a.z, b.z) })
	return more
}

// event is a height at which slopes begin or cease to meet others, and how many cells come or go there.
type event struct {
	z     float64
	cells int
}

// wellApart are the heights of events that are far enough apart for a slice between two, of those too near the one at
// which more cells come or go.
func wellApart(es []event) (zs []float64) {
	cells := 0
	for _, e := range es {
		switch last := len(zs) - 1; {
		case last < 0 || e.z-zs[last] > apart:
			zs, cells = append(zs, e.z), e.cells
		case e.cells > cells:
			zs[last], cells = e.z, e.cells
		}
	}
	return zs
}

// first is the lowest height between samples at which the cells change, and what is left above it.
func (s *Shape) first(all []based, p samples) (e event, rest samples) {
	z := s.change(all, p.low, p.high, p.below)
	low := z + apartMeets
	next := s.signature(all, low)
	e.z = s.between(z, s.change(all, low, z, next), len(next)-len(p.below))
	if e.cells = strings.Count(next, ";") - strings.Count(p.below, ";"); e.cells < 0 {
		e.cells = -e.cells
	}
	return e, samples{low, p.high, next, p.over}
}

// between is the height at which cells change that are clear up to a height and from another on: where there are fewer if
// some vanish, which are lost some nanometres early, else halfway.
func (s *Shape) between(low, high float64, more int) float64 {
	switch {
	case more < 0:
		return high
	case more > 0:
		return low
	}
	return (low + high) / 2
}

// apartMeets is how far over a height at which slopes meet the next is looked for, mm: past it the section is a clear one.
const apartMeets = 100 * SameHeight

// change is the height between two others at which the cells of the section cease to be those at the first.
func (s *Shape) change(all []based, a, b float64, first string) float64 {
	for math.Abs(b-a) > SameHeight/100 {
		if mid := (a + b) / 2; s.signature(all, mid) == first {
			a = mid
		} else {
			b = mid
		}
	}
	return (a + b) / 2
}

// signature tells which cells a section at a height has, and with how many sides.
func (s *Shape) signature(all []based, z float64) string {
	o, of, err := s.layAt(all, z)
	if err != nil || o == nil {
		return ""
	}
	sides := make([]int, len(o.Cells))
	for i := range o.Edges {
		sides[o.Edges[i].Left]++
		sides[o.Edges[i].Right]++
	}
	var cells []string
	for c := range o.Cells {
		name := fmt.Appendf(nil, "%d:", sides[c])
		o.Cells[c].Inside.Each(func(i int) { name = fmt.Appendf(name, "%d,", of[i]) })
		cells = append(cells, string(name))
	}
	slices.Sort(cells)
	return strings.Join(cells, ";")
}
