package rules

import (
	"fmt"
	"strings"
	"testing"
)

// marked are expressions with « before the character that the one problem stands at, and the message's key words;
// without « the expression loads.
var marked = []struct{ over, that, message string }{
	// Names.
	{"wall", "wall.«thicknes >= 1", "did you mean `thickness`?"},
	{"wall", "wall.height > 1 && wall.«thicknes >= 1", "did you mean `thickness`?"},
	{"wall", "«wal.thickness >= 1", "did you mean `wall`?"},
	{"wall", "«Wall.thickness >= 1", "unknown name `Wall`"},
	{"wall", "«thickness >= 1", "unknown name `thickness`"},
	{"wall", "wall.web == «True", "did you mean `true`?"},
	{"wall", "wall.web != «FALSE", "did you mean `false`?"},
	{"wall", "«limit.least < wall.height", "did you mean `limits`?"},
	{"wall", "wall.thickness >= limits.«leest", "did you mean `least`?"},
	{"wall", "wall.thickness >= limits.«wall_ratio", "unknown limit `wall_ratio`"},
	{"wall", "part.«wals.all(w, w.web)", "did you mean `walls`?"},
	{"wall", "part.walls.all(w, w.«thick > 1)", "unknown measure `wall.thick`"},
	{"wall", "part.walls.all(w, «v.web)", "unknown name `v`"},
	{"wall", "part.walls.filter(w, w.web).all(v, v.«thickn > 1)", "did you mean `thickness`?"},
	{"wall", "part.walls.exists(w, w.web) && «w.web", "unknown name `w`"},
	{"wall", "«hole.width > 1", "`hole` is not bound here"},
	{"wall", "size(part.walls) > size(«step.rise)", "`step` is not bound here"},
	{"wall", "wall.thickness.«mm > 1", "`mm` cannot be read here"},
	{"wall", "part.walls.«web", "`part.walls` is a list; ask its elements, as in `part.walls.all(x, x.web ...)`"},
	{"hole", "has(hole.«boer)", "did you mean `bore`?"},
	{"hole", "has(material.«densty_low)", "did you mean `density_low`?"},

	// Signs and words of other languages.
	{"wall", "wall.thickness >= 1 «and wall.web", "write `&&`"},
	{"wall", "wall.thickness >= 1 «AND wall.web", "write `&&`"},
	{"wall", "wall.web «or wall.height > 1", "write `||`"},
	{"wall", "wall.web «and (wall.height > 1)", "write `&&`"},
	{"wall", "«not wall.web", "write `!`"},
	{"wall", "«not(wall.web)", "write `!`"},
	{"wall", "wall.height > 1 && «not wall.web", "write `!`"},
	{"wall", "wall.web «is true", "write `==`"},
	{"wall", "wall.thickness «=> 1", "write `>=`"},
	{"wall", "wall.thickness «=< 1", "write `<=`"},
	{"wall", "wall.thickness «<> 1", "write `!=`"},
	{"wall", "wall.thickness «= 1", "write `==`"},
	{"wall", "wall.thickness «=== 1", "write `==`"},
	{"wall", "wall.web «& wall.plain_bush", "write `&&`"},
	{"wall", "wall.web «| wall.plain_bush", "write `||`"},
	{"wall", "wall.thickness «≥ 1", "write `>=`"},
	{"wall", "wall.thickness «≤ 1", "write `<=`"},
	{"wall", "wall.thickness «≠ 1", "write `!=`"},
	{"wall", "wall.thickness «× 2 > 1", "write `*`"},
	{"wall", "wall.thickness «− 2 > 1", "write `-`"},
	{"wall", "wall.thickness «^ 2 > 1", "write `*`"},
	{"wall", "wall.thickness «** 2 > 1", "write `*`"},
	{"wall", "«~wall.web", "write `!`"},
	{"wall", "wall.name == «“rim”", "write `\"`"},
	{"wall", "wall.name == «‘rim’", "write `'`"},
	{"wall", "wall.web «; wall.plain_bush", "joined by `&&`"},

	// Numbers.
	{"wall", "wall.thickness >= 2«,5", "written with a point"},
	{"wall", "wall.thickness >= 2«, 5", "written with a point"},
	{"wall", "(wall.thickness - 0«,5) > 1", "written with a point"},
	{"wall", "wall.thickness >= «2mm", "without unit"},
	{"wall", "wall.thickness >= 2 «mm", "without unit"},
	{"wall", "wall.thickness >= «2.5mm && wall.web", "without unit"},
	{"wall", "wall.thickness >= «1.2.3", "is no number"},
	{"wall", "wall.ratio <= 15 «%", "without unit"},
	{"wall", "wall.thickness > «1e999", "out of range"},
	{"wall", "wall.thickness > «99999999999999999999", "out of range"},
	{"wall", "wall.thickness > «1u", "without `u`"},
	{"wall", "wall.thickness > 1 && wall.height < «2u", "without `u`"},

	// Brackets and quotes.
	{"wall", "«(wall.thickness > 1", "this `(` is not closed"},
	{"wall", "wall.web && «(wall.thickness > 1", "this `(` is not closed"},
	{"wall", "part.walls.all«(w, w.web", "this `(` is not closed"},
	{"wall", "wall.thickness in «[1, 2", "this `[` is not closed"},
	{"wall", "wall.thickness > 1«)", "closes no bracket"},
	{"wall", "(wall.thickness > 1«]", "closes no bracket"},
	{"wall", "wall.name == «'rim", "is not closed"},
	{"wall", "wall.name == «\"rim", "is not closed"},

	// Other texts that cannot be read.
	{"wall", "wall.thickness >=«", "ends too early"},
	{"wall", "wall.web &&«", "ends too early"},
	{"wall", "wall.thickness >= «>= 1", "cannot be read from `>=` on"},
	{"wall", "«* wall.thickness > 1", "cannot be read from `*` on"},
	{"wall", "wall.web «wall.web", "cannot be read from `wall` on"},
	{"wall", "wall.thickness > 1 ? true«", "ends too early"},
	{"wall", "wall«.2 > 1", "cannot be read"},
	{"wall", "«if wall.web", "cannot be read from `if` on"},

	// Types.
	{"wall", "wall.thickness «>= '2'", "not a number and text"},
	{"wall", "'2' «<= wall.thickness", "not text and a number"},
	{"wall", "wall.name «== 2", "not text and a number"},
	{"wall", "wall.web «== 1", "not true or false and a number"},
	{"wall", "wall.web «> 1", "compares two numbers"},
	{"wall", "wall.web «+ 1 > 2", "calculates with two numbers"},
	{"wall", "wall.name «+ 'x' == 'rimx'", "calculates with two numbers"},
	{"wall", "wall.height «* wall.web > 1", "calculates with two numbers"},
	{"wall", "«-wall.web", "needs a number"},
	{"wall", "1 <= wall.thickness «<= 2", "write a chain as `a <= b && b <= c`"},
	{"wall", "1 < wall.thickness «< 2 && wall.web", "write a chain"},
	{"wall", "wall.web && «wall.thickness", "where true or false is needed"},
	{"wall", "«wall.name || wall.web", "where true or false is needed"},
	{"wall", "«!wall.thickness", "`!` needs true or false, not a number"},
	{"wall", "wall.thickness «? true : false", "needs true or false before it"},
	{"wall", "(wall.web «? 1 : 'a') == 1", "of one type"},
	{"wall", "«wall.thickness", "`that` gives a number"},
	{"wall", "«wall.name", "`that` gives text"},
	{"wall", "«part.walls", "`that` gives a list"},
	{"wall", "«wall", "`that` gives the wall"},
	{"wall", "«'a'", "`that` gives text"},
	{"wall", "wall.thickness in [1, «'a']", "here stands text, where a number is needed"},
	{"wall", "wall.thickness «in wall.height", "`in` needs a value and a list"},
	{"wall", "wall.thickness «in wall.between", "`in` needs a value and a list"},
	{"wall", "abs«(wall.name) > 1", "`abs` takes one number, not text"},
	{"wall", "size«(wall.web) > 1", "`size` takes a list or a text, not true or false"},
	{"wall", "part.walls «> 1", "compares two numbers, not a list of walls and a number"},

	// Functions, macros, literals.
	{"wall", "«absolute(wall.x) > 1", "unknown function `absolute`"},
	{"wall", "«leest(1, 2) > 1", "did you mean `least`?"},
	{"wall", "part.walls.«map(w, w.thickness) == []", "unknown function `map`"},
	{"wall", "part.walls.«any(w, w.web)", "unknown function `any`"},
	{"wall", "part.walls.«exist(w, w.web)", "did you mean `exists`?"},
	{"wall", "wall.name.«matches('a')", "unknown function `matches`"},
	{"wall", "wall.name.«startWith('a')", "did you mean `startsWith`?"},
	{"wall", "«double(1) > 1", "unknown function `double`"},
	{"wall", "«dyn(wall.thickness) > 1", "unknown function `dyn`"},
	{"wall", "«timestamp('2020-01-01T00:00:00Z') != wall.x", "unknown function `timestamp`"},
	{"wall", "size([«length(wall.thickness)]) > 1", "stands only in `says`"},
	{"wall", "part.walls«[0].web", "stands only in `says`"},
	{"wall", "wall.height «% 2 == 0", "the operator `%` is not available"},
	{"wall", "wall.name != «null", "`null` is not available"},
	{"wall", "wall.name == «b'a'", "only numbers, text"},
	{"wall", "size(«{'a': 1}) == 1", "`{ }` values are not available"},
	{"wall", "Wall«{thickness: 1} == wall", "`{ }` values are not available"},
	{"wall", "part.walls.all(«hole, hole.thickness > 1)", "a kind of subject"},
	{"wall", "part.walls.all(«limits, true)", "the limits"},
	{"wall", "part.walls.all(«material, true)", "the material"},
	{"wall", "part.walls.all(«table, true)", "a function"},
	{"wall", "part.walls.all(w, part.walls.all(«w, w.web))", "the comprehension around it"},
	{"wall", "part.walls.all(«1, true)", "names each element"},
	{"wall", "part.walls.«all(w)", "stands behind its list"},
	{"wall", "has(«wall)", "asks for one measure"},
	{"hole", "part.holes.all(a, part.holes.all(b, part.holes.all«(c, true)))", "nested deeper than 2"},
	{"hole", "table(«'depth', hole.width) > 1", "did you mean `depths`?"},
	{"hole", "table(«hole.name, hole.width) > 1", "is written out, in quotes"},
	{"hole", "within(«'deep', hole.width)", "unknown table `deep`"},

	// Absent measures and divisors.
	{"hole", "hole.«bore > 1", "may be absent"},
	{"hole", "hole.«bore > 1 && has(hole.bore)", "may be absent"},
	{"hole", "has(hole.bore) || hole.«bore > 1", "may be absent"},
	{"hole", "has(hole.bore) ? true : hole.«bore > 1", "may be absent"},
	{"hole", "has(hole.floor) && hole.«bore > 1", "may be absent"},
	{"hole", "part.holes.all(h, has(h.bore)) && part.holes.all(h, h.«bore > 1)", "may be absent"},
	{"hole", "material.«name == 'x'", "may be absent"},
	{"hole", "part.«mass < 2", "may be absent"},
	{"hole", "hole.depth «/ hole.draft > 1", "the divisor may be 0"},
	{"hole", "hole.depth «/ 0 > 1", "the divisor may be 0"},
	{"hole", "hole.depth «/ limits.nothing > 1", "the divisor may be 0"},
	{"hole", "hole.depth «/ (hole.width - 1) > 1", "the divisor may be 0"},

	// Words of text measures.
	{"hole", "hole.open == «'botom'", "did you mean `bottom`?"},
	{"hole", "«'botom' != hole.open", "did you mean `bottom`?"},
	{"hole", "hole.open in ['top', «'side']", "`open` is never `side`"},
	{"hole", "part.holes.exists(h, h.open == «'up')", "`open` is never `up`"},
	{"hole", "hole.open == (hole.through ? 'both' : «'low')", "`open` is never `low`"},
	{"hole", "part.pressing == «'bottom'", "`pressing` is never `bottom`"},
	{"crossing", "crossing.kind != «'bore'", "`kind` is never `bore`"},
	{"crossing", "crossing.made_by == «crossing.kind", "no word in common"},
	{"hole", "has(material.basis) && material.basis == «'rumour'", "`basis` is never `rumour`"},

	// Units.
	{"wall", "wall.thickness «>= limits.slim", "different units, mm and ratio; in mm there is `limits."},
	{"wall", "limits.slim «<= wall.thickness", "different units, ratio and mm"},
	{"wall", "wall.ratio «<= wall.height", "different units, ratio and mm"},
	{"wall", "wall.thickness «+ wall.ratio > 1", "different units, mm and ratio"},
	{"wall", "wall.height «- part.volume > 1", "different units, mm and mm3"},
	{"wall", "wall.height * wall.length «> part.volume", "different units, mm2 and mm3"},
	{"hole", "hole.depth / hole.width «> limits.least", "different units, ratio and mm"},
	{"wall", "«least(wall.thickness, wall.ratio) > 1", "different units, mm and ratio"},
	{"wall", "1 < «greatest(part.plan_area, part.width)", "different units, mm2 and mm"},
	{"wall", "wall.thickness «== wall.ratio", "different units, mm and ratio"},
	{"wall", "wall.thickness «in [1, limits.slim]", "different units, mm and ratio"},
	{"wall", "(wall.web «? wall.thickness : wall.ratio) > 1", "different units, mm and ratio"},
	{"wall", "size(part.walls) «> part.height", "different units, count and mm"},
	{"wall", "part.walls.all(w, w.thickness «> w.ratio)", "different units, mm and ratio"},
	{"wall", "abs(-wall.thickness) «> wall.ratio", "different units, mm and ratio"},
	{"hole", "hole.draft «> hole.width", "different units, deg and mm"},
	{"hole", "has(part.mass) && part.mass «> part.volume", "different units, g and mm3"},
	{"hole", "table('depths', «hole.ratio) > 1", "looked up with `bore` in mm, not with a number in ratio"},
	{"hole", "within('depths', «hole.draft)", "looked up with `bore` in mm"},
	{"hole", "«from_inch(hole.width) > 1", "takes a figure in inches"},
	{"hole", "has(material.density_low) && material.density_low «> hole.width", "different units, g/cm3 and mm"},

	// What is the same for every part, or for every subject.
	{"wall", "«true", "always met"},
	{"wall", "limits.least «> 1", "reads no measure"},
	{"wall", "wall.height «>= wall.height", "both sides of `>=` are the same"},
	{"wall", "part.walls.all(w, w.web || w.height + 1 «== w.height + 1)", "both sides of `==` are the same"},
	{"wall", "has(wall.«height)", "`wall.height` is always present"},
	{"wall", "has(limits.«least) && wall.web", "`limits.least` is always present"},

	// Words of other languages, and lists.
	{"wall", "«min(wall.height, wall.thickness) > 1", "write `least(a, b)` of two numbers"},
	{"wall", "«MAX(wall.height, wall.thickness) > 1", "write `greatest(a, b)` of two numbers"},
	{"wall", "part.walls.«any(w, w.web)", "did you mean `exists`?"},
	{"wall", "«len(part.walls) > 1", "write `size(list)`"},
	{"wall", "least«(wall.height) > 1", "takes two numbers, not a number"},
	{"wall", "least«() > 1", "takes two numbers, not nothing"},
	{"wall", "least(1, «wall.height, 2) > 1", "`least(a, least(b, c))`"},
	{"wall", "wall.web «> false", "compares two numbers, not true or false and true or false"},
	{"wall", "limits«[\"least\"] < wall.height", "`limits.least`"},
	{"wall", "wall.name «not in ['a']", "`!(a in b)`"},
	{"wall", "part.walls.all(w «=> w.web)", "the first argument names each element"},
	{"wall", "part.walls.«thickness > 1", "`part.walls` is a list"},
	{"wall", "wall.between «== [1]", "not a list of text and a list of numbers"},
	{"part", "«par.height > 1", "did you mean `part`?"},
	{"wall", "«[part.height, part.volume].all(v, v > 1)", "different units, mm and mm3"},
	{"wall", "[part.height, part.width].all(v, v «> part.volume)", "different units, mm and mm3"},
	{"wall", "«'foo' in [part.pressing]", "`pressing` is never `foo`"},
	{"wall", "part.pressing in ['top'] + [«'bott']", "did you mean `both`?"},
	{"part", "part.height / part.«quantity > 1", "may be absent"},

	{"wall", "«all(part.walls, v, v.web)", "stands behind its list"},
	{"wall", "part.walls.«exists(w.web)", "stands behind its list"},

	// Right ones.
	{"hole", "has(hole.bore) && hole.depth / hole.bore < 3", ""},
	{"part", "has(part.mass) && has(part.density) && part.mass / part.density > 1", ""},
	{"wall", "[part.height, part.width].all(v, v > wall.height)", ""},
	{"wall", "limits.least > 9 ? wall.web : wall.height > 1", ""},
	{"wall", "false", ""},
	{"wall", "wall.thickness >= 2 && -2 < wall.thickness", ""},
	{"wall", "wall.height / 2 + 1 <= 8 * wall.thickness", ""},
	{"wall", "wall.ratio <= limits.slim", ""},
	{"hole", "hole.depth / hole.width <= limits.slim", ""},
	{"wall", "wall.thickness in [1, 2.5, 3]", ""},
	{"wall", "'hub' in wall.between && size(wall.between) == 2", ""},
	{"wall", "wall.name == 'it is 5 mm = 2,5 and' || wall.name == 'x'", ""},
	{"wall", "part.walls.exists_one(w, w == wall)", ""},
	{"wall", "wall.height * wall.length <= part.plan_area * 2", ""},
	{"wall", "part.volume / part.plan_area > wall.height", ""},
	{"wall", "(wall.web ? wall.thickness : wall.height) > 1", ""},
	{"wall", "wall.thickness + from_inch(0.1) > limits.least", ""},
	{"hole", "has(hole.bore) && hole.bore > 1", ""},
	{"hole", "!has(hole.bore) || hole.bore > 1", ""},
	{"hole", "hole.open in ['top', 'both'] && hole.open != 'bottom'", ""},
	{"hole", "hole.depth / table('depths', hole.width) > 1", ""},
	{"hole", "has(material.size_change_low) && material.size_change_low / 100 < hole.ratio", ""},
	{"hole", "has(material.basis) && material.basis == 'memory'", ""},
}

// styles write a text as a YAML scalar behind `that:` in the ways that YAML has; false where one cannot carry it.
var styles = map[string]func(string) (string, bool){
	"plain": func(s string) (string, bool) {
		ok := s == strings.TrimSpace(s) && !strings.ContainsAny(s[:1], "'\"!&*%|>{}[]@`-?:,# ") && !strings.Contains(s, ": ") &&
			!strings.Contains(s, " #")
		return " " + s, ok
	},
	"single": func(s string) (string, bool) { return " '" + strings.ReplaceAll(s, "'", "''") + "'", true },
	"double": func(s string) (string, bool) {
		return ` "` + strings.ReplaceAll(strings.ReplaceAll(s, `\`, `\\`), `"`, `\"`) + `"`, true
	},
	"literal": func(s string) (string, bool) { return " |-\n          " + s, s[0] != ' ' },
	"folded":  func(s string) (string, bool) { return " >-\n          " + s, s[0] != ' ' },
}

// unmarked takes the mark out of a text, and gives the rune it stands at, or -1.
func unmarked(s string) (string, int) {
	before, after, found := strings.Cut(s, "«")
	if !found {
		return s, -1
	}
	return before + after, len([]rune(before))
}

// TestMarkedInEveryStyle reads every marked expression in every style, with both line ends, with and without a byte
// order mark: it gives exactly one problem, at the marked character.
func TestMarkedInEveryStyle(t *testing.T) {
	if len(marked) < 150 {
		t.Fatalf("only %d expressions", len(marked))
	}
	for _, c := range marked {
		that, at := unmarked(c.that)
		for style, write := range styles {
			scalar, can := write(that)
			if !can {
				continue
			}
			text := strings.Replace(packText("    over: "+c.over+
				"\n    basis: practice\n    says: x\n    need:\n      - grade: ask\n        that:"+scalar+"\n"),
				"tables:\n", "  slim: {value: 8, unit: ratio, basis: practice}\ntables:\n", 1)
			for name, text := range map[string]string{"lf": text, "crlf": strings.ReplaceAll(text, "\n", "\r\n"), "mark": "\ufeff" + text,
				"mark, crlf": "\ufeff" + strings.ReplaceAll(text, "\n", "\r\n")} {
				if problem := readMarked(text, that, at, c.message); problem != "" {
					t.Errorf("%s, %s, %s: %s", c.that, style, name, problem)
				}
			}
		}
	}
}

// readMarked loads a pack and says what is not as marked.
func readMarked(text, that string, at int, message string) string {
	_, ps := load(text)
	if at < 0 || len(ps) != 1 {
		if at >= 0 || len(ps) > 0 {
			return fmt.Sprintf("%d problems\n%s", len(ps), listed(ps))
		}
		return ""
	}
	line := []rune(strings.Split(strings.TrimPrefix(text, "\ufeff"), "\n")[ps[0].Line-1])
	got := strings.TrimSuffix(string(line[min(ps[0].Column-1, len(line)):]), "\r")
	plain := strings.NewReplacer(`''`, `'`, `\"`, `"`, `\\`, `\`)
	want := string([]rune(that)[at:])
	if !strings.HasPrefix(plain.Replace(got), plain.Replace(want)) || len([]rune(plain.Replace(got))) > len([]rune(plain.Replace(want)))+1 {
		return fmt.Sprintf("placed before %q: %s", got, ps[0].Message)
	}
	if !strings.Contains(ps[0].Message, message) {
		return "says " + ps[0].Message
	}
	return ""
}
