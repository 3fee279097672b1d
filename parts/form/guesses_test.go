package form

import (
	"strings"
	"testing"
)

// TestGuesses: keys that engineers tried first are answered by the right one, and the answer pasted in their place is read. They are from
// first tries of eight parts.
func TestGuesses(t *testing.T) {
	const body = "part: p\nunits: mm\nbodies: {a: {circle: {diameter: 40}, from: 0, to: 10}}\n"
	for _, x := range []struct {
		text        string // with the wrong words between « and »
		says, paste string // "" where the answer is not for this place
	}{
		{"part: p\nunits: mm\nbodies: {a: {circle: {diameter: 20}, «height: 10»}}\n", "the body a has no `height`", "from: 0, to: 10"},
		{body + "cuts: {h: {circle: {diameter: 5}, «height: 4»}}\n", "the cut h has no `height`", "open: top, depth: 4"},
		{"part: p\nunits: mm\nbodies: {a: {circle: {«radius: 10.5»}, from: 0, to: 10}}\n", "circle has no `radius`", "diameter: 21"},
		{"part: p\nunits: mm\nbodies: {a: {rectangle: {length: 20, width: 10, «angle: 30»}, from: 0, to: 10}}\n", "rectangle has no `angle`",
			"turn: 30"},
		{body + "edges: {e: {of: a, face: top, chamfer: {width: 0.5, «angle: 40»}}}\n", "chamfer has no `angle`", "slope: 40"},
		{body + "edges: {e: {of: a, face: top, «round: 0.5»}}\n", "round needs keys with values", "round: {radius: 0.5}"},
		{"part: p\nunits: mm\nbodies: {a: {«circle: 20», from: 0, to: 10}}\n", "circle needs keys with values", "circle: {diameter: 20}"},
		{body + "cuts: {h: {circle: {diameter: 5, «tolerance: 0.1»}}}\n", "tolerances stand under `dimensions`",
			"dimensions: {h-size: {of: h.diameter, plus_minus: 0.1}}"},
		{body + "cuts: {h: {circle: {diameter: 5, «at: [[10, 0], [-10, 2]]»}}}\n", "at is one point", "repeat: {count: 2, step: [-20, 2]}"},
		{body + "cuts: {h: {circle: {diameter: 5}, repeat: {count: 3, «pitch: 7»}}}\n", "repeat has no `pitch`", "step: [7, 0]"},
		{body + "cuts: {h: {circle: {diameter: 5}, «repeat: {count: [2, 3]}»}}\n", "count is one number",
			"repeat: [{count: 2, step: [10, 0]}, {count: 3, step: [0, 10]}]"},
		{body + "cuts: {h: {circle: {diameter: 5, «axis: [3, 4]»}}}\n", "circle has no `axis`", "at: [3, 4]"},
		{body + "dimensions: {d: {of: a.diameter, «plus: 0.1, minus: 0.05»}}\n", "the dimension d has no `plus`", "limits: [39.95, 40.1]"},
		{body + "dimensions: {d: {of: a.height, «plus: 0.1»}}\n", "the dimension d has no `plus`", "limits: [10, 10.1]"},
		{body + "cuts: {h: {circle: {diameter: 5, at: [10, 0]}, repeat: {count: 3, «start: 30»}}}\n", "repeat has no `start`", "first: 30"},
		{"part: p\nunits: mm\nbodies: {a: {«slot: {length: 40, width: 10, corner: 2}», from: 0, to: 10}}\n", "the ends of a slot are round",
			"rectangle: {length: 40, width: 10, corner: 2}"},
		{body + "cuts: {h: {«hole: {diameter: 5}»}}\n", "the cut h has no `hole`", "circle: {diameter: 5}"},
		{body + "edges: {e: {of: a, «face: [top, bottom]», chamfer: {width: 0.5, slope: 45}}}\n", "face is one end", "face: top"},
	} {
		from, to := strings.Index(x.text, "«"), strings.Index(x.text, "»")
		wrong := x.text[from+len("«") : to]
		_, ps := Parse("p.yaml", []byte(x.text[:from]+wrong+x.text[to+len("»"):]))
		if len(ps) == 0 || !strings.Contains(ps[0].Message, x.says) || !strings.Contains(ps[0].Message, "`"+x.paste+"`") {
			t.Errorf("%s:\n got %v", wrong, ps)
			continue
		}
		right := x.text[:from] + x.paste + x.text[to+len("»"):]
		switch {
		case strings.HasPrefix(x.paste, "dimensions"):
			right = x.text[:from] + x.text[to+len("»"):] + x.paste + "\n"
		case strings.HasPrefix(x.paste, "repeat") && strings.HasPrefix(wrong, "at"):
			right = x.text[:from] + "at: [10, 0]}, " + x.paste + "}}\n"
		}
		if _, ps := Parse("p.yaml", []byte(right)); len(ps) > 0 {
			t.Errorf("%s: as told, %v\n%s", wrong, ps, right)
		}
	}
}

// TestGuessesOfNoNumber: what is no number is not taken over into the answer.
func TestGuessesOfNoNumber(t *testing.T) {
	for _, v := range []string{"{}", "[1]", "\"\\e[2J\"", ".inf", "wide", "0x10"} {
		for _, key := range []string{"radius", "axis"} {
			_, ps := Parse("p.yaml", []byte("part: p\nunits: mm\nbodies: {a: {circle: {diameter: 3, "+key+": "+v+"}, from: 0, to: 10}}\n"))
			for _, p := range ps {
				if strings.Contains(p.Message, strings.Trim(v, "{}[]\"")) && len(v) > 3 || strings.Contains(p.Message, "\x1b") {
					t.Errorf("%s: %s: %q", key, v, p.Message)
				}
			}
		}
	}
}
