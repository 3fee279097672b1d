package rules

import (
	"strings"
	"testing"
)

// TestProblems reads broken packs: what is replaced in a pack that is right, and every problem that follows.
func TestProblems(t *testing.T) {
	right := packText("    over: wall\n    says: \"{wall.name}\"\n    need:\n      - {grade: ask, that: wall.thickness >= limits.least}\n")
	if _, ps := load(right); len(ps) > 0 {
		t.Fatal(ps)
	}
	for _, c := range []struct{ old, new, problems string }{
		{"pack: trial", "pack: Trial Pack", "1:7 `pack` is `Trial Pack`; a name is a lower-case letter followed by at most 63 lower-case letters, digits or hyphens\n"},
		{"pack: trial\n", "", "1:1 a pack needs `pack`\n"},
		{"version: 1.0.0", "version: 1.0", "2:10 `version` is `1.0`; it must be three numbers with points, such as 1.0.0\n"},
		{"title: Trial\n", "titel: Trial\n", "3:1 unknown key `titel` in a pack; did you mean `title`?\n"},
		{"title: Trial\n", "title: \"a\\e[31mb\"\n", "3:10 `title` holds the character `\\x1b`, which cannot be printed; leave it out\n"},
		{"that: wall.thickness >= limits.least", "that: \"wall.name != 'a\\e' && wall.thickness >= limits.least\"", "23:44 `that` holds the character `\\x1b`, which cannot be printed; leave it out\n"},
		{"title: Trial\n", "title: ''\n", "3:8 `title` is empty; it needs text\n"},
		{"title: Trial\n", "title: Trial\ntitle: Again\n", "4:1 `title` is already given in line 3; give it once\n"},
		{"title: Trial\n", "title: Trial\nunits: cm\n", "4:8 `units` is `cm`; did you mean `mm`?\n"},
		{"title: Trial\n", "title: Trial\nbuilds_on: [other]\n", "4:13 `builds_on` names `other`: there is no built-in pack `other`; known are `plain-bearings`, `press-and-sinter`\n"},
		{"title: Trial\n", "title: Trial\ngrades: {thick: soft}\n", "4:17 the grade of `thick` is `soft`; it must be one of `stop`, `change`, `ask`\n"},
		{"title: Trial\n", "title: Trial\ngrades: {thick: ask}\nleave_out: {thin: }\n", "4:10 `grades` names `thick`, and the pack builds on none that could have it\n5:13 `leave_out` names `thin`, and the pack builds on none that could have it\n5:19 the reason to leave `thin` out needs text, not nothing\n"},
		{"title: Trial\n", "title: Trial\ntrials: none\n", "4:9 `trials` needs a list, not `none`\n"},
		{"title: A book", "titel: A book", "5:10 unknown key `titel` in a source; did you mean `title`?\n"},
		{"  book:", "  The Book:", "5:3 `The Book` is no name of a source: a lower-case letter, then at most 63 lower-case letters, digits or hyphens; CEL words are taken\n7:49 unknown source `book`; give `sources: {book: {title: ...}}`\n"},
		{"source: book", "source: boook", "7:49 unknown source `boook`; did you mean `book`?\n"},
		{"source: book", "note: x", "7:30 basis `published` needs a `source`\n"},
		{"basis: published, source: book", "basis: rumour", "7:30 `basis` is `rumour`; it must be one of `published`, `practice`, `memory`, `derived`, `shop`\n"},
		{"  least:", "  Least:", "7:3 `Least` is no name of a limit: a lower-case letter, then at most 63 lower-case letters, digits or underscores; CEL words are taken\n"},
		{"value: 1.5", "valu: 1.5", "7:11 unknown key `valu` in a limit; did you mean `value`?\n"},
		{"  least: {value: 1.5, basis: published, source: book}", "  least: 1.5", "7:10 a limit needs keys with values, not one value\n"},
		{"    over: wall\n", "    over: wall\n    since: 1.10.0\n", "21:12 `since` is 1.10.0, after the pack's own version 1.0.0; it is the version that brought the rule\n"},
		{"{grade: ask, that: wall.thickness >= limits.least}", "grade: ask\n        that: !wall.web", "24:15 to YAML a text that begins with `!` is a tag; put it in quotes: '!wall.web'\n24:15 nothing grounds this need; compare with one of `limits`, or give the rule `sources` or a `basis`\n"},
		{"{grade: ask, that: wall.thickness >= limits.least}", "grade: ask\n        that: ! wall.web || wall.height > limits.least", "24:15 to YAML a text that begins with `!` is a tag; put it in quotes: '! wall.web || wall.height > limits.least'\n"},
		{"basis: published", "basis: derived", "7:30 basis `derived` needs a `note` that shows the sum\n"},
		{"value: 1.5", "value: 1,5", "7:20 a comma stands between values; the number is written with a point: 1.5\n"},
		{"value: 1.5", "value: .inf", "7:18 `value` is .inf; only finite numbers are allowed\n"},
		{"value: 1.5", "unit: furlong", "7:10 a limit needs `value`\n7:17 `unit` is `furlong`; it must be one of `mm`, `in`, `deg`, `mm2`, `mm3`, `g`, `g/cm3`, `MPa`, `kN`, `percent`, `ratio`, `count`\n"},
		{"  guess:", "  in:", "9:3 `in` is no name of a limit: a lower-case letter, then at most 63 lower-case letters, digits or underscores; CEL words are taken\n"},
		{"rows: [[1, 2], [3, 6]]", "rows: [[3, 2], [3, 6], [4]]", "12:62 x is `3`, not above the row before it; rows are written with x rising\n12:69 a row has 1 numbers; it needs two: [x, y]\n"},
		{"between: line, rows: [[1, 2]", "between: lines, rows: [[1, 2]", "12:40 `between` is `lines`; did you mean `line`?\n"},
		{"rows: [[1, 2], [3, 6]]", "rows: []", "12:52 `rows` is empty; a table needs at least one row [x, y]\n"},
		{"stage: fill", "stage: filling", "17:12 `stage` is `filling`; it must be one of `fill`, `press`, `eject`, `handle`, `sinter`, `size`, `tool`\n"},
		{"over: wall", "over: wal", "20:11 `over` is `wal`; did you mean `wall`?\n"},
		{"    because: because\n", "", "16:5 a rule needs `because`\n"},
		{"  trial:", "  Trial_rule:", "15:3 `Trial_rule` is no name of a rule: a lower-case letter, then at most 63 lower-case letters, digits or hyphens; CEL words are taken\n"},
		{"grade: ask", "grade: warn", "23:17 `grade` is `warn`; it must be one of `stop`, `change`, `ask`\n"},
		{"need:\n", "need:\n      - {grade: ask, that: wall.web}\n", "24:17 grade `ask` is already given; join its conditions by `&&`\n23:28 nothing grounds this need; compare with one of `limits`, or give the rule `sources` or a `basis`\n"},
		{"limits.least}", "limits.least}\n      - {grade: stop, that: wall.thickness >= limits.least}", "24:17 `stop` stands after `ask`; needs are written worst grade first: stop, change, ask\n"},
		{"grade: ask, that: wall.thickness >= limits.least", "grade: stop, that: wall.thickness >= limits.guess", "23:29 a `stop` cannot rest on memory alone; give a published source, or grade it `change`\n"},
		{"limits.least}", "2}", "23:28 nothing grounds this need; compare with one of `limits`, or give the rule `sources` or a `basis`\n"},
		{"    over: wall\n", "    over: wall\n    basis: shop\n", "21:12 basis `shop` needs `sources`\n"},
		{"    over: wall\n", "    over: wall\n    when: wall.thickness\n", "21:11 `when` gives a number; it must give true or false, as a comparison does\n"},
		{"    over: wall\n", "    over: wall\n    adjust: [wall.thicknes, hole.width, wall.web, part.height]\n", "21:14 unknown measure `wall.thicknes`; did you mean `thickness`?\n21:29 `hole.width` is no measure of `wall` or of the part\n21:41 `wall.web` is not a number; a change moves a number\n"},
		{"    over: wall\n", "    over: wall\n    since: then\n", "21:12 `since` is `then`; it must be three numbers with points, such as 1.0.0\n"},
		{"{wall.name}", "{wall.thickness}", "21:13 a bare number has no unit; print it by `length( )` or by one of `MPa`, `count`, `deg`, `g`, `kN`, `length`, `mm`, `percent`\n"},
		{"{wall.name}", "{length(wall.ratio)}", "21:13 `length` prints a number in mm, and `wall.ratio` is in ratio; print it by `count( )`\n"},
		{"{wall.name}", "{deg(1)} {percent(wall.height / 2)}", "21:22 `percent` prints a number in percent, and the calculated number is in mm; print it by `mm( )`\n"},
		{"{wall.name}", "{wall.web}", "21:13 a text shows text, a list of text or a number with its unit, not true or false\n"},
		{"{wall.name}", "a } b", "21:14 a `}` without its `{`; a brace itself is written `}}`\n"},
		{"{wall.name}", "a {wall.name", "21:14 this `{` is not closed; a brace itself is written `{{`\n"},
		{"{wall.name}", "{{a}} {lenght(wall.height)}", "21:19 unknown function `lenght`; did you mean `length`?\n"},
	} {
		if !strings.Contains(right, c.old) {
			t.Fatalf("nothing to replace: %s", c.old)
		}
		p, ps := load(strings.Replace(right, c.old, c.new, 1))
		if p != nil && len(ps) > 0 {
			t.Errorf("%s: a pack and problems", c.new)
		}
		want := strings.Split(strings.TrimSuffix(c.problems, "\n"), "\n")
		got := strings.Split(strings.TrimSuffix(listed(ps), "\n"), "\n")
		for _, w := range want {
			if !strings.Contains("\n"+listed(ps), "\n"+w+"\n") {
				t.Errorf("%s:\n got %s\nwant %s", c.new, listed(ps), c.problems)
				break
			}
		}
		if len(got) != len(want) {
			t.Errorf("%s: %d problems, want %d:\n%s", c.new, len(got), len(want), listed(ps))
		}
	}
}

// TestFolder reads a pack of several files; names and sources are common to them.
func TestFolder(t *testing.T) {
	pack := "pack: trial\nversion: 1.0.0\ntitle: Trial\nunits: in\nsources: {book: {title: A book}}\n"
	more := "limits: {wide: {value: 2, basis: shop, source: book}}\ntables: {t: {x: a, x_unit: mm, y: b, between: line, rows: [[1, 1]], basis: memory}}\n"
	p, ps := LoadPack([]File{{"more.yaml", []byte(more)}, {"pack.yaml", []byte(pack)}}, nil)
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	if l := p.Limits["wide"]; l.Value != 50.8 || l.Unit != "mm" || l.Origin != (Origin{"more.yaml", 1, 10, "trial"}) {
		t.Errorf("an inch figure of another file is %+v", l)
	}
	if r := p.Tables["t"]; r.Rows[0] != [2]float64{1, 25.4} || r.YUnit != "mm" {
		t.Errorf("an inch column is %+v", r)
	}
	for _, c := range []struct {
		files []File
		want  string
	}{
		{[]File{{"a.yaml", []byte(more)}, {"pack.yaml", []byte(pack + more)}}, "1:10 the limit `wide` is already given in pack.yaml, line 6; give it once\n2:10 the table `t` is already given in pack.yaml, line 7; give it once\n"},
		{[]File{{"a.yaml", []byte("pack: x\n")}, {"pack.yaml", []byte(pack)}}, "1:1 unknown key `pack` in a pack; known are `sources`, `limits`, `tables`, `materials`, `curves`, `presses`, `rules`, `trials`, `grades`, `leave_out`\n"},
		{[]File{{"d/a.yaml", []byte(more)}, {"d/b.yaml", []byte(pack)}}, "0:0 a pack of several files needs one named pack.yaml\n"},
		{nil, "0:0 a pack of several files needs one named pack.yaml\n"},
		{[]File{{"a.yaml", nil}}, "1:1 the file is empty\n"},
		{[]File{{"a.yaml", []byte("- 1\n")}}, "1:1 a pack needs keys with values (`pack`, `version`, `title`, `units`, `builds_on`, `sources`, `limits`, `tables`, `materials`, `curves`, `presses`, `rules`, `trials`, `grades`, `leave_out`), not a list\n"},
	} {
		p, ps := LoadPack(c.files, nil)
		got := listed(ps)
		if p != nil || got != c.want {
			t.Errorf("got  %swant %s", got, c.want)
		}
	}
}

// TestDigest depends on names and contents, not on the order of the files.
func TestDigest(t *testing.T) {
	a, b := File{"a.yaml", []byte("1")}, File{"b.yaml", []byte("2")}
	load := func(files ...File) string {
		p, _ := read(append(files, File{"pack.yaml", []byte("pack: x")}), nil, nil)
		return p.Digest
	}
	first := load(a, b)
	if len(first) != 64 || first != load(b, a) {
		t.Errorf("digest %s, in another order %s", first, load(b, a))
	}
	for _, other := range []string{load(a), load(File{"a.yaml", []byte("2")}, b), load(File{"c.yaml", []byte("1")}, b)} {
		if other == first {
			t.Error("different files have the digest", first)
		}
	}
}

// TestBookClash names both packs that give one rule or limit.
func TestBookClash(t *testing.T) {
	text := packText("    over: wall\n    says: x\n    need: [{grade: ask, that: wall.thickness > limits.least}]\n")
	a, _ := load(text)
	b, ps := load(strings.Replace(text, "pack: trial", "pack: other", 1))
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	_, ps = NewBook(a, b)
	want := "7:3 packs `trial` and `other` both give the limit `least`; leave it in one of them, or put one pack in force\n"
	if got := listed(ps); len(ps) != 5 || !strings.HasPrefix(got, want) ||
		!strings.Contains(got, "15:3 packs `trial` and `other` both give the rule `trial`") {
		t.Errorf("got %s", got)
	}
}

func TestGrades(t *testing.T) {
	order := []Grade{"", Ask, Change, Stop}
	for i, a := range order {
		for j, b := range order {
			if a.Worse(b) != (i > j) {
				t.Errorf("%q worse than %q: %v", a, b, a.Worse(b))
			}
		}
	}
	for word, want := range map[string]bool{"stop": true, "change": true, "ask": true, "": false, "Stop": false, "clear": false} {
		if g, ok := ParseGrade(word); ok != want || string(g) != word {
			t.Errorf("ParseGrade(%q) = %q, %v", word, g, ok)
		}
	}
}

// TestLeftAlone takes trials and an empty builds_on as they are.
func TestLeftAlone(t *testing.T) {
	p, ps := load(head + "builds_on: []\nunits: mm\ntrials: [{rule: trial, part: plate.yaml, finds: change}]\n")
	if p == nil || len(ps) > 0 || p.Name != "trial" || len(p.Rules) != 0 || p.Limits["least"].Source != "book" {
		t.Errorf("%+v, %v", p, ps)
	}
}
