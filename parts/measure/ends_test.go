package measure

import (
	"math"
	"slices"
	"testing"

	"corerod/parts/blank"
	"corerod/parts/plane"
)

// flangedBush has its flange, 40 mm by 5, at the bottom of a hub of 30 by 20 mm with a bore of 16.
const flangedBush = `
bodies:
  flange: {circle: {diameter: 40}, from: 0, to: 5}
  hub:    {circle: {diameter: 30}, from: 0, to: 20}
cuts:
  bore: {circle: {diameter: 16}}
`

// endOf is the only end of a side with a name.
func endOf(t *testing.T, m *Measured, side, name string) *End {
	t.Helper()
	i := slices.IndexFunc(m.Ends, func(e *End) bool { return e.Side == side && e.Name() == name })
	if i < 0 {
		t.Fatalf("no %s %s", side, name)
	}
	return m.Ends[i]
}

// TestEndsOfABush: its levels and their areas, the columns between them, and its rod.
func TestEndsOfABush(t *testing.T) {
	m := measured(t, flangedBush)
	flange, hub, foot := endOf(t, m, "top", "flange top"), endOf(t, m, "top", "hub top"), endOf(t, m, "bottom", "flange and hub bottom")
	near(t, "flange", flange.Area, math.Pi*(400-225))
	near(t, "hub", hub.Area, math.Pi*(225-64))
	near(t, "foot", foot.Area, math.Pi*(400-64))
	if len(m.Ends) != 3 || len(m.Columns) != 2 || len(m.Rods) != 1 {
		t.Fatalf("%d ends, %d columns, %d rods", len(m.Ends), len(m.Columns), len(m.Rods))
	}
	for _, c := range m.Columns {
		high, area := 5.0, flange.Area
		if c.Top == hub {
			high, area = 20, hub.Area
		}
		near(t, "column", c.Height, high)
		near(t, "its volume", c.Volume, high*area)
		near(t, "its lower face", c.Low, 0)
		near(t, "its contact", c.Contact, c.Perimeter*high)
		if c.Bottom != foot {
			t.Errorf("%s stands on %s", c.Name, c.Bottom.Name())
		}
	}
	near(t, "rod", m.Rods[0].Area, 64*math.Pi)
	if s := m.Steps[0]; s.Front != hub.Level || s.Back != flange.Level {
		t.Errorf("the step goes from %s to %s", s.Front.Name, s.Back.Name)
	}
}

// TestBlindHolesEnd: the floor of a blind hole is an end with what lies round its mouth; bosses and grooves are counted in
// the level that they stand in.
func TestBlindHolesEnd(t *testing.T) {
	m := measured(t, `
bodies:
  disc: {circle: {diameter: 40}, from: 0, to: 12}
  boss: {circle: {diameter: 5, at: [-10, 0]}, from: 12, to: 13}
cuts:
  pit:    {circle: {diameter: 6, at: [10, 0]}, open: top, depth: 3}
  groove: {slot: {length: 12, width: 2, at: [0, 12]}, open: top, depth: 1}
`)
	disc := endOf(t, m, "top", "disc top")
	i := slices.IndexFunc(m.Ends, func(e *End) bool { return e.Hole != nil })
	if i < 0 || m.Ends[i].Round != disc || m.Ends[i].Said != "none" {
		t.Fatalf("the pit's end: %d of %d", i, len(m.Ends))
	}
	pit := m.Ends[i]
	near(t, "floor", pit.Z, 9)
	near(t, "share", pit.Share, 3.0/13)
	near(t, "local", pit.Local, 3.0/12)
	near(t, "area", pit.Area, 9*math.Pi)
	near(t, "disc, with boss and groove", disc.Area, math.Pi*(400-9))
	if disc.Bosses != 1 || disc.Grooves != 1 {
		t.Errorf("%d bosses and %d grooves in the disc's top", disc.Bosses, disc.Grooves)
	}
}

// TestSlidingWalls: what slides on die and core rods at ejection; a wall beside a punch goes along, one over a shelf of the
// die does not.
func TestSlidingWalls(t *testing.T) {
	m := measured(t, flangedBush)
	die, core := m.Walls(nil)
	near(t, "on the die: the flange's rim", die, 40*math.Pi*5)
	near(t, "on the core rod", core, 16*math.Pi*20)
	m = measured(t, "bodies: {flange: {circle: {diameter: 34}, from: 15, to: 20}, hub: {circle: {diameter: 30}, from: 0, to: 20}}\n")
	die, core = m.Walls([]*End{endOf(t, m, "bottom", "flange bottom")})
	near(t, "with the hub below the shelf", die, 34*math.Pi*5+30*math.Pi*15)
	near(t, "without a core rod", core, 0)
	m = measured(t, "bodies: {a: {circle: {diameter: 20}, from: 0, to: 4, draft: {angle: 7, narrows: down}}}\n")
	die, _ = m.Walls(nil)
	if mean := math.Pi * (20 + 20 - 8*tan(7)) / 2 * 4; math.Abs(die-mean) > 1e-3*mean {
		t.Errorf("a drafted wall slides with %g, want about %g", die, mean)
	}
}

// TestSectionsOfMembers: how thin the punches of a bush are, and at the step between them.
func TestSectionsOfMembers(t *testing.T) {
	m := measured(t, flangedBush)
	flange, hub, foot := endOf(t, m, "top", "flange top"), endOf(t, m, "top", "hub top"), endOf(t, m, "bottom", "flange and hub bottom")
	for _, c := range []struct {
		name          string
		ends          []*End
		section, step float64 // -1: none
	}{
		{"a ring punch over the flange", []*End{flange}, 5, 5},
		{"one over the hub", []*End{hub}, 7, 7},
		{"one for both, with a step in its face", []*End{flange, hub}, 12, 5},
		{"the lower punch", []*End{foot}, 12, -1},
	} {
		section, step, _ := m.Section(c.ends)
		near(t, c.name, section, c.section)
		if step.Known != (c.step >= 0) || step.Known && math.Abs(step.Value-c.step) > 1e-9 {
			t.Errorf("%s: at the step %v, want %g", c.name, step, c.step)
		}
	}
	solid := measured(t, "bodies: {a: {circle: {diameter: 20}, from: 0, to: 6}}\n")
	section, step, _ := solid.Section(solid.Ends[:1])
	near(t, "a punch without a neck: the widest circle", section, 20)
	if step.Known {
		t.Errorf("it has a step: %v", step)
	}
}

// TestStripsOfABush: along x the path crosses the flange, the hub, the bore and both again.
func TestStripsOfABush(t *testing.T) {
	m := measured(t, flangedBush)
	flange, hub, foot := endOf(t, m, "top", "flange top"), endOf(t, m, "top", "hub top"), endOf(t, m, "bottom", "flange and hub bottom")
	got := m.Strips([]blank.Leg{{From: -30, To: 30, At: plane.Point{X: -30}, Toward: plane.Point{X: 1}}})
	want := []Strip{
		{From: -30, To: -20},
		{From: -20, To: -15, High: 5, Bottom: foot, Top: flange},
		{From: -15, To: -8, High: 20, Bottom: foot, Top: hub},
		{From: -8, To: 8, Inside: true},
		{From: 8, To: 15, High: 20, Bottom: foot, Top: hub},
		{From: 15, To: 20, High: 5, Bottom: foot, Top: flange},
		{From: 20, To: 30},
	}
	if len(got) != len(want) {
		t.Fatalf("%d strips, want %d", len(got), len(want))
	}
	for i, g := range got {
		near(t, "from", g.From, want[i].From)
		near(t, "to", g.To, want[i].To)
		g.From, g.To = want[i].From, want[i].To
		if g != want[i] {
			t.Errorf("strip %d: %+v, want %+v", i, g, want[i])
		}
	}
	sunk := measured(t,
		"bodies: {a: {circle: {diameter: 30}, from: 0, to: 10}}\ncuts: {bore: {circle: {diameter: 8}}, sink: {circle: {diameter: 16}, open: top, depth: 4}}\n")
	for _, s := range sunk.Strips([]blank.Leg{{From: 0, To: 20, Toward: plane.Point{X: 1}}}) {
		if s.Over != (s.From >= 4-1e-9 && s.To <= 8+1e-9) || s.Under {
			t.Errorf("from %g to %g: over it is the space of the bore: %v", s.From, s.To, s.Over)
		}
	}
}

// TestSizesOfFeatures: each size that a tool member gives has the name that the part file gives it.
func TestSizesOfFeatures(t *testing.T) {
	m := measured(t, `
bodies:
  plate: {rectangle: {length: 60, width: 40}, from: 0, to: 5}
  ring:  {turned: {section: [[8, 0], [12, 0], [12, 9], [8, 9]]}}
  nut:   {hexagon: {across_flats: 10, at: [20, 0]}, from: 0, to: 7}
  key:   {polygon: {points: [[-28, -6], [-20, -6], [-20, 0], [-28, 0]]}, from: 0, to: 7}
cuts:
  bore:  {circle: {diameter: 4}}
  d:     {flatted: {diameter: 6, flats: [2.5], at: [20, 0]}}
`)
	want := []Size{{"plate.length", 60}, {"plate.width", 40}, {"ring.outside", 24}, {"ring.inside", 16}, {"nut.across_flats", 10},
		{"key.outside", 10},
		{"bore.diameter", 4}, {"d.diameter", 6}, {"d.flat_1", 2.5}}
	got := m.Sizes()
	if len(got) != len(want) {
		t.Fatalf("%v, want %v", got, want)
	}
	for i, g := range got {
		if g.Of != want[i].Of || math.Abs(g.Value-want[i].Value) > 1e-9 {
			t.Errorf("%v, want %v", g, want[i])
		}
	}
}
