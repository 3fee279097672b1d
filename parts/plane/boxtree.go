package plane

import "math"

// tree finds the pieces near a point: a binary tree of boxes. Pieces follow each other along their rings, so halves of their
// order lie near each other.
type tree struct {
	pieces []Piece
	order  []int32
	nodes  []treeNode
}

type treeNode struct {
	box         box
	first, last int32 // pieces of a leaf, in order; of a branch, its two children
	leaf        bool
}

func newTree(pieces []Piece) *tree { return treeOf(pieces, func(int) bool { return true }) }

// treeOf holds the pieces whose owner is kept.
func treeOf(pieces []Piece, kept func(owner int) bool) *tree {
	t := &tree{pieces: pieces}
	boxes := make([]box, len(pieces))
	for i := range pieces {
		if kept(pieces[i].Owner) {
			boxes[i] = pieces[i].Curve.bounds()
			t.order = append(t.order, int32(i))
		}
	}
	if len(t.order) > 0 {
		t.nodes = append(t.nodes, treeNode{})
		t.build(0, 0, len(t.order), boxes)
	}
	return t
}

func (t *tree) build(node, first, last int, boxes []box) {
	b := boxes[t.order[first]]
	for _, i := range t.order[first+1 : last] {
		b = b.join(boxes[i])
	}
	if last-first <= 4 {
		t.nodes[node] = treeNode{b, int32(first), int32(last), true}
		return
	}
	l := len(t.nodes)
	t.nodes = append(t.nodes, treeNode{}, treeNode{})
	t.nodes[node] = treeNode{b, int32(l), int32(l + 1), false}
	half := (first + last) / 2
	t.build(l, first, half, boxes)
	t.build(l+1, half, last, boxes)
}

// visit calls f for the pieces whose box comes nearer to p than within, which f may shrink.
func (t *tree) visit(p Point, within float64, f func(piece int) float64) {
	if len(t.nodes) == 0 {
		return
	}
	var stack [64]int32
	n := 1
	for n > 0 {
		n--
		d := &t.nodes[stack[n]]
		if d.box.distance(p) >= within {
			continue
		}
		if d.leaf {
			for _, i := range t.order[d.first:d.last] {
				within = f(int(i))
			}
			continue
		}
		a, b := d.first, d.last
		if t.nodes[a].box.distance(p) < t.nodes[b].box.distance(p) {
			a, b = b, a
		}
		stack[n], stack[n+1] = a, b
		n += 2
	}
}

// distance from a point to the nearest piece.
func (t *tree) distance(p Point) float64 {
	best := math.Inf(1)
	t.visit(p, best, func(i int) float64 {
		best = math.Min(best, t.pieces[i].Curve.Distance(p))
		return best
	})
	return best
}

// free tells whether no piece comes nearer to p than r.
func (t *tree) free(p Point, r float64) bool {
	free := true
	t.visit(p, r, func(i int) float64 {
		if t.pieces[i].Curve.Distance(p) < r {
			free = false
			return 0
		}
		return r
	})
	return free
}

// search calls f for every piece whose box a zone may meet, in no order.
func (t *tree) search(in zone, f func(piece int)) {
	if len(t.nodes) == 0 {
		return
	}
	var stack [64]int32
	n := 1
	for n > 0 {
		n--
		d := &t.nodes[stack[n]]
		if !in(Disc{d.box.lo.mid(d.box.hi), d.box.lo.Distance(d.box.hi) / 2}) {
			continue
		}
		if d.leaf {
			for _, i := range t.order[d.first:d.last] {
				f(int(i))
			}
			continue
		}
		stack[n], stack[n+1] = d.first, d.last
		n += 2
	}
}
