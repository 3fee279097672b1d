package rules

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"corerod/parts/subject"
)

// TestNeverReached reads rules of two needs; ^ marks the problem in the second one, where there is one.
func TestNeverReached(t *testing.T) {
	for _, c := range []struct{ first, second, message string }{
		{"wall.thickness >= limits.least", "wall.thickness ^>= limits.special", "never reached"},
		{"wall.thickness >= 1.5", "wall.thickness ^>= 1.5", "the same as the `change` before it"},
		{"wall.thickness >= 1.5", "wall.thickness ^>= limits.least", "the same as"},
		{"wall.thickness >= limits.least", "limits.special ^<= wall.thickness", "never reached"},
		{"wall.thickness > 1", "wall.thickness ^>= 1", "never reached"},
		{"wall.thickness <= 1", "wall.thickness ^< limits.least", "never reached"},
		{"!(wall.thickness < 2)", "wall.thickness ^>= 1", "never reached"},
		{"wall.thickness == 2", "wall.thickness ^<= 3", "never reached"},
		{"wall.web && wall.height < 2 * limits.least", "wall.height ^<= 4 - 1", "never reached"},
		{"wall.web", "^wall.web || wall.height > 1", "never reached"},
		{"wall.height > 2 && wall.length > 3", "^wall.length > 2 && wall.height > 1", "never reached"},
		{"wall.web ? wall.height > 2 : wall.height > 3", "^wall.web ? wall.height > 1 : wall.height > 3", "never reached"},
		{"part.walls.all(w, w.height > 2)", "^part.walls.all(v, v.height > 1)", "never reached"},
		{"!part.walls.exists(w, w.height < 2)", "^!part.walls.exists(v, v.height < 1)", "never reached"},
		{"wall.height > 2", "^true", "always met"},
		{"wall.thickness >= limits.special", "wall.thickness >= limits.least", ""},
		{"wall.thickness >= 1", "wall.thickness > 1", ""},
		{"wall.thickness >= 1", "wall.thickness <= 1", ""},
		{"wall.thickness >= 1", "wall.height >= 0.5", ""},
		{"wall.web || wall.height > 1", "wall.web", ""},
		{"wall.web ? true : wall.height > 2", "wall.web ? wall.height > 1 : true", ""},
		{"part.walls.all(w, w.height > 2)", "part.walls.exists(w, w.height > 1)", ""},
		{"part.walls.all(w, w.height > 2)", "part.gaps.all(w, w.depth > 1)", ""},
	} {
		second := strings.Replace(c.second, "^", "", 1)
		_, ps := load(packText("    over: wall\n    basis: practice\n    says: x\n    need:\n      - {grade: change, that: \"" + c.first +
			"\"}\n      - {grade: ask, that: \"" + second + "\"}\n"))
		if c.message == "" {
			if len(ps) > 0 {
				t.Errorf("%s, then %s: %s", c.first, second, listed(ps))
			}
			continue
		}
		column := 29 + len([]rune(c.second[:strings.Index(c.second, "^")]))
		if len(ps) != 1 || ps[0].Line != 25 || ps[0].Column != column || !strings.Contains(ps[0].Message, c.message) {
			t.Errorf("%s, then %s, want column %d: %s", c.first, second, column, listed(ps))
		}
	}
}

// condition is a random condition on a wall, with figures and limits close to each other.
func condition(r *rand.Rand, depth int) string {
	if depth == 0 || r.IntN(4) == 0 {
		figure := []string{"1", "1.5", "2", "limits.least", "limits.special", "limits.guess", "limits.least * 2",
			"1 + 0.000000001"}[r.IntN(8)]
		measure := []string{"wall.thickness", "wall.height"}[r.IntN(2)]
		op := []string{"<", "<=", ">", ">=", "==", "!="}[r.IntN(6)]
		switch r.IntN(5) {
		case 0:
			return "wall.web"
		case 1:
			return figure + " " + op + " " + measure
		}
		return measure + " " + op + " " + figure
	}
	a, b := condition(r, depth-1), condition(r, depth-1)
	switch r.IntN(5) {
	case 0, 1:
		return "(" + a + " && " + b + ")"
	case 2:
		return "(" + a + " || " + b + ")"
	case 3:
		return "!(" + a + ")"
	}
	return "(wall.web ? " + a + " : " + b + ")"
}

// TestImpliedIsTrue takes pairs of random conditions of which one is said to follow from the other, and looks for a
// wall that meets the one and not the other.
func TestImpliedIsTrue(t *testing.T) {
	pairs := 3000
	if testing.Short() {
		pairs = 500
	}
	r := rand.New(rand.NewPCG(3, 4))
	p, ps := load(withNeed("wall", "wall.web"))
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	env, implied := p.env(), 0
	for range pairs {
		a, b := env.expression(condition(r, 2)), env.expression(condition(r, 2))
		if a.run == nil || b.run == nil {
			t.Fatalf("%s %s: %v %v", string(a.text), string(b.text), a.faults, b.faults)
		}
		m := implication{pack: p, a: a.tree, b: b.tree, names: map[string]string{}}
		if !m.holds(a.tree.Expr(), b.tree.Expr()) {
			continue
		}
		implied++
		for range 60 {
			w := &subject.Wall{Web: r.IntN(2) == 0, Thickness: near(r), Height: near(r)}
			s := (&Book{}).scene(Case{Part: alone(w), Unit: "mm"})
			in := &bound{scene: s, over: s.of(subject.WallKind)[0], limits: env.limits}
			if x, _ := a.holds(in); !x {
				continue
			}
			if y, _ := b.holds(in); !y {
				t.Fatalf("%s does not imply %s: %+v", string(a.text), string(b.text), fmt.Sprint(w.Web, w.Thickness, w.Height))
			}
		}
	}
	if implied < pairs/50 {
		t.Errorf("only %d of %d pairs are said to be implied", implied, pairs)
	}
}

// near is a number at or beside one of the figures of random conditions.
func near(r *rand.Rand) float64 {
	at := []float64{0.5, 0.8, 1, 1.5, 2, 3, 4}[r.IntN(7)]
	return at + []float64{0, 0, 0, 1e-9, -1e-9, 2e-9, -2e-9, 3e-9, 1e-6, -1e-6}[r.IntN(10)]
}
