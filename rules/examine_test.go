package rules

import (
	"strings"
	"testing"
	"time"
)

// TestMarked reads expressions in which ^ marks the character that the problem stands at.
func TestMarked(t *testing.T) {
	for _, c := range []struct{ over, that, message string }{
		{"wall", "wall.^thicknes >= 1", "unknown measure `wall.thicknes`; did you mean `thickness`?"},
		{"wall", "^wal.thickness >= 1", "unknown name `wal`; did you mean `wall`?"},
		{"wall", "wall.thickness >= limits.^leest", "unknown limit `leest`; did you mean `least`?"},
		{"wall", "wall.thickness ^>= '2'", "`>=` compares two numbers, not a number and text"},
		{"wall", "1 <= wall.thickness ^<= 2", "`<=` compares two numbers, not true or false and a number; write a chain as `a <= b && b <= c`"},
		{"wall", "wall.web && ^wall.thickness", "here stands a number, where true or false is needed"},
		{"wall", "wall.name ^== 2", "`==` compares two values of one type, not text and a number"},
		{"wall", "wall.web ^+ 1 > 2", "`+` calculates with two numbers, not true or false and a number"},
		{"wall", "^wall.thickness", "`that` gives a number; it must give true or false, as a comparison does"},
		{"wall", "  ^wall.thickness + 1", "`that` gives a number; it must give true or false, as a comparison does"},
		{"wall", "wall.thickness >= 1 ^and wall.web", "`and` cannot stand here; write `&&`"},
		{"wall", "wall.thickness ^=> 1", "`=>` cannot stand here; write `>=`"},
		{"wall", "wall.thickness ^= 1", "`=` cannot stand here; write `==`"},
		{"wall", "wall.thickness ^≥ 1", "`≥` cannot stand here; write `>=`"},
		{"wall", "wall.thickness >= 1^,5", "a comma cannot stand here; numbers are written with a point"},
		{"wall", "wall.thickness >=^", "the expression ends too early"},
		{"wall", "^hole.width > 1", "`hole` is not bound here: the rule is over `wall`; all of that kind are in `part.holes`"},
		{"wall", "part.walls.^map(w, w.thickness) == []", "unknown function `map`; write `all`, `exists` or `filter` to ask of each element, `sum`, `least` or `greatest` for one number of all"},
		{"wall", "wall.name.^matches('a')", "unknown function `matches`; write `startsWith`, `endsWith` or `contains`"},
		{"wall", "wall.height ^% 2 == 0", "the operator `%` is not available"},
		{"wall", "part.walls^[0].web", "`[ ]` may reach past the list; it stands only in `says`"},
		{"wall", "size([^length(wall.thickness)]) > 1", "`length` prints a number; it stands only in `says`"},
		{"wall", "wall.name != ^null", "`null` is not available"},
		{"wall", "wall.thickness > ^1u", "write the number without `u`"},
		{"wall", "wall.name == ^b'a'", "only numbers, text, true and false can be written"},
		{"wall", "wall.thickness > ^1e999", "the number is out of range"},
		{"wall", "size(^{'a': 1}) == 1", "`{ }` values are not available in expressions"},
		{"wall", "part.walls.all(^hole, hole.thickness > 1)", "`hole` already names a kind of subject; choose another name"},
		{"wall", "part.walls.all(^limits, true)", "`limits` already names the limits; choose another name"},
		{"wall", "part.walls.all(^table, true)", "`table` already names a function; choose another name"},
		{"wall", "part.walls.all(w, part.walls.all(^w, w.web))", "`w` already names the variable of the comprehension around it"},
		{"wall", "part.walls.all(w, w.^thick > 1)", "unknown measure `wall.thick`"},
		{"wall", "part.walls.filter(w, w.web).all(v, v.^thickn > 1)", "unknown measure `wall.thickn`; did you mean `thickness`?"},
		{"wall", "wall.thickness.^mm > 1", "`mm` cannot be read here: `wall.thickness` has no measures"},
		{"wall", "part.walls.^web", "`part.walls` is a list; ask its elements, as in `part.walls.all(x, x.web ...)`"},
		{"wall", "wall.thickness in [1, ^'a']", "here stands text, where a number is needed"},
		{"hole", "hole.^bore > 1", "`hole.bore` may be absent; ask first: `has(hole.bore) && ...`, here or in `when`"},
		{"hole", "hole.^bore > 1 && has(hole.bore)", "`hole.bore` may be absent"},
		{"hole", "has(hole.bore) || hole.^bore > 1", "`hole.bore` may be absent"},
		{"hole", "has(hole.bore) ? true : hole.^bore > 1", "`hole.bore` may be absent"},
		{"hole", "has(hole.floor) && hole.^bore > 1", "`hole.bore` may be absent"},
		{"hole", "part.holes.all(h, has(h.bore)) && part.holes.all(h, h.^bore > 1)", "`h.bore` may be absent"},
		{"hole", "has(hole.^boer)", "unknown measure `hole.boer`; did you mean `bore`?"},
		{"hole", "material.^name == 'x'", "`material.name` may be absent"},
		{"hole", "hole.open == ^'botom'", "`open` is never `botom`; did you mean `bottom`?"},
		{"hole", "hole.open in ['top', ^'side']", "`open` is never `side`; known are `top`, `bottom`, `both`"},
		{"hole", "hole.depth ^/ hole.draft > 1", "the divisor may be 0"},
		{"hole", "hole.depth ^/ 0 > 1", "the divisor may be 0"},
		{"hole", "hole.depth ^/ limits.nothing > 1", "the divisor may be 0"},
		{"hole", "hole.depth ^/ (hole.width - 1) > 1", "the divisor may be 0"},
		{"hole", "hole.depth ^/ table('mixed', hole.width) > 1", "the divisor may be 0"},
		{"hole", "table(^'depth', hole.width) > 1", "unknown table `depth`; did you mean `depths`?"},
		{"hole", "table(^hole.name, hole.width) > 1", "the name of a table is written out, in quotes"},
		{"hole", "part.holes.all(a, part.holes.all(b, part.holes.all^(c, true)))", "comprehensions are nested deeper than 2"},
	} {
		at := strings.Index(c.that, "^")
		_, ps := load(withNeed("wall", strings.Replace(c.that, "^", "", 1)))
		if c.over != "wall" {
			_, ps = load(withNeed(c.over, strings.Replace(c.that, "^", "", 1)))
		}
		if len(ps) != 1 {
			t.Errorf("%s: %d problems\n%s", c.that, len(ps), listed(ps))
			continue
		}
		// The need's text begins in column 32 of line 23; each quote before the mark is written twice.
		column := 32 + len([]rune(c.that[:at])) + strings.Count(c.that[:at], "'")
		if p := ps[0]; p.Line != 23 || p.Column != column || !strings.Contains(p.Message, c.message) {
			t.Errorf("%s: at %d:%d, want column %d: %s", c.that, p.Line, p.Column, column, p.Message)
		}
	}
}

// TestAllowed reads expressions that nothing is wrong with.
func TestAllowed(t *testing.T) {
	for _, c := range []struct{ over, that string }{
		{"wall", "wall.thickness >= 2 && -2 < wall.thickness"},
		{"wall", "wall.height / 2 + 1 <= 8 * wall.thickness"},
		{"wall", "wall.thickness in [1, 2.5, 3]"},
		{"wall", "'hub' in wall.between && size(wall.between) == 2 && wall.between.size() == 2"},
		{"wall", "part.walls.exists_one(w, w == wall)"},
		{"wall", "size(part.walls.filter(w, w.web) + part.walls) > 1"},
		{"wall", "wall.length / (wall.height + limits.least) > least(1, abs(-2)) + wall.ratio * greatest(0, abs(1))"},
		{"hole", "has(hole.bore) && hole.bore > 1"},
		{"hole", "has(hole.bore) ? hole.bore > 1 : hole.width > 1"},
		{"hole", "!has(hole.bore) ? true : hole.bore > 1"},
		{"hole", "!has(hole.bore) || hole.bore > 1"},
		{"hole", "part.holes.all(h, has(h.bore) && h.bore > 1)"},
		{"hole", "has(material.density_low) && material.density_low > 1"},
		{"hole", "hole.depth / table('depths', hole.width) > 1 && within('depths', hole.depth)"},
		{"hole", "hole.open != 'both'"},
		{"wall", "wall.thickness + from_inch(1) > limits.least * wall.ratio && wall.height * wall.length < 3 * part.plan_area"},
		{"wall", "part.volume / part.plan_area > wall.height"},
	} {
		if _, ps := load(withNeed(c.over, c.that)); len(ps) > 0 {
			t.Errorf("%s: %v", c.that, ps)
		}
	}
}

// TestPresentByWhen lets `when` ask for an optional measure once, for needs and text.
func TestPresentByWhen(t *testing.T) {
	rule := packText(
		"    over: hole\n    basis: practice\n    when: has(hole.bore)\n    says: '{mm(hole.bore)}'\n    need: [{grade: ask, that: hole.bore > 1}]\n")
	if _, ps := load(rule); len(ps) > 0 {
		t.Error(ps)
	}
	_, ps := load(strings.Replace(rule, "    when: has(hole.bore)\n", "", 1))
	if got := listed(ps); strings.Count(got, "`hole.bore` may be absent") != 2 {
		t.Error(got)
	}
}

// TestPlaces places one misspelt measure in every style in which YAML writes text.
func TestPlaces(t *testing.T) {
	for style, need := range map[string]string{
		"plain":         "      - grade: ask\n        that: wall.thicknes > 1 && wall.web\n",
		"plain lines":   "      - grade: ask\n        that: wall.web &&\n          wall.thicknes > 1\n",
		"single":        "      - {grade: ask, that: 'wall.name == ''é'' && wall.thicknes > 1'}\n",
		"double":        "      - {grade: ask, that: \"wall.name == \\\"\\u00e9\\\" && wall.thicknes > 1\"}\n",
		"double lines":  "      - grade: ask\n        that: \"wall.web && \\\n          wall.thicknes > 1\"\n",
		"literal":       "      - grade: ask\n        that: |\n\n          wall.web &&\n            wall.thicknes > 1\n",
		"folded":        "      - grade: ask\n        that: >-\n          wall.web &&\n          wall.height > 1 &&\n\n          wall.thicknes > 1\n",
		"after comment": "      - grade: ask\n        that: | # why\n          // é, and a reason\n          wall.thicknes > 1\n",
	} {
		text := packText("    over: wall\n    basis: practice\n    says: x\n    need:\n" + need)
		for name, text := range map[string]string{"lf": text, "crlf": strings.ReplaceAll(text, "\n", "\r\n"), "mark": "\ufeff" + text} {
			_, ps := load(text)
			if len(ps) != 1 {
				t.Errorf("%s, %s: %v", style, name, ps)
				continue
			}
			line := []rune(strings.Split(strings.TrimPrefix(text, "\ufeff"), "\n")[ps[0].Line-1])
			if got := string(line[ps[0].Column-1:]); !strings.HasPrefix(got, "thicknes >") {
				t.Errorf("%s, %s: placed at %d:%d, %q", style, name, ps[0].Line, ps[0].Column, got)
			}
		}
	}
}

// TestAllTogether reports every problem of an expression's names at once.
func TestAllTogether(t *testing.T) {
	_, ps := load(withNeed("wall", "wall.thick > limits.leest && wal.web"))
	if len(ps) != 3 {
		t.Error(listed(ps))
	}
}

// TestHostile reads expressions that would take seconds or gigabytes without bounds.
func TestHostile(t *testing.T) {
	deep := strings.Repeat("part.walls.all(w, ", 40) + "true" + strings.Repeat(")", 40)
	for name, that := range map[string]string{
		"long":       strings.Repeat("true && ", 300) + "true",
		"brackets":   "size(" + strings.Repeat("[", 200) + strings.Repeat("]", 200) + ") == 0",
		"parens":     strings.Repeat("(", 400) + "true" + strings.Repeat(")", 400),
		"nested":     deep,
		"negations":  strings.Repeat("!", 1900) + "true",
		"minus":      strings.Repeat("- ", 900) + "1 > 0",
		"quote":      "wall.name == \"" + strings.Repeat("x", 5000) + "\"",
		"unclosed":   "wall.name == 'x",
		"empty":      " ",
		"characters": "wall.name == 'a' \\ 'b'",
	} {
		begin := time.Now()
		p, ps := load(withNeed("wall", that))
		inTime(t, name, begin, 2*time.Second)
		if p != nil && name != "negations" && name != "minus" || p == nil && len(ps) == 0 {
			t.Errorf("%s: loaded %v, problems %v", name, p != nil, ps)
		}
	}
}

// TestNoneKnown: where there is nothing to choose from, the message says so.
func TestNoneKnown(t *testing.T) {
	before, _, _ := strings.Cut(head, "tables:\n")
	text := before + strings.TrimPrefix(withNeed("hole", "table('depth', hole.width) > 1"), head)
	if _, ps := load(text); len(ps) != 1 || !strings.Contains(ps[0].Message, "unknown table `depth`; none is known") {
		t.Errorf("%v", ps)
	}
}
