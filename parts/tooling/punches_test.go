package tooling

import (
	"fmt"
	"strings"
	"testing"

	"corerod/parts"
	"corerod/parts/blank"
)

func punches(t *testing.T, text string) (top, bottom int) {
	t.Helper()
	p, ps := parts.Parse("test.yaml", []byte("part: test\nunits: mm\n"+text))
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	b, ps := blank.Make(p)
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	return len(Punches(b, "top")), len(Punches(b, "bottom"))
}

func TestPunches(t *testing.T) {
	hub := "bodies: {flange: {circle: {diameter: 60}, from: 12, to: 20}, hub: {circle: {diameter: 30}, from: %s, to: 20%s}}\ncuts: {bore: {circle: {diameter: 15}}}"
	for _, c := range []struct {
		what, text  string
		top, bottom int
	}{
		{"a plain bush", "bodies: {bush: {circle: {diameter: 20}, from: 0, to: 6}}\ncuts: {bore: {circle: {diameter: 10}}}", 1, 1},
		{"a hub below a flange", fmt.Sprintf(hub, "0", ""), 1, 2},
		{"a step of 15 % stays in the face", fmt.Sprintf(hub, "10.588235294117647", ""), 1, 1},
		{"unless it is to have its own punch", fmt.Sprintf(hub, "11", ", punch: own"), 1, 2},
		{"a step of half the height shares no punch, whatever is declared", fmt.Sprintf(hub, "4", ", punch: face"), 1, 2},
		{"a counterbore on top", "bodies: {disc: {circle: {diameter: 40}, from: 0, to: 20}}\ncuts: {bore: {circle: {diameter: 10}}, counterbore: {circle: {diameter: 20}, open: top, depth: 8}}", 2, 1},
	} {
		if top, bottom := punches(t, c.text); top != c.top || bottom != c.bottom {
			t.Errorf("%s: %d upper and %d lower punches, want %d and %d", c.what, top, bottom, c.top, c.bottom)
		}
	}
}

// TestPunchesWithoutNames: levels of one area are grouped by where they lie, not by what they are called.
func TestPunchesWithoutNames(t *testing.T) {
	const text = "bodies:\n  x: {rectangle: {length: 20, width: 20, at: [0, 0]}, from: 0, to: 10}\n  y: {rectangle: {length: 20, width: 20, at: [20, 0]}, from: 0, to: 12}\n  z: {rectangle: {length: 20, width: 20, at: [40, 0]}, from: 0, to: 14}\n"
	for _, names := range [][3]string{{"a", "b", "c"}, {"c", "a", "b"}, {"b", "c", "a"}, {"c", "b", "a"}} {
		named := strings.NewReplacer("  x:", "  "+names[0]+":", "  y:", "  "+names[1]+":", "  z:", "  "+names[2]+":").Replace(text)
		if top, _ := punches(t, named); top != 1 {
			t.Errorf("named %v: %d upper punches, want the middle level's to take in both", names, top)
		}
	}
}
