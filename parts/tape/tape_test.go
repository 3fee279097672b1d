package tape

import (
	"math"
	"testing"
)

// TestRoundTrip: what was written comes back; a tape cut off anywhere, or with a byte too many, is seen as such.
func TestRoundTrip(t *testing.T) {
	var w Writer
	w.Number(0)
	w.Number(127)
	w.Number(128)
	w.Number(1<<32 + 5)
	w.Real(-math.Pi)
	w.Text("Ø 5 mm\x00")
	w.Text("")
	read := func(tape string) bool {
		r := Reader{Rest: tape}
		same := r.Number() == 0 && r.Number() == 127 && r.Number() == 128 && r.Number() == 1<<32+5 && r.Real() == -math.Pi &&
			r.Text() == "Ø 5 mm\x00" && r.Text() == ""
		return same && r.Done()
	}
	if !read(string(w)) {
		t.Error("it comes back another")
	}
	for i := range w {
		if read(string(w[:i])) {
			t.Errorf("%d of %d bytes were taken for all", i, len(w))
		}
	}
	if read(string(w) + "\x00") {
		t.Error("a byte too many was taken")
	}
	if r := (Reader{Rest: "\xff\xff\xff\xff\xff\xff\x01"}); r.Number() != 0 || !r.Broken {
		t.Error("a number without an end was taken")
	}
}
