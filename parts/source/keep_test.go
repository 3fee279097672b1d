package source

import (
	"reflect"
	"testing"
)

// TestKeep: nodes come back as they were, positions inside texts too; anything cut off or added is refused.
func TestKeep(t *testing.T) {
	content := []byte("a: {b: [1, 'two', \"th\\tree\"], c: ~}\nd: >-\n  folded\n  text\r\ne: |\n  literal\n")
	n, ps := Parse("a.yaml", content)
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	b := n.Keep()
	got := Kept(b, content)
	if !reflect.DeepEqual(got, n) {
		t.Errorf("%+v, want %+v", got, n)
	}
	line, column := got.At("d").Inside(8)
	if wantLine, wantColumn := n.At("d").Inside(8); line != wantLine || column != wantColumn || line != 4 {
		t.Errorf("inside a folded text: %d:%d", line, column)
	}
	for i := range b {
		if Kept(b[:i], content) != nil {
			t.Errorf("%d of %d bytes were taken for a file", i, len(b))
		}
	}
	if Kept(b+"\x00", content) != nil {
		t.Error("a byte too many was taken")
	}
}
