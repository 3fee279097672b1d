package rules

import (
	"math"
	"math/big"
	"math/rand/v2"
	"testing"

	"corerod/parts/subject"

	"github.com/google/cel-go/common/operators"
)

// exact is what a comparison must give by the stated allowance, 1e-9 x max(1, |a|, |b|), in rationals. Where the
// difference and the allowance are so close that the last place of a double decides, either answer is right.
func exact(op string, a, b float64) (holds, either bool) {
	x, y := new(big.Rat).SetFloat64(a), new(big.Rat).SetFloat64(b)
	size := new(big.Rat).SetInt64(1)
	for _, v := range []*big.Rat{new(big.Rat).Abs(x), new(big.Rat).Abs(y)} {
		if v.Cmp(size) > 0 {
			size = v
		}
	}
	allowed := new(big.Rat).Mul(size, big.NewRat(1, 1_000_000_000))
	gap := new(big.Rat).Sub(x, y)
	beside := new(big.Rat).Abs(new(big.Rat).Sub(new(big.Rat).Abs(gap), allowed))
	either = beside.Cmp(new(big.Rat).Mul(size, big.NewRat(1, 1<<51))) <= 0
	switch op {
	case operators.Less:
		return gap.Cmp(new(big.Rat).Neg(allowed)) < 0, either
	case operators.LessEquals:
		return gap.Cmp(allowed) <= 0, either
	case operators.Greater:
		return gap.Cmp(allowed) > 0, either
	}
	return gap.Cmp(new(big.Rat).Neg(allowed)) >= 0, either
}

// beside is a random number at or near a limit: the limit itself, some last places off, some allowances off, or far.
func beside(r *rand.Rand, limit float64) float64 {
	sign := float64(r.IntN(2)*2 - 1)
	switch r.IntN(6) {
	case 0:
		return limit
	case 1:
		v := limit
		for range r.IntN(4) + 1 {
			v = math.Nextafter(v, v+sign)
		}
		return v
	case 2:
		return limit + sign*allowance(limit, limit)*r.Float64()*3
	case 3:
		return limit + sign*1e-6*r.Float64()
	case 4:
		return subject.Snap(limit + sign*float64(r.IntN(5))*1e-9)
	}
	return limit + sign*r.Float64()*math.Abs(limit)
}

// TestComparisonsExact compares at and beside random limits and holds every outcome against rationals.
func TestComparisonsExact(t *testing.T) {
	n := 1_000_000
	if testing.Short() {
		n = 10_000
	}
	r := rand.New(rand.NewPCG(20, 26))
	ops := []string{operators.Less, operators.LessEquals, operators.Greater, operators.GreaterEquals}
	undecided := 0
	for i := range n {
		limit := subject.Snap(math.Pow(10, r.Float64()*10-4))
		v, op := beside(r, limit), ops[i%len(ops)]
		want, either := exact(op, v, limit)
		if either {
			undecided++
			continue
		}
		if got := comparisons[op](v, limit); got != want {
			t.Fatalf("%v %s %v is %v", v, op, limit, got)
		}
	}
	if undecided > n/50 {
		t.Errorf("%d of %d comparisons lie where either answer is right", undecided, n)
	}
}

// TestComparisonsInExpressions runs a share of the same comparisons as compiled needs: the limit in the pack, the
// measure on a wall.
func TestComparisonsInExpressions(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 7))
	for _, limit := range []float64{0.25, 1.5, 8, 2270, 100_000} {
		for symbol, op := range map[string]string{"<": operators.Less, "<=": operators.LessEquals, ">": operators.Greater,
			">=": operators.GreaterEquals} {
			p := quiet()
			for range 200 {
				p.Walls = append(p.Walls, wall(math.Abs(beside(r, limit))+1e-3))
			}
			b := bookOf(t, withNeed("wall", "wall.thickness "+symbol+" "+new(big.Rat).SetFloat64(limit).FloatString(2)))
			found := map[subject.Subject]bool{}
			for _, f := range b.Judge(Case{Part: p, Unit: "mm"}).Findings {
				found[f.Subject] = true
			}
			for _, w := range p.Walls {
				want, either := exact(op, subject.Snap(w.Thickness), limit)
				if !either && found[w] == want {
					t.Errorf("%v %s %v: found %v", w.Thickness, symbol, limit, found[w])
				}
			}
		}
	}
}
