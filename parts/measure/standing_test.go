package measure

import (
	"strings"
	"testing"

	"corerod/parts/form"
)

// TestStanding: features drawn in section go from their lowest to their highest point, for side features and dimensions too, whatever
// stands higher beside them.
func TestStanding(t *testing.T) {
	const head = "part: p\nunits: mm\nbodies:\n  hub: {circle: {diameter: 20}, from: 0, to: 20}\n"
	for body, span := range map[string][2]float64{
		"{turned: {section: [[0, 0], [15, 0], [15, 9], [0, 9]]}}": {0, 9},
		"{ball: {diameter: 24, z: 10, band: 6}}":                  {-2, 22},
	} {
		read := func(more string) (*Measured, string) {
			p, ps := form.Parse("p.yaml", []byte(head+"  top: "+body+"\n"+more))
			if len(ps) > 0 {
				t.Fatal(ps)
			}
			m, ps := Part(p)
			if len(ps) > 0 {
				return nil, ps.Error()
			}
			return m, ""
		}
		if _, says := read("sides: {s: {hole: {diameter: 2, toward: 0, z: 30}, in: top, made_by: machining}}\n"); !strings.Contains(says,
			"lies outside top") {
			t.Errorf("%s: a hole above it: %q", body, says)
		}
		m, says := read("sides: {s: {thread: {size: M20}, in: top, made_by: machining}}\n")
		if says != "" {
			t.Fatal(says)
		}
		if c := m.Subject.Crossings[0]; c.ZLow != span[0] || c.ZHigh != span[1] {
			t.Errorf("%s: its thread goes from %g to %g, want %v", body, c.ZLow, c.ZHigh, span)
		}
	}
}
