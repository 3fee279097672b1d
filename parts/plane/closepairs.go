package plane

import "slices"

// closePairs returns the pairs i < j whose boxes come within Near, in order.
func closePairs(n int, bounds func(int) box) [][2]int {
	boxes := make([]box, n)
	order := make([]int, n)
	for i := range boxes {
		boxes[i], order[i] = bounds(i), i
	}
	slices.SortFunc(order, func(a, b int) int {
		switch {
		case boxes[a].lo.X < boxes[b].lo.X:
			return -1
		case boxes[a].lo.X > boxes[b].lo.X:
			return 1
		}
		return a - b
	})
	var pairs [][2]int
	for x, i := range order {
		for _, j := range order[x+1:] {
			if boxes[j].lo.X > boxes[i].hi.X+Near {
				break
			}
			if boxes[i].meets(boxes[j], Near) {
				pairs = append(pairs, [2]int{min(i, j), max(i, j)})
			}
		}
	}
	slices.SortFunc(pairs, func(a, b [2]int) int {
		if a[0] != b[0] {
			return a[0] - b[0]
		}
		return a[1] - b[1]
	})
	return pairs
}
