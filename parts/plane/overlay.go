package plane

import (
	"errors"
	"math"
	"math/bits"
	"slices"
	"sync"
)

// Overlay is the plan divided by the outlines of many figures at once: cells, each inside a known set of the
// figures, and the curves between them.
//
// Every pair of outlines is met in closed form first, so the pieces between meeting points cross nowhere, and the
// division is a plane graph of exact lines and arcs: its vertices are known by their place on a 1 nm grid, the
// edges round each vertex by direction and curvature. A cell's set of figures changes by one edge's figures when
// that edge is crossed; closed outlines make every way round give the same set, and Lay proves that it does.
type Overlay struct {
	Edges []Edge
	Cells []Cell // Cells[0] is the outside

	next    []int32 // next half edge round the cell to the left; half edge 2e runs along Edges[e], 2e+1 against it
	cellOf  []int32 // cell left of a half edge
	from    []int32 // vertex where a half edge starts
	figures int
}

// Edge is a piece of outline between two vertices.
type Edge struct {
	Curve       Curve
	Left, Right int   // cells
	Figures     []int // figures whose outlines run here, rising; none on a divider
	divides     bool  // a divider runs here
}

// Around tells whether an edge bends round the cell on one of its sides.
func (e *Edge) Around(cell int) bool { return (cell == e.Left) == (e.Curve.Sweep > 0) }

// Cell is a connected region that no outline divides.
type Cell struct {
	Inside  Set     // figures it lies in
	Drawn   Set     // the same as drawn, of a thin cell that joined a neighbour
	Moments Moments // zero for the outside
}

// Set is a set of figure numbers.
type Set []uint64

// Has tells whether the set holds figure i.
func (s Set) Has(i int) bool { return s[i/64]>>(i%64)&1 == 1 }

// Each calls f for the figures in the set, rising.
func (s Set) Each(f func(i int)) {
	for w, word := range s {
		for ; word != 0; word &= word - 1 {
			f(64*w + bits.TrailingZeros64(word))
		}
	}
}

// flip takes figures into the set that are not in it, and those that are out of it.
func (s Set) flip(figures []int) {
	for _, i := range figures {
		s[i/64] ^= 1 << (i % 64)
	}
}

// ErrTooClose says that outlines come so close to each other that they cannot be told apart.
var ErrTooClose = errors.New("outlines come too close to each other without meeting to be told apart; " +
	"draw them equal or clearly apart")

// Lay overlays closed, simple, counter-clockwise outlines; figure i is the inside of loops[i]. Dividers are further curves
// that part cells: on both sides of one lie the same figures.
func Lay(loops []Loop, dividers ...Curve) (*Overlay, error) {
	o := &Overlay{figures: len(loops)}
	w := works.Get().(*work)
	defer works.Put(w)
	edges := w.divide(loops, dividers)
	o.Edges = edges.edges
	o.link(&w.vertices, edges.ends)
	cycles := o.trace()
	o.nest(cycles)
	if !o.label() {
		return nil, ErrTooClose
	}
	return o, nil
}

// work is what dividing outlines takes, kept for the next overlay.
type work struct {
	curves   []cutCurve
	pieces   edgeList
	order    []int
	vertices vertices
}

var works = sync.Pool{New: func() any { return &work{vertices: vertices{last: map[[2]int64]int32{}}} }}

// vertices are points known by their place on the grid.
type vertices struct {
	points []Point
	before []int32            // by point: the one that came before it in its bucket, -1 for none
	last   map[[2]int64]int32 // by bucket
}

// grid is the size of a bucket of the vertex table. Points within 2 Near are one vertex, so that one bucket is looked at, or
// two or four near its rim.
const grid = 64 * Near

func bucket(v float64) int64 { return int64(math.Floor(v / grid)) }

func (v *vertices) at(p Point) int32 {
	for i := bucket(p.X - 2*Near); i <= bucket(p.X+2*Near); i++ {
		for j := bucket(p.Y - 2*Near); j <= bucket(p.Y+2*Near); j++ {
			k, some := v.last[[2]int64{i, j}]
			for ; some && k >= 0; k = v.before[k] {
				if v.points[k].Distance(p) <= 2*Near {
					return k
				}
			}
		}
	}
	in := [2]int64{bucket(p.X), bucket(p.Y)}
	k, some := v.last[in]
	if !some {
		k = -1
	}
	v.points, v.before = append(v.points, p), append(v.before, k)
	v.last[in] = int32(len(v.points) - 1)
	return v.last[in]
}

type cutCurve struct {
	curve  Curve
	figure int // -1 for a divider
	cuts   []Point
}

type edgeList struct {
	edges []Edge
	ends  [][2]int32
}

// divide cuts all outlines where they meet and returns the pieces, those that run together as one.
func (w *work) divide(loops []Loop, dividers []Curve) edgeList {
	w.curves, w.pieces = w.curves[:0], edgeList{w.pieces.edges[:0], w.pieces.ends[:0]}
	w.vertices.points, w.vertices.before = w.vertices.points[:0], w.vertices.before[:0]
	clear(w.vertices.last)
	figures := make([]int, len(loops)) // each by itself, for the edges
	for f, l := range loops {
		figures[f] = f
		for _, c := range l {
			w.take(c, f)
		}
	}
	for _, c := range dividers {
		w.take(c, -1)
	}
	for _, pair := range closePairs(len(w.curves), func(i int) box { return w.curves[i].curve.bounds() }) {
		a, b := &w.curves[pair[0]], &w.curves[pair[1]]
		was := len(a.cuts)
		a.cuts = appendMeetings(a.cuts, &a.curve, &b.curve)
		b.cuts = append(b.cuts, a.cuts[was:]...)
	}
	for i := range w.curves { // authored points first: a cut near one becomes it
		w.vertices.at(w.curves[i].curve.A)
	}
	for i := range w.curves {
		w.pieces.add(&w.vertices, &w.curves[i], figures)
	}
	w.order = slices.Grow(w.order[:0], len(w.pieces.edges))[:len(w.pieces.edges)]
	return w.pieces.merged(w.order)
}

// take adds a curve of a figure, or a divider.
func (w *work) take(c Curve, figure int) {
	n := len(w.curves)
	if n < cap(w.curves) {
		w.curves = w.curves[:n+1]
	} else {
		w.curves = append(w.curves, cutCurve{})
	}
	w.curves[n] = cutCurve{c, figure, w.curves[n].cuts[:0]}
}

// add splits one curve at its cuts.
func (l *edgeList) add(vs *vertices, c *cutCurve, figures []int) {
	type stop struct {
		at float64
		v  int32
	}
	last := stop{1, vs.at(c.curve.B)}
	stops := append(make([]stop, 0, len(c.cuts)+2), stop{0, vs.at(c.curve.A)})
	for _, p := range c.cuts {
		if t := c.curve.fraction(p); t > 0 && t < 1 {
			stops = append(stops, stop{t, vs.at(p)})
		}
	}
	stops = append(stops, last)
	slices.SortStableFunc(stops, func(a, b stop) int {
		switch {
		case a.at < b.at:
			return -1
		case a.at > b.at:
			return 1
		}
		return 0
	})
	length := c.curve.Length()
	from := stops[0]
	for _, to := range stops[1:] {
		if to.v == from.v || (to.at-from.at)*length <= Near && to != last {
			continue
		}
		e := Edge{Curve: c.curve.between(from.at, to.at, vs.points[from.v], vs.points[to.v]), divides: c.figure < 0}
		if c.figure >= 0 {
			e.Figures = figures[c.figure : c.figure+1 : c.figure+1]
		}
		l.edges = append(l.edges, e)
		l.ends = append(l.ends, [2]int32{from.v, to.v})
		from = to
	}
}

// between returns the piece of the curve between two fractions, made to end in the given points.
func (c *Curve) between(t0, t1 float64, a, b Point) Curve {
	if !c.IsArc() {
		return Line(a, b)
	}
	u, v := a.sub(c.C), b.sub(c.C)
	sweep := math.Atan2(u.cross(v), u.dot(v))
	want := (t1 - t0) * c.Sweep
	sweep += 2 * math.Pi * math.Round((want-sweep)/(2*math.Pi))
	return Curve{A: a, B: b, C: c.C, R: c.R, Sweep: sweep}
}

// merged makes one edge of pieces that run together, with the figures that lie on one side of it only; order has room for them.
func (l *edgeList) merged(order []int) edgeList {
	for i := range order {
		order[i] = i
		if l.ends[i][0] > l.ends[i][1] {
			l.edges[i].Curve = l.edges[i].Curve.Reversed()
			l.ends[i][0], l.ends[i][1] = l.ends[i][1], l.ends[i][0]
		}
	}
	slices.SortStableFunc(order, func(a, b int) int {
		if l.ends[a][0] != l.ends[b][0] {
			return int(l.ends[a][0] - l.ends[b][0])
		}
		return int(l.ends[a][1] - l.ends[b][1])
	})
	out := edgeList{edges: make([]Edge, 0, len(order)), ends: make([][2]int32, 0, len(order))}
	for i := 0; i < len(order); {
		start := len(out.edges)
		ends := l.ends[order[i]]
		for ; i < len(order) && l.ends[order[i]] == ends; i++ {
			e := l.edges[order[i]]
			if k := slices.IndexFunc(out.edges[start:], func(o Edge) bool { return together(&o.Curve, &e.Curve) }); k >= 0 {
				o := &out.edges[start+k]
				o.Figures, o.divides = append(o.Figures, e.Figures...), o.divides || e.divides
				if e.Curve.R > o.Curve.R { // whichever came first
					o.Curve = e.Curve
				}
				continue
			}
			out.edges = append(out.edges, e)
		}
		kept := out.edges[start:start]
		for _, e := range out.edges[start:] {
			if e.Figures = odd(e.Figures); len(e.Figures) > 0 || e.divides {
				kept = append(kept, e)
				out.ends = append(out.ends, ends)
			}
		}
		out.edges = out.edges[:start+len(kept)]
	}
	return out
}

// together tells whether two curves between the same vertices are one.
func together(a, b *Curve) bool {
	return a.At(0.5).Distance(b.At(0.5)) <= 3*Near
}

// odd sorts numbers and keeps those that occur an odd number of times.
func odd(ns []int) []int {
	slices.Sort(ns)
	out := ns[:0]
	for i := 0; i < len(ns); {
		j := i
		for j < len(ns) && ns[j] == ns[i] {
			j++
		}
		if (j-i)%2 == 1 {
			out = append(out, ns[i])
		}
		i = j
	}
	return out
}
