package main

import (
	"go/format"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

const small = `package small

const near = 1e-6

func least(a, b float64) float64 {
	if a < b && b > near {
		b = a
	}
	return b * 2
}
`

// given writes a package of one file, and makes its folder the one to work in.
func given(t *testing.T, text string) {
	t.Helper()
	t.Chdir(t.TempDir())
	if err := os.Mkdir("small", 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join("small", "small.go"), []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
}

func changes(t *testing.T, seed uint64) (all []string) {
	t.Helper()
	ms, err := find("small", seed)
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range ms {
		all = append(all, m.function+": "+m.change)
	}
	return all
}

// TestFind: every change of a small file, each once; their order follows from the seed, and each gives Go that can be read.
func TestFind(t *testing.T) {
	given(t, small)
	const line = "least: if a < b && b > near { => if a "
	want := []string{
		"-: const near = 1e-6 => const near = (1e-6 * 1000)",
		"least: drop: b = a after: if a < b && b > near {",
		"least: drop: return b * 2 after: }",
		line + "< b && b <= near {", line + "< b && b > (near * 1000) {", line + "< b && b >= near {", line + "< b || b > near {",
		line + "<= b && b > near {", line + ">= b && b > near {",
		"least: return b * 2 => return b * 3",
	}
	one, again, other := changes(t, 1), changes(t, 1), changes(t, 2)
	if !slices.Equal(one, again) || slices.Equal(one, other) {
		t.Errorf("with seeds 1, 1 and 2:\n%q\n%q\n%q", one, again, other)
	}
	if slices.Sort(one); !slices.Equal(one, want) {
		t.Errorf("%q, want %q", one, want)
	}
	ms, _ := find("small", 1)
	for _, m := range ms {
		text := m.text([]byte(small))
		if _, err := format.Source(text); err != nil || string(text) == small {
			t.Errorf("%s: %v\n%s", m.change, err, text)
		}
	}
}

// TestFindStable: an edit in one function leaves the order of the mutants of another.
func TestFindStable(t *testing.T) {
	given(t, small)
	before := changes(t, 1)
	given(t, small+"\nfunc more(a int) bool { return a == 7 }\n")
	var after []string
	for _, c := range changes(t, 1) {
		if !strings.HasPrefix(c, "more: ") {
			after = append(after, c)
		}
	}
	if !slices.Equal(before, after) {
		t.Errorf("%q, then %q", before, after)
	}
}

// TestEquivalent: a listed mutant is left out wherever its line stands; an entry that is of none is told of.
func TestEquivalent(t *testing.T) {
	given(t, small)
	list := "# why\n\nsmall/small.go least\nreturn b * 2 => return b * 3\nbecause a reason\n\nsmall/small.go least\nreturn b * 9 => " +
		"return b * 8\nbecause it was there\n"
	if err := os.WriteFile("list.txt", []byte(list), 0o600); err != nil {
		t.Fatal(err)
	}
	same, err := readEquivalent("list.txt")
	if err != nil || len(same) != 2 {
		t.Fatalf("%v %v", same, err)
	}
	ms, err := find("small", 1)
	if err != nil {
		t.Fatal(err)
	}
	kept, left, stale := leaveOut(ms, same, "small")
	if len(kept) != len(ms)-1 || left != 1 || len(stale) != 1 || stale[0].reason != "it was there" {
		t.Errorf("%d of %d kept, %d left out, %v", len(kept), len(ms), left, stale)
	}
	for _, wrong := range []string{"small/small.go\nx\nbecause y\n", "small/small.go f\nx\ny\n", "small/small.go f\nx\n"} {
		if err := os.WriteFile("list.txt", []byte(wrong), 0o600); err != nil {
			t.Fatal(err)
		}
		if same, err := readEquivalent("list.txt"); err == nil {
			t.Errorf("%q gives %v", wrong, same)
		}
	}
}
