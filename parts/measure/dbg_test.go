package measure

import (
	"fmt"
	"os"
	"testing"

	"corerod/parts/blank"
	"corerod/parts/form"
	"corerod/parts/plane"
)

func TestDbg(t *testing.T) {
	b, err := os.ReadFile(os.Getenv("PART"))
	if err != nil {
		t.Skip()
	}
	p, ps := form.Parse("x.yaml", b)
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	s, ps := blank.Make(p)
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	var x, y, r, lo, hi float64
	fmt.Sscan(os.Getenv("AT"), &x, &y, &r)
	fmt.Sscan(os.Getenv("Z"), &lo, &hi)
	for k := range s.Slabs() {
		fmt.Printf("slab %d half %d %.7f..%.7f\n", k, s.Half(k), s.Low(k), s.High(k))
	}
	ns := findNecks(s)
	in := func(n *plane.Neck) bool { return s.ToPart(n.Middle()).Distance(plane.Point{X: x, Y: y}) < r }
	for k := range s.Slabs() {
		if s.Half(k) > 0 {
			continue
		}
		for _, q := range spansOf(s, ns, k, func(x *section, n *plane.Neck) bool { return os.Getenv("VOID") == "" || n.Void }) {
			if in(&q.neck) {
				fmt.Printf("span slab %d %.6f..%.6f w %.7f len %.6f void %v bottom %v top %v at %.5v found z %.5f slide %v along %v low %.10f\n", k, q.low, q.high, q.neck.Width, q.neck.Length, q.neck.Void, q.bottom != nil, q.top != nil, s.ToPart(q.neck.Middle()), q.in.z, q.path != nil && q.path.sliding(&q.path.found), q.path != nil && q.path.along != nil, q.low)
			}
		}
	}
	for i := 0; i <= 20; i++ {
		z := lo + (hi-lo)*float64(i)/20
		rg := s.SectionAt(z)
		if rg == nil {
			continue
		}
		for _, n := range ns.of(rg) {
			if in(&n) {
				fmt.Printf("z %.4f neck w %.7f len %.6f void %v at %.5v\n", z, n.Width, n.Length, n.Void, s.ToPart(n.Middle()))
			}
		}
	}
}
