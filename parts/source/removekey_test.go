package source

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
)

// TestWithout: a key is taken out with its value and nothing else, wherever it stands and however its neighbours are written.
func TestWithout(t *testing.T) {
	for _, c := range []struct{ text, path, want string }{
		{"a: 1\nb: 2\nc: 3\n", "b", "a: 1\nc: 3\n"},
		{"a: 1\nb: 2 # note\n", "b", "a: 1\n"},
		{"a: 1\nb: 2", "b", "a: 1\n"},
		{"a: 1\r\nb: 2\r\n", "b", "a: 1\r\n"},
		{"a: 1\rb: 2\r", "b", "a: 1\r"},
		{"{a: 1, b: 2}\n", "a", "{b: 2}\n"},
		{"{a: 1, b: 2}\n", "b", "{a: 1}\n"},
		{"m: {a: 1}\nn: 2\n", "m.a", "m: {}\nn: 2\n"},
		{"m:\n  a: 1\nn: 2\n", "m.a", "m:\n  {}\nn: 2\n"},
		{"m:\n  a: |\n    x\nn: 2\n", "m.a", "m:\n  {}\nn: 2\n"},
		{"t: |-\n  Hub\nq: 5 # a year\n", "q", "t: |-\n  Hub\n"},
		{"t: >-\n  Hub\nq: 5 # a year\nr: 6\n", "q", "t: >-\n  Hub\nr: 6\n"},
		{"q: 5\nt: |\n  Hub\n", "t", "q: 5\n"},
		{"l: [{a: 1, b: 2}]\n", "l[0].b", "l: [{a: 1}]\n"},
		{"l:\n- a: 1\n  b: 2\n- c: 3\n", "l[0].b", "l:\n- a: 1\n- c: 3\n"},
	} {
		d, ps := Open("x.yaml", []byte(c.text))
		if len(ps) > 0 {
			t.Fatal(ps)
		}
		if got, err := d.Without(c.path); err != nil || string(got) != c.want {
			t.Errorf("%q without %s is %q (%v), want %q", c.text, c.path, got, err, c.want)
		}
	}
	for _, path := range []string{"b", "a.b", "l[0]", "a"} {
		d, _ := Open("x.yaml", []byte("a: 1\n"))
		if got, err := d.Without(path); err == nil {
			t.Errorf("without %s: %q", path, got)
		}
	}
}

// TestWithoutRandom: whatever the layout, what is left has the values that it had, in their order.
func TestWithoutRandom(t *testing.T) {
	values := []string{"1", "two", `"th ree"`, "[1, 2]", "{x: 1, y: [2]}", "|-\n    text\n    more", ">-\n    folded", "|\n    text", "'q'",
		"\n    x: 1\n    y: 2", "\n    - 1\n    - 2"}
	for n := range 400 {
		rng := rand.New(rand.NewPCG(5, uint64(n)))
		var b strings.Builder
		b.WriteString("m:\n")
		keys := 2 + rng.IntN(4)
		for k := range keys {
			v := values[rng.IntN(len(values))]
			note := ""
			if !strings.Contains(v, "\n") && rng.IntN(2) == 0 {
				note = " # a: note"
			}
			fmt.Fprintf(&b, "  k%d: %s%s\n", k, v, note)
		}
		b.WriteString("z: 9\n")
		gone := fmt.Sprintf("k%d", rng.IntN(keys))
		d, ps := Open("x.yaml", []byte(b.String()))
		if len(ps) > 0 {
			t.Fatal(ps, b.String())
		}
		got, err := d.Without("m." + gone)
		after, ps := Open("x.yaml", got)
		if err != nil || len(ps) > 0 {
			t.Fatalf("%v %v\n%s\n%s", err, ps, b.String(), got)
		}
		var want []string
		for i, k := range d.Root.At("m").Keys {
			if k.Value != gone {
				want = append(want, k.Value+d.Root.At("m").Items[i].Flow())
			}
		}
		var left []string
		for i, k := range after.Root.At("m").Keys {
			left = append(left, k.Value+after.Root.At("m").Items[i].Flow())
		}
		if fmt.Sprint(left) != fmt.Sprint(want) || after.Root.At("z") == nil {
			t.Fatalf("without %s\n%s\nbecame\n%s", gone, b.String(), got)
		}
	}
}

// TestFlow: a value on one line reads as the same value.
func TestFlow(t *testing.T) {
	for _, text := range []string{"a: 1\n", "a: \"1\"\n", "a: true\n", "a: \"true\"\n", "a: null\n", "a: x # y\n", "a: \"x # y\"\n",
		"a: \"l1\\nl2\"\n", "a: |\n  x: {y\n", "a: [1, {b: c}]\n",
		"a: {b: [\"]\", \"'\"]}\n", "a: \"\\u202e\\u0085\\u007f\"\n", "a: \"\"\n", "a: -1.5e-3\n", "a: 007\n"} {
		d, ps := Open("x.yaml", []byte(text))
		if len(ps) > 0 {
			t.Fatal(ps)
		}
		flow := d.Root.Flow()
		again, ps := Open("x.yaml", []byte(flow+"\n"))
		if len(ps) > 0 || strings.Contains(flow, "\n") || again.Root.Flow() != flow || again.Root.At("a").Value != d.Root.At("a").Value ||
			again.Root.At("a").Null != d.Root.At("a").Null {
			t.Errorf("%q is %q: %v", text, flow, ps)
		}
	}
}
