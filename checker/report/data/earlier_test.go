package data

import (
	"strings"
	"testing"
)

// FuzzEarlier: whatever an earlier review holds, it is read or refused, and as a lot it is joined or refused.
func FuzzEarlier(f *testing.F) {
	for _, seed := range []string{"", "null", "[]", "{}", `{"corerod":{"version":"1","format":1},"parts":[]}`,
		`{"corerod":{"version":"1","format":1},"parts":[{"findings":[{"grade":"stop","compared":[{"value":1e9}]}]}]}`,
		`{"corerod":{"version":"1","format":1},"parts":[],"lot":{"lot":1,"lots":1}}`, strings.Repeat("[", 2000)} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		e, err := ReadEarlier("x.json", b)
		if (e == nil) == (err == nil) {
			t.Fatal(e, err)
		}
		if out, _, err := Join([]Lot{{Name: "x.json", JSON: b}}); err == nil {
			if again, err := ReadEarlier("y.json", out); err != nil || len(again.Parts) != len(e.Parts) {
				t.Fatalf("joined it is %q: %v", out, err)
			}
		}
	})
}
