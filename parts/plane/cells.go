package plane

import (
	"math"
	"slices"
)

// link sorts the half edges round every vertex and chains each to the next one round the cell on its left.
func (o *Overlay) link(vs *vertices, ends [][2]int32) {
	n := 2 * len(o.Edges)
	o.next, o.from = make([]int32, n), make([]int32, n)
	for e, uv := range ends {
		o.from[2*e], o.from[2*e+1] = uv[0], uv[1]
	}
	for _, half := range grouped(len(vs.points), n, func(h int) int32 { return o.from[h] }) {
		o.sortRound(half)
		for i, h := range half { // arriving on the twin of h, the next to leave is h's clockwise neighbour
			o.next[h^1] = half[(i+len(half)-1)%len(half)]
		}
	}
}

// grouped are the numbers from 0 to n in groups, each in order.
func grouped(groups, n int, of func(i int) int32) [][]int32 {
	sizes := make([]int, groups)
	for i := range n {
		sizes[of(i)]++
	}
	all, out := make([]int32, n), make([][]int32, groups)
	for g, size := range sizes {
		out[g], all = all[:0:size], all[size:]
	}
	for i := range n {
		g := of(i)
		out[g] = append(out[g], int32(i))
	}
	return out
}

// departure is how a half edge leaves its vertex.
type departure struct {
	half  int32
	angle float64
	bend  float64 // curvature to the left
}

// sortRound orders half edges counter-clockwise about their common vertex. Those that leave in one direction are
// told apart by how they bend.
func (o *Overlay) sortRound(half []int32) {
	if len(half) < 3 {
		return
	}
	ds := make([]departure, len(half))
	for i, h := range half {
		c := o.curve(h)
		ds[i] = departure{h, c.tangent(c.A).angle(), c.curvature()}
	}
	slices.SortFunc(ds, func(a, b departure) int { return order(a.angle, b.angle) })
	start := 0 // begin after the widest opening, so that no group of one direction is split at the ends
	widest := ds[0].angle + 2*math.Pi - ds[len(ds)-1].angle
	for i := 1; i < len(ds); i++ {
		if w := ds[i].angle - ds[i-1].angle; w > widest {
			start, widest = i, w
		}
	}
	ds = append(ds[start:], ds[:start]...)
	for i := 0; i < len(ds); {
		j := i + 1
		for j < len(ds) && math.Mod(ds[j].angle-ds[j-1].angle+2*math.Pi, 2*math.Pi) <= oneWay(&ds[j-1], &ds[j]) {
			j++
		}
		slices.SortStableFunc(ds[i:j], func(a, b departure) int { return order(a.bend, b.bend) })
		i = j
	}
	for i := range ds {
		half[i] = ds[i].half
	}
}

// oneWay is the angle up to which two half edges leave a vertex in one direction: a vertex that was moved by Near turns the direction
// there of a small circle by more than that of a large one.
func oneWay(a, b *departure) float64 {
	return sameDirection + Near*(math.Abs(a.bend)+math.Abs(b.bend))/2
}

func order(a, b float64) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

// curve returns the curve of a half edge, in its direction.
func (o *Overlay) curve(h int32) Curve {
	c := o.Edges[h>>1].Curve
	if h&1 == 1 {
		return c.Reversed()
	}
	return c
}

// cycle is a closed chain of half edges with one cell on its left.
type cycle struct {
	loop    Loop
	halves  []int32
	moments Moments
	box     box
	cell    int32
}

// trace follows the half edges into cycles.
func (o *Overlay) trace() []cycle {
	seen := make([]bool, len(o.next))
	var cycles []cycle
	halves, loops := make([]int32, 0, len(seen)), make(Loop, 0, len(seen)) // each edge side is in one cycle
	for h := range seen {
		if seen[h] {
			continue
		}
		c := cycle{halves: halves[len(halves):], loop: loops[len(loops):]}
		for k := int32(h); !seen[k]; k = o.next[k] {
			seen[k] = true
			c.halves = append(c.halves, k)
			c.loop = append(c.loop, o.curve(k))
		}
		halves, loops = halves[:len(halves)+len(c.halves)], loops[:len(loops)+len(c.loop)]
		c.halves, c.loop = slices.Clip(c.halves), slices.Clip(c.loop)
		c.moments, c.box = c.loop.Moments(), c.loop.bounds()
		cycles = append(cycles, c)
	}
	return cycles
}

// nest makes a cell of every cycle that runs counter-clockwise, and gives the others, which bound a connected
// group of outlines from outside, to the smallest cell around them.
func (o *Overlay) nest(cycles []cycle) {
	o.Cells = []Cell{{}}
	o.cellOf = make([]int32, len(o.next))
	group := o.groups()
	var outer, inner []int
	of := make([]int, len(o.next)) // by half edge: its cycle
	for i := range cycles {
		for _, h := range cycles[i].halves {
			of[h] = i
		}
	}
	for i := range cycles {
		// One that runs both ways along all of its edges, as round dividers that end in a cell, holds nothing.
		alone := !slices.ContainsFunc(cycles[i].halves, func(h int32) bool { return of[h^1] != i })
		if cycles[i].moments.Area > 0 && !alone {
			cycles[i].cell = int32(len(o.Cells))
			o.Cells = append(o.Cells, Cell{Moments: cycles[i].moments})
			outer = append(outer, i)
		} else {
			inner = append(inner, i)
		}
	}
	slices.SortStableFunc(outer, func(a, b int) int { return order(cycles[a].moments.Area, cycles[b].moments.Area) })
	for _, i := range inner {
		c := &cycles[i]
		p := c.loop[0].A
		for _, j := range outer {
			d := &cycles[j]
			if group[o.from[d.halves[0]]] != group[o.from[c.halves[0]]] && d.box.distance(p) == 0 && d.loop.winds(p) != 0 {
				c.cell = d.cell
				cell := &o.Cells[d.cell]
				cell.Moments = cell.Moments.Add(c.moments)
				break
			}
		}
	}
	for _, c := range cycles {
		for _, h := range c.halves {
			o.cellOf[h] = c.cell
		}
	}
	for e := range o.Edges {
		o.Edges[e].Left, o.Edges[e].Right = int(o.cellOf[2*e]), int(o.cellOf[2*e+1])
	}
}

// groups numbers the vertices by connected group of edges.
func (o *Overlay) groups() []int32 {
	most := int32(0)
	for _, v := range o.from {
		most = max(most, v)
	}
	u := NewUnion(int(most) + 1)
	for e := range o.Edges {
		u.Join(int(o.from[2*e]), int(o.from[2*e+1]))
	}
	g := make([]int32, most+1)
	for i := range g {
		g[i] = int32(u.Find(i))
	}
	return g
}

// label gives every cell its set of figures, outwards in, and tells whether all edges agree with it.
func (o *Overlay) label() bool {
	around := grouped(len(o.Cells), len(o.cellOf), func(h int) int32 { return o.cellOf[h] })
	words := o.figures/64 + 1
	sets := make(Set, words*(len(o.Cells)+1))
	set := func(c int) Set { return sets[c*words : (c+1)*words : (c+1)*words] }
	o.Cells[0].Inside = set(0)
	queue := []int{0}
	for len(queue) > 0 {
		c := queue[0]
		queue = queue[1:]
		for _, h := range around[c] {
			if d := int(o.cellOf[h^1]); o.Cells[d].Inside == nil {
				o.Cells[d].Inside = set(d)
				copy(o.Cells[d].Inside, o.Cells[c].Inside)
				o.Cells[d].Inside.flip(o.Edges[h>>1].Figures)
				queue = append(queue, d)
			}
		}
	}
	crossed := set(len(o.Cells))
	for e := range o.Edges {
		l, r := o.Cells[o.Edges[e].Left].Inside, o.Cells[o.Edges[e].Right].Inside
		if l == nil || r == nil {
			return false
		}
		copy(crossed, l)
		if crossed.flip(o.Edges[e].Figures); !slices.Equal(crossed, r) {
			return false
		}
	}
	return true
}

// CellAt returns the cell that holds a point, which lies on no edge.
func (o *Overlay) CellAt(p Point) int {
	turn := make([]float64, len(o.Cells))
	for i := range o.Edges {
		e := &o.Edges[i]
		t := e.Curve.turnRound(p)
		turn[e.Left] += t
		turn[e.Right] -= t
	}
	for c := 1; c < len(turn); c++ {
		if turn[c] > math.Pi {
			return c
		}
	}
	return 0
}
