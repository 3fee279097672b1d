package rules

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"testing"
	"time"

	"corerod/parts/subject"
)

// crowd is a part with so many walls.
func crowd(n int) *subject.Part {
	p := quiet()
	for i := range n {
		p.Walls = append(p.Walls, wall(float64(i+1)))
	}
	return p
}

// manyRules is a pack of rules that differ in name alone.
func manyRules(n int, over, that string) string {
	var b strings.Builder
	b.WriteString(head + "rules:\n")
	for i := range n {
		fmt.Fprintf(&b,
			"  rule-%03d: {title: T, stage: fill, because: b, change: c, basis: practice, over: %s, says: x, need: [{grade: ask, that: '%s'}]}\n", i, over, that)
	}
	return b.String()
}

const quadratic = "part.walls.all(v, part.walls.all(w, v.thickness + w.thickness < 10000))"

// hostile are packs that would take seconds, gigabytes or the process without bounds. stopped ones load and are
// stopped while a part is judged; the others are refused.
var hostile = []struct {
	name    string
	pack    string
	stopped bool
}{
	{"long", withNeed("wall", strings.Repeat("true && ", 300)+"true"), false},
	{"lists in lists", withNeed("wall", "size("+strings.Repeat("[", 200)+strings.Repeat("]", 200)+") == 0"), false},
	{"brackets", withNeed("wall", strings.Repeat("(", 400)+"true"+strings.Repeat(")", 400)), false},
	{"open brackets", withNeed("wall", strings.Repeat("(", 1900)), false},
	{"comprehensions", withNeed("wall", strings.Repeat("part.walls.all(w, ", 40)+"true"+strings.Repeat(")", 40)), false},
	{"three comprehensions", withNeed("wall", "part.walls.all(a, part.walls.all(b, part.walls.all(c, c.web)))"), false},
	{"choices", withNeed("wall", strings.Repeat("wall.web ? true : ", 90)+"1"), false},
	{"names", withNeed("wall", "wall"+strings.Repeat(".a", 900)), false},
	{"a long text", withNeed("wall", "wall.name == \""+strings.Repeat("x", 5000)+"\""), false},
	{"an open text", withNeed("wall", "wall.name == \""+strings.Repeat("\\\"", 800)), false},
	{"empty", withNeed("wall", " "), false},
	{"a map", withNeed("wall", "{'a': {'b': 1}}.a.b == 1"), false},
	{"a struct", withNeed("wall", "Wall{thickness: 1}.thickness == 1"), false},
	{"a regular expression", withNeed("wall", "wall.name.matches('(a*)*b')"), false},
	{"null", withNeed("wall", "wall == null"), false},
	{"bytes", withNeed("wall", "b'\\\\xff' == b'a'"), false},
	{"conversion", withNeed("wall", "string(wall.name) == 'a'"), false},
	{"dyn", withNeed("wall", "dyn(part.walls).all(w, w.a.b.c)"), false},
	{"time", withNeed("wall", "timestamp('9999-12-31T23:59:59Z') > wall.x"), false},
	{"huge number", withNeed("wall", "wall.x < 1e999"), false},
	{"huge integer", withNeed("wall", "wall.x < "+strings.Repeat("9", 400)), false},
	{"division", withNeed("wall", "1 / (wall.thickness - wall.thickness) > 1"), false},
	{"index", withNeed("wall", "part.walls[1000000000].web"), false},
	{"optional", withNeed("wall", "wall.?thickness.orValue(1) > 0"), false},
	{"raw text", withNeed("wall", "wall.name == r'"+strings.Repeat("\\", 300)), false},
	{"control characters", withNeed("wall", "wall.name == '\a\x1b[2J'"), false},
	{"aliases", "a: &a [x, x]\nb: &b [*a, *a]\nc: &c [*b, *b]\n" + head, false},
	{"an alias of itself", "a: &a [*a]\n" + head, false},
	{"a merge", "<<: {pack: x}\n" + head, false},
	{"a tag", strings.Replace(head, "title: Trial", "title: !!binary aGk=", 1), false},
	{"deep", "a: " + strings.Repeat("[", 10_000) + strings.Repeat("]", 10_000) + "\n" + head, false},
	{"many lines", head + strings.Repeat("rules:\n", 100_000), false},
	{"zero bytes", head + "\x00\x00", false},
	{"no UTF-8", head + "# \xff\xfe\n", false},
	{"a limit past numbers", strings.Replace(head, "value: 1.5", "value: 1e400", 1), false},
	{"rows without number", strings.Replace(head, "[[1, 2], [3, 6]]", "[[.nan, 2], [3, 6]]", 1), false},
	{"braces", packText("    over: wall\n    basis: practice\n    says: '" + strings.Repeat("{", 1001) + "'\n    need: [{grade: ask, that: wall.web}]\n"), false},
	{"composition", head + "materials: {X: {composition: {Fe: .inf}, basis: memory}}\n", false},

	{"each with each", withNeed("part", quadratic), true},
	{"each with each, for each", withNeed("wall", quadratic), true},
	{"hidden by a choice", withNeed("wall", quadratic+" || true"), true},
	{"lists joined", withNeed("wall", "part.walls.all(v, size((part.walls + part.walls).filter(w, w.x > 1)) == 0)"), true},
	{"lists compared", withNeed("wall", "part.walls.all(v, part.walls.filter(w, w.height > 0) == part.walls)"), true},
	{"searched for each", withNeed("wall", "part.walls.all(v, v in part.walls)"), true},
	{"filtered again", withNeed("wall", "size(part.walls.filter(v, part.walls.exists(w, w.thickness > 10000))) == 0"), true},
	{"many expensive rules", manyRules(60, "part", quadratic), true},
	{"many rules for each", manyRules(60, "wall", quadratic), true},
	{"linear rules for each", manyRules(200, "wall", "part.walls.all(v, v.thickness > 0 && v.height > 0)"), true},
	{"overflow", withNeed("part", "part.height * 1e300 * 1e300 > 1"), true},
	{"past a list", packText("    over: wall\n    basis: practice\n    says: '{wall.between[5]}'\n    need: [{grade: ask, that: wall.web}]\n"), true},
}

// hostileCase tells the child which pack to read.
const hostileCase = "COREROD_HOSTILE_CASE"

// TestHostileChild is run in a process of its own by TestHostilePacks.
func TestHostileChild(t *testing.T) {
	i, err := strconv.Atoi(os.Getenv(hostileCase))
	if err != nil {
		t.Skip("the child of another test")
	}
	p, ps := load(hostile[i].pack)
	if p == nil {
		for _, problem := range ps {
			fmt.Printf("refused %d:%d %s\n", problem.Line, problem.Column, problem.Message)
		}
		return
	}
	b, _ := NewBook(p)
	for _, f := range b.Judge(Case{Part: crowd(900), Unit: "mm"}).Faults {
		fmt.Printf("stopped %d:%d %s\n", f.Line, f.Column, f.Message)
	}
}

// TestHostilePacks reads and runs each hostile pack in a process of its own, which must end in time, refuse the pack at
// a place in it or name the rule that was stopped and its place.
func TestHostilePacks(t *testing.T) {
	if len(hostile) < 40 {
		t.Fatalf("only %d packs", len(hostile))
	}
	if testing.Short() {
		t.Skip("starts a process for each pack")
	}
	limit := time.Minute // the machine may be busy; .ci/long holds the packs to hostileTime
	if os.Getenv("COREROD_LONG") != "" {
		limit = hostileTime
	}
	for i, c := range hostile {
		ctx, cancel := context.WithTimeout(context.Background(), limit)
		child := exec.CommandContext(ctx, os.Args[0], "-test.run=^TestHostileChild$")
		child.Env = append(os.Environ(), hostileCase+"="+strconv.Itoa(i), "GOMEMLIMIT=512MiB")
		begin := time.Now()
		out, err := child.Output()
		took := time.Since(begin)
		cancel()
		if err != nil {
			t.Errorf("%s: %v after %v\n%.2000s", c.name, err, took, out)
			continue
		}
		line, _, _ := strings.Cut(string(out), "\n")
		word, rule := "refused ", "rule `"
		if c.stopped {
			word = "stopped "
		} else if !strings.Contains(c.pack, "need:") || strings.Contains(line, "control character") ||
			strings.Contains(line, "not readable as YAML") {
			rule = "" // refused before there is a rule
		}
		if kb := mostMemory(child.ProcessState); os.Getenv("COREROD_LONG") != "" && kb > 256<<10 {
			t.Errorf("%s: %d kB of memory", c.name, kb)
		}
		if !strings.HasPrefix(line, word) || strings.HasPrefix(line, word+"0:") || !strings.Contains(line, rule) {
			t.Errorf("%s: %.300q", c.name, line)
		}
		t.Logf("%-26s %6v %.120s", c.name, took.Round(time.Millisecond), line)
	}
}
