package checker

import (
	"cmp"
	"math"

	"corerod/rules"
)

// What is worse is told in two steps everywhere: by the grade (rules.Grade.Worse), then by what is missing. An order of findings
// takes the sum of what one misses as shares of its limits (Missing, WorstFirst). What became of a finding is told measure by measure
// (package compare), so that one that eased does not hide one that got worse.

// Missing is by how much a finding misses, as a share of its limits: of all that are needed together, or of the nearest
// way that would do. It is false where the finding misses by no number.
func Missing(f *rules.Finding) (sum float64, numeric bool) {
	ways := map[int]float64{} // of which one would do: those of one number together, and single ones below 0
	for i := range f.Compared {
		c := &f.Compared[i]
		limit, ok := c.Limit.(float64)
		if !ok || c.MissesBy == nil {
			continue
		}
		numeric = true
		m := *c.MissesBy / math.Max(math.Abs(limit), leastLimit)
		switch {
		case c.AnyOf == 0:
			sum += m
		case c.Together > 0:
			ways[c.Together] += m
		default:
			ways[-1-i] = m
		}
	}
	least := math.Inf(1)
	for _, m := range ways {
		least = math.Min(least, m)
	}
	if len(ways) > 0 {
		sum += least
	}
	return math.Max(sum, leastMiss), numeric
}

// WorstFirst orders findings: the worse grade first, then what misses by more, as Missing has it.
func WorstFirst(a, b *rules.Finding) int {
	if by := byGrade(a.Grade, b.Grade); by != 0 {
		return by
	}
	x, _ := Missing(a)
	y, _ := Missing(b)
	return cmp.Compare(y, x)
}

// byGrade orders grades, the worst first.
func byGrade(a, b rules.Grade) int {
	switch {
	case a.Worse(b):
		return -1
	case b.Worse(a):
		return 1
	}
	return 0
}
