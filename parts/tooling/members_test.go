package tooling

import (
	"fmt"
	"slices"
	"testing"

	"corerod/parts/measure"
	"corerod/parts/subject"
)

// made writes a part of bodies and cuts given one a line.
func made(bodies, cuts string) string {
	text := "bodies:\n" + bodies + "\n"
	if cuts != "" {
		text += "cuts:\n" + cuts + "\n"
	}
	return text
}

const (
	disc    = "  disc: {circle: {diameter: 40}, from: 0, to: 20}"
	bodyOf  = "  %s: {circle: {diameter: %g}, from: %g, to: %g}\n"
	shelfed = "bodies: {hub: {circle: {diameter: 30}, from: 0, to: 20}, collar: {circle: {diameter: 34}, from: 16, to: 20}}\n"
)

// TestClassOf: N = upper punches + lower punches + shelves - 1 gives the class; of one level the height decides, at 7.5 mm
// (ASM Handbook vol. 7, part classification). A height snapped to a nanometre of 7.5 is 7.5; one half a nanometre more is not.
func TestClassOf(t *testing.T) {
	for _, c := range []struct {
		members int
		height  float64
		want    float64
	}{
		{2, 1, 1}, {2, 7.5, 1}, {2, 7.5 + 4e-10, 1}, {2, 7.5 + 5e-7, 2}, {2, 100, 2}, {3, 1, 3}, {3, 100, 3}, {4, 1, 4}, {5, 100, 4},
		{9, 1, 4},
	} {
		if got := class(c.members, c.height); got != c.want {
			t.Errorf("%d members, %g mm: class %g, want %g", c.members, c.height, got, c.want)
		}
	}
}

// TestWhy: each member says for what reason it is there.
func TestWhy(t *testing.T) {
	holes := func(depth float64, more string) string {
		return made(disc, fmt.Sprintf("  pocket: {circle: {diameter: 10}, open: top, depth: %g%s}", depth, more))
	}
	for _, c := range []struct {
		text, kind string
		at         int
		want       []string
	}{
		{ring, Die, 0, []string{"forms the outside"}},
		{ring, UpperPunch, 0, []string{"the only level of its side"}},
		{ring, LowerPunch, 0, []string{"the only level of its side"}},
		{ring, CoreRod, 0, []string{"a through-hole"}},
		{shelfed, Die, 0, []string{"forms the outside", "a shelf forms collar bottom: it overhangs by no more than its thickness " +
			"and 3 mm"}},
		{fmt.Sprintf(hub, ""), LowerPunch, 0, []string{"flange to hub bottom rises 60 % of the height, above 15 %"}},
		{fmt.Sprintf(hub, ""), LowerPunch, 1, []string{"flange to hub bottom rises 60 % of the height, above 15 %"}},
		{"bodies: {flange: {circle: {diameter: 60}, from: 2, to: 20}, hub: {circle: {diameter: 30}, from: 0, to: 20}}", LowerPunch, 0,
			[]string{"one punch forms all levels of its side", "hub bottom stays in its face: within 15 % of the height"}},
		{"bodies: {flange: {circle: {diameter: 60}, from: 12, to: 20}, hub: {circle: {diameter: 30}, from: 11, to: 20, punch: own}}",
			LowerPunch, 0,
			[]string{"flange to hub bottom is said to have its own punch"}},
		// A step of 3 mm on a column of 8: 15 % of 20 mm, but 27 % beside it is no more than 3 of 11.
		{"bodies: {web: {circle: {diameter: 60}, from: 3, to: 11}, hub: {circle: {diameter: 30}, from: 0, to: 11}, boss: {circle: " +
			"{diameter: 12}, from: 0, to: 20}}", LowerPunch, 0,
			[]string{"hub to web bottom rises 27.3 % of the column beside it, above 25 %"}},
		{holes(8, ""), UpperPunch, 0, []string{"the only level of its side"}},
		{holes(8, ""), UpperPunch, 1, []string{"the blind hole is 40 % of the height deep, above 15 %"}},
		{holes(2, ", punch: own"), UpperPunch, 1, []string{"the blind hole is said to have its own punch"}},
		{holes(2, ""), UpperPunch, 0, []string{"one punch forms all levels of its side",
			"the pin for pocket stands on its face: 10 % of the height deep"}},
		{holes(8, ", punch: face"), UpperPunch, 0, []string{"one punch forms all levels of its side",
			"the pin for pocket stands on its face: 40 % of the height deep"}},
		{holes(3.000001, ""), UpperPunch, 1, []string{"the blind hole is 15 % of the height deep, above 15 %"}},
		// Steps of 2.5 mm stay in a face; the lowest of three levels is 5 mm, 25 % of the height, from the one that starts the punch.
		{"bodies: {left: {rectangle: {length: 30, width: 20, at: [-15, 0]}, from: 0, to: 20}, middle: {rectangle: {length: 20, " +
			"width: 20, at: [10, 0]}, from: 0, to: 17.5}, right: {rectangle: {length: 10, width: 20, at: [25, 0]}, from: 0, to: 15}}",
			UpperPunch, 1,
			[]string{"more than 15 % of the height from the other levels of its side"}},
		{made(disc, "  bore: {circle: {diameter: 10}}\n  pin: {circle: {diameter: 4, at: [12, 0]}}"), CoreRod, 0,
			[]string{"a through-hole", "one of 2 of the same length, ganged on one core platen"}},
		// 2.9 mm in a flange of 10 mm: 14.5 % of the height, 29 % of the column.
		{made(fmt.Sprintf(bodyOf, "flange", 60.0, 10.0, 20.0)+fmt.Sprintf(bodyOf, "hub", 20.0, 0.0, 20.0),
			"  pin: {circle: {diameter: 5, at: [20, 0]}, open: top, depth: 2.9}"), UpperPunch, 1,
			[]string{"the blind hole is 29 % of the column beside it deep, above 25 %"}},
		// Blind holes alike say the same once.
		{made(disc, "  pin: {circle: {diameter: 4, at: [12, 0]}, repeat: {count: 3}, open: top, depth: 2}"), UpperPunch, 0,
			[]string{"one punch forms all levels of its side", "the pin for pin stands on its face: 10 % of the height deep"}},
		{"bodies: {disc: {circle: {diameter: 40}, from: 0, to: 18}, lug: {circle: {diameter: 6, at: [10, 0]}, from: 0, to: 20}}",
			UpperPunch, 0,
			[]string{"the only level of its side", "a boss stays in its face"}},
		{"bodies: {disc: {circle: {diameter: 40}, from: 0, to: 18}, lug: {circle: {diameter: 6, at: [10, 0]}, from: 0, to: 20, " +
			"repeat: {count: 3}}}", UpperPunch, 0,
			[]string{"the only level of its side", "3 bosses stay in its face"}},
		{made(disc, "  slot: {rectangle: {length: 60, width: 2}, open: bottom, depth: 1.5}"), LowerPunch, 0,
			[]string{"the only level of its side", "a groove stays in its face"}},
	} {
		l, _ := lay(t, c.text, nil)
		of := l.Of(c.kind)
		if len(of) <= c.at {
			t.Errorf("%d members %s, want one more than %d:\n%s", len(of), c.kind, c.at, c.text)
			continue
		}
		if got := of[c.at].Why; !slices.Equal(got, c.want) {
			t.Errorf("%s %d: %q, want %q:\n%s", c.kind, c.at, got, c.want, c.text)
		}
	}
}

// TestPins: a blind hole at 15 % of the height, or at 25 % of the column beside it, is a pin in the face; a micrometre of a
// millimetre more makes it a punch. Where its part says a punch of its own or a pin, that holds.
func TestPins(t *testing.T) {
	column := func(bottom, depth float64, said string) string {
		return made(fmt.Sprintf(bodyOf, "flange", 60.0, bottom, 20.0)+fmt.Sprintf(bodyOf, "hub", 20.0, 0.0, 20.0),
			fmt.Sprintf("  pin: {circle: {diameter: 5, at: [20, 0]}, open: top, depth: %.6f%s}", depth, said))
	}
	for _, c := range []struct {
		bottom, depth float64
		said          string
		upper         int
	}{
		{0.5, 3, "", 1}, {0.5, 3.000001, "", 2}, {0.5, 3.000001, ", punch: face", 1}, {0.5, 1, ", punch: own", 2},
		{8.4, 2.9, "", 1}, {8.400004, 2.9, "", 2}, {8.400004, 2.9, ", punch: face", 1},
	} {
		l, s := lay(t, column(c.bottom, c.depth, c.said), nil)
		if l.Upper != c.upper {
			t.Errorf("%.6f deep over a floor from %.6f%s: %d upper punches, want %d", c.depth, c.bottom, c.said, l.Upper, c.upper)
		}
		if own := c.upper == 2; s.Holes[0].OwnPunch != own {
			t.Errorf("%.6f deep over a floor from %.6f%s: own punch %v", c.depth, c.bottom, c.said, !own)
		}
	}
}

// TestLevelsApart: levels share a punch up to 15 % of the height, and no millionth more, where they are one region of the plan: the bar
// between left and right may be as low as that. A lower one between them makes three punches of them, whatever their heights, but
// for copies: these one platen carries.
func TestLevelsApart(t *testing.T) {
	for _, c := range []struct {
		middle, right string
		upper         int
	}{{"10", "20", 3}, {"10", "17", 3}, {"17", "20", 1}, {"17", "17", 1}, {"18", "17", 1}, {"18", "16.9999995", 2}, {"16.9999995", "20", 3}} {
		l, _ := lay(t, made("  left: {rectangle: {length: 30, width: 20, at: [-15, 0]}, from: 0, to: 20}\n  middle: {rectangle: "+
			"{length: 20, width: 20, at: [10, 0]}, from: 0, to: "+c.middle+"}\n"+
			"  right: {rectangle: {length: 10, width: 20, at: [25, 0]}, from: 0, to: "+c.right+"}", ""), nil)
		if l.Upper != c.upper {
			t.Errorf("a level at %s beyond one at %s: %d upper punches, want %d", c.right, c.middle, l.Upper, c.upper)
		}
	}
	l, _ := lay(t, made("  bar: {rectangle: {length: 60, width: 20}, from: 0, to: 10}\n  lug: {rectangle: {length: 10, width: 20, at: [25, 0]}, "+
		"from: 0, to: 20, repeat: {count: 2}}", ""), nil)
	if p := l.Of(UpperPunch); len(p) != 2 || p[0].Count*p[1].Count != 2 {
		t.Errorf("two lugs alike: %+v", p)
	}
	l, s := lay(t, made("  disc: {circle: {diameter: 60}, from: 0, to: 20}", "  moat: {turned: {section: [[10, 12], [20, 12], [20, 20], [10, 20]]}}"), nil)
	if l.Upper != 3 || s.Punches[0].Name == s.Punches[1].Name {
		t.Errorf("two lands round a moat: %d upper punches", l.Upper)
	}
}

// TestGanged: rods of one length between the same heights are ganged on one core platen.
func TestGanged(t *testing.T) {
	rod := func(low, high float64, count int) measure.Rod {
		return measure.Rod{Hole: &subject.Hole{Common: subject.Common{ZLow: low, ZHigh: high}}, Count: count}
	}
	b := &measure.Measured{Rods: []measure.Rod{rod(0, 20, 1), rod(0, 20+5e-7, 3), rod(0, 20.0005, 1), rod(0.0005, 20, 1), rod(5, 20, 2)}}
	for i, want := range []int{4, 4, 1, 1, 2} {
		if got := ganged(b, b.Rods[i]); got != want {
			t.Errorf("rod %d: %d ganged, want %d", i, got, want)
		}
	}
}

// TestCoreRods: a rod for each hole, those alike once, with the slenderness that is length over width.
func TestCoreRods(t *testing.T) {
	l, s := lay(t, made(disc, "  bore: {circle: {diameter: 10}}\n  pins: {circle: {diameter: 4, at: [12, 0]}, repeat: {count: 3}}"), nil)
	rods := l.Of(CoreRod)
	if len(rods) != 2 || len(s.Cores) != 2 {
		t.Fatalf("%d members, %d subjects", len(rods), len(s.Cores))
	}
	why := []string{"a through-hole", "one of 4 of the same length, ganged on one core platen"}
	for i, w := range []struct {
		name         string
		count        int
		width, slend float64
	}{{"bore", 1, 10, 2}, {"pins", 3, 4, 5}} {
		m, c := rods[i], s.Cores[i]
		if m.Name != w.name || m.Count != w.count || !slices.Equal(m.Why, why) || c.Width != w.width || c.Length != 20 ||
			c.Slenderness != w.slend {
			t.Errorf("%+v, %+v, want %v", m, c, w)
		}
		near(t, "section of "+w.name, m.Section, w.width, 1e-9)
	}
}

// TestBefore: of two levels the larger starts a punch; of one area the one that can take in more; then the lower.
func TestBefore(t *testing.T) {
	end := func(z, area float64) *measure.End { return &measure.End{Z: z, Area: area} }
	within := func(d, e *measure.End) bool { return d.Z-e.Z <= 3 && e.Z-d.Z <= 3 }
	low, mid, high := end(10, 100), end(12, 100), end(14, 100)
	for _, c := range []struct {
		what string
		d, e *measure.End
		free []*measure.End
		want int
	}{
		{"the larger", end(5, 101), low, nil, -1},
		{"the smaller", low, end(5, 101), nil, 1},
		{"larger by a part in ten million", end(15, 100+1e-5), low, nil, -1},
		{"larger by rounding alone, and higher", end(15, 100+1e-9), low, nil, 1},
		{"takes in both neighbours", mid, low, []*measure.End{low, mid, high}, -1},
		{"takes in one", high, mid, []*measure.End{low, mid, high}, 1},
		{"the lower of two that take in one", low, high, []*measure.End{low, mid, high}, -1},
	} {
		if got := before(c.d, c.e, c.free, within); got != c.want {
			t.Errorf("%s: %d, want %d", c.what, got, c.want)
		}
	}
}
