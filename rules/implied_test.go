package rules

import (
	"strings"
	"testing"
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
		{"wall.height > 2", "^true", "never reached"},
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
		_, ps := load(packText("    over: wall\n    basis: practice\n    says: x\n    need:\n      - {grade: change, that: \"" + c.first + "\"}\n      - {grade: ask, that: \"" + second + "\"}\n"))
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
