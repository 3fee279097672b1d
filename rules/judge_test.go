package rules

import (
	"fmt"
	"reflect"
	"strings"
	"sync"
	"testing"

	"corerod/parts/subject"
)

// TestFaults judges parts on which an expression itself fails: a fault with its place, and the other rules go on.
func TestFaults(t *testing.T) {
	crowd := quiet()
	for i := range 1000 {
		crowd.Walls = append(crowd.Walls, wall(float64(i+1)))
	}
	huge := quiet()
	huge.Height, huge.Width = 1e300, 1e300
	for _, c := range []struct {
		part *subject.Part
		that string
		want string
	}{
		{huge, "part.height * part.width > 1", "rule `trial`, `that`: the result is not a finite number"},
		{crowd, "part.walls.all(v, part.walls.all(w, v.thickness + w.thickness < 10000))", "rule `trial`, `that`: the rule took more than 2300500 steps on this part"},
		{crowd, "size(part.walls.filter(v, part.walls.exists(w, w.thickness + v.thickness > 10000))) == 0", "rule `trial`, `that`: the rule took more than 2300500 steps on this part"},
	} {
		text := withNeed("part", c.that) +
			"  other:\n    title: Other\n    stage: fill\n    because: b\n    change: c\n    basis: practice\n" +
			"    over: part\n    says: x\n    need: [{grade: ask, that: part.sized}]\n"
		out := bookOf(t, text).Judge(Case{Part: c.part, Unit: "mm"})
		if len(out.Faults) != 1 || out.Faults[0].Message != c.want || out.Faults[0].Line != 23 || out.Faults[0].Column != 32 {
			t.Errorf("%s: faults %+v", c.that, out.Faults)
		}
		if len(out.Findings) != 1 || out.Findings[0].Rule.Name != "other" {
			t.Errorf("%s: findings %+v", c.that, out.Findings)
		}
	}
}

// TestFaultInSays keeps a finding whose text fails, and names the fault.
func TestFaultInSays(t *testing.T) {
	text := packText("    over: wall\n    basis: practice\n    says: \"{wall.between[5]}\"\n    need: [{grade: ask, that: wall.web}]\n")
	out := bookOf(t, text).Judge(Case{Part: alone(wall(2)), Unit: "mm"})
	if len(out.Findings) != 1 || len(out.Faults) != 1 || !strings.HasPrefix(out.Faults[0].Message, "rule `trial`, `says`: ") ||
		out.Faults[0].Column != 13 {
		t.Errorf("%+v", out)
	}
}

// TestWorstNeed gives one finding for a subject: the first need that fails, worst grade first.
func TestWorstNeed(t *testing.T) {
	b := bookOf(t, packText("    over: wall\n    sources: [book]\n    says: x\n    need:\n"+
		"      - {grade: stop, that: wall.thickness > 1}\n      - {grade: change, that: wall.thickness > 2}\n      - {grade: ask, that: wall.thickness > 3}\n"))
	p := quiet()
	for _, v := range []float64{4, 3, 2, 1} {
		p.Walls = append(p.Walls, wall(v))
	}
	out := b.Judge(Case{Part: p, Unit: "mm"})
	var got []string
	for _, f := range out.Findings {
		got = append(got, fmt.Sprintf("%v %v", f.Subject.(*subject.Wall).Thickness, f.Grade))
	}
	if s := strings.Join(got, ", "); s != "3 ask, 2 change, 1 stop" {
		t.Error(s)
	}
}

// TestSays prints values of every kind.
func TestSays(t *testing.T) {
	p := quiet()
	h := through(3.0005, 6)
	p.Holes = []*subject.Hole{h}
	p.Mass = subject.Some(12.3456)
	for _, c := range []struct{ says, unit, want string }{
		{"{length(hole.width)}", "mm", "3.001 mm"},
		{"{length(hole.width)}", "in", "0.1181 in"},
		{"{mm(hole.width)} {deg(-0.001)} {kN(1.26)} {MPa(100)} {g(20)}", "in", "3.001 mm 0 deg 1.3 kN 100 MPa 20 g"},
		{"{percent(15)} of {count(size(part.holes))}", "mm", "15 % of 1"},
		{"{hole.name}", "mm", "bore"},
		{"{['a', 'b', 'c']} {['a', 'b']} {['a']}", "mm", "a, b and c a and b a"},
		{"{['arm and end', 'arm and eye']}", "mm", "arm and end; arm and eye"},
		{"{{{hole.name}}}", "mm", "{bore}"},
		{"{'}'} {hole.through ? \"yes }\" : 'no'}", "mm", "} yes }"},
		{"  a\n  b   {hole.name}", "mm", "a b bore"},
		{"{part.holes[0].name}", "mm", "bore"},
		{"{'\\x1b[31m'}", "mm", "\\x1b[31m"},
		{"{has(part.mass) ? g(part.mass) : g(0)}", "mm", "12.35 g"},
	} {
		quoted := strings.ReplaceAll(c.says, "'", "''")
		b := bookOf(t, packText("    over: hole\n    basis: practice\n    says: '"+strings.ReplaceAll(quoted, "\n", "\n      ")+
			"'\n    need: [{grade: ask, that: hole.keyed}]\n"))
		out := b.Judge(Case{Part: p, Unit: c.unit})
		if len(out.Findings) != 1 || out.Findings[0].Says != c.want || len(out.Faults) > 0 {
			t.Errorf("%s: %q, faults %v; want %q", c.says, out.Findings[0].Says, out.Faults, c.want)
		}
	}
}

// busy is a part with many subjects and findings of many rules.
func busy(n int) *subject.Part {
	p := sample()
	p.OpenJoints = []string{"bore and keyway"}
	for i := range n {
		v := 0.5 + float64(i)/10
		p.Walls = append(p.Walls, ratio(4+v*5, false), wall(v))
		p.Holes = append(p.Holes, through(v, 5))
		p.Corners = append(p.Corners, corner(v/5, i%2 == 0, false))
		p.Gaps = append(p.Gaps, &subject.Gap{Width: v, Member: "die"})
	}
	return p
}

// TestTogether judges on several goroutines at once, from a cold pack, and gets the same each time.
func TestTogether(t *testing.T) {
	files, err := builtinFiles("press-and-sinter")
	if err != nil {
		t.Fatal(err)
	}
	p, ps := read(files, isTrials, nil)
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	b, _ := NewBook(p)
	part := busy(12)
	var wait sync.WaitGroup
	outcomes, margins := make([]*Outcome, 8), make([][]Margin, 8)
	for i := range outcomes {
		wait.Add(1)
		go func() {
			defer wait.Done()
			outcomes[i] = b.Judge(Case{Part: part, Unit: "mm"})
			margins[i] = outcomes[i].Narrowest(5)
		}()
	}
	wait.Wait()
	if len(outcomes[0].Findings) < 20 || len(margins[0]) != 5 {
		t.Fatalf("%d findings, %d margins", len(outcomes[0].Findings), len(margins[0]))
	}
	for i := range outcomes {
		if !reflect.DeepEqual(outcomes[i].Findings, outcomes[0].Findings) || !reflect.DeepEqual(outcomes[i].Account, outcomes[0].Account) ||
			!reflect.DeepEqual(margins[i], margins[0]) {
			t.Errorf("goroutine %d judged otherwise", i)
		}
	}
}

// TestLazy compiles only what a part needs.
func TestLazy(t *testing.T) {
	files, _ := builtinFiles("press-and-sinter")
	p, _ := read(files, isTrials, nil)
	b, _ := NewBook(p)
	b.Judge(Case{Part: quiet(), Unit: "mm"})
	// two needs each of part-slenderness and the punches, one of joint-radius, part-height and way-up, when of eight more
	if n := len(p.env().texts); n != 17 {
		t.Errorf("%d texts compiled for a part without subjects", n)
	}
}

func BenchmarkJudgeWarm(b *testing.B) {
	book := builtinBook(b)
	for _, n := range []int{2, 12} {
		part := busy(n)
		b.Run(fmt.Sprintf("%d subjects", len(part.Walls)+len(part.Holes)+len(part.Corners)+len(part.Gaps)), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				book.Judge(Case{Part: part, Unit: "mm"})
			}
		})
	}
	clear := sample()
	clear.Walls, clear.Holes = []*subject.Wall{wall(2), ratio(4, false)}, []*subject.Hole{through(6, 12)}
	b.Run("clear part", func(b *testing.B) {
		for b.Loop() {
			book.Judge(Case{Part: clear, Unit: "mm"})
		}
	})
	b.Run("clear part and narrowest", func(b *testing.B) {
		for b.Loop() {
			book.Judge(Case{Part: clear, Unit: "mm"}).Narrowest(5)
		}
	})
}

func BenchmarkJudgeCold(b *testing.B) {
	part := busy(2)
	for b.Loop() {
		p, _, err := fromKept("press-and-sinter", nil)
		if err != nil {
			b.Fatal(err)
		}
		book, _ := NewBook(p)
		book.Judge(Case{Part: part, Unit: "mm"})
	}
}

func BenchmarkLoadWhole(b *testing.B) {
	files, err := builtinFiles("press-and-sinter")
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		LoadPack(files, nil)
	}
}
