package checker

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"sync/atomic"
	"testing"
	"time"
)

// TestInOrder: results come in the order of the jobs, each once, on any number of workers, and none is done much before it is
// taken.
func TestInOrder(t *testing.T) {
	for _, workers := range []int{0, 1, 2, 3, 16} {
		for _, n := range []int{0, 1, 2, 5, 200} {
			var begun atomic.Int64
			var got []int
			taken := 0
			inOrder(n, workers, func(i int) int {
				begun.Add(1)
				time.Sleep(time.Duration(rand.IntN(200)) * time.Microsecond)
				return i
			}, func(i int) {
				got = append(got, i)
				taken++
				if open := int(begun.Load()) - taken; open > (ahead+2)*max(1, workers) {
					t.Errorf("%d workers: %d results wait", workers, open)
				}
				if i%50 == 0 {
					time.Sleep(2 * time.Millisecond) // who takes them is slow at times
				}
			})
			want := make([]int, n)
			for i := range want {
				want[i] = i
			}
			if !slices.Equal(got, want) {
				t.Errorf("%d workers: %s", workers, fmt.Sprint(got))
			}
		}
	}
}
