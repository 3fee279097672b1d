package rules

import "math"

// join lists the comparisons of all groups.
func join(groups [][]leaf) (all []leaf) {
	for _, g := range groups {
		all = append(all, g...)
	}
	return all
}

// anyOf marks comparisons of which one group would be enough. A group that is itself a choice gives all its ways;
// the comparisons of any other group are needed together, and numbered as one where there are several.
func anyOf(groups [][]leaf, n int) (all []leaf) {
	for _, g := range groups {
		if isChoice(g) {
			n += g[0].AnyOf - 1
		}
	}
	together := 0
	for _, g := range groups {
		number := 0
		if len(g) > 1 && n > 1 && !isChoice(g) {
			together++
			number = together
		}
		for _, l := range g {
			l.AnyOf, l.Together = n, number
			all = append(all, l)
		}
	}
	return all
}

// isChoice tells whether every comparison of a group would be enough by itself.
func isChoice(group []leaf) bool {
	for _, l := range group {
		if l.AnyOf == 0 || l.Together > 0 {
			return false
		}
	}
	return len(group) > 1
}

// nearestOf marks the comparisons of the element that misses least, of so many: any one of the elements would be
// enough. Where the element has a choice of its own, that one is marked.
func nearestOf(group []leaf, elements int) []leaf {
	if isChoice(group) {
		return group
	}
	return anyOf([][]leaf{group}, elements)
}

// least is the smallest slack of a group; a comparison without one does not count.
func least(group []leaf) float64 {
	m := math.Inf(1)
	for _, l := range group {
		if !math.IsNaN(l.slack) {
			m = min(m, l.slack)
		}
	}
	return m
}

// nearest returns the group that misses least, the first of several alike; groups without a number come last.
func nearest(groups [][]leaf) []leaf {
	missed := func(g []leaf) float64 {
		if m := least(g); !math.IsInf(m, 1) {
			return m
		}
		return math.Inf(-1)
	}
	best := groups[0]
	for _, g := range groups[1:] {
		if missed(g) > missed(best) {
			best = g
		}
	}
	return best
}

// widest returns, of groups of which one is enough, the one that holds with the most slack.
func widest(groups [][]leaf) []leaf {
	if len(groups) == 0 {
		return nil
	}
	best := groups[0]
	for _, g := range groups[1:] {
		if least(g) > least(best) {
			best = g
		}
	}
	return best
}
