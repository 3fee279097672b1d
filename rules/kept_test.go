package rules

import (
	"os"
	"reflect"
	"slices"
	"testing"

	"corerod/parts/tape"
)

// TestGeneratedKept: kept.bin is what reading and checking the built-in packs' conditions gives. COREROD_UPDATE=1
// writes it.
func TestGeneratedKept(t *testing.T) {
	var want tape.Writer
	for _, name := range Builtin() {
		files, err := builtinFiles(name)
		if err != nil {
			t.Fatal(err)
		}
		p, ps := read(files, isTrials, nil)
		if len(ps) > 0 {
			t.Fatal(ps)
		}
		whole := keepPack(p)
		want.Text(keptWhole(p.Digest))
		want.Text(whole)
		if again := keptPack(whole); again == nil || keepPack(again) != whole {
			t.Errorf("%s comes back another", name)
		}
		for i := 0; i < len(whole); i += 101 {
			if keptPack(whole[:i]) != nil {
				t.Fatalf("%d of %d bytes were taken for a pack", i, len(whole))
			}
		}
		env := newEnvironment(p)
		var texts []string
		for _, r := range p.Rules {
			if r.From != p {
				continue
			}
			texts = append(texts, r.conditions()...)
		}
		slices.Sort(texts)
		for _, text := range slices.Compact(texts) {
			x := &expression{env: env, text: []rune(text)}
			tree := x.read()
			if tree == nil {
				t.Fatalf("%s: %v", text, x.faults)
			}
			b := keepTree(tree)
			if got := readTree(b, text); !reflect.DeepEqual(got, tree) {
				t.Errorf("%s comes back another", text)
			}
			want.Text(keptKey(p, text))
			want.Text(b)
		}
	}
	if os.Getenv("COREROD_UPDATE") != "" {
		if err := os.WriteFile("kept.bin", want, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if string(want) != kept {
		t.Error("kept.bin is stale; run COREROD_UPDATE=1 go test ./rules -run Kept")
	}
	if len(keptParts()) == 0 {
		t.Error("nothing is kept")
	}
}

// TestKeptOnlyForItsPack: a pack with another digest reads its expressions anew.
func TestKeptOnlyForItsPack(t *testing.T) {
	p, err := LoadBuiltin("press-and-sinter")
	if err != nil {
		t.Fatal(err)
	}
	other := *p
	other.Digest = "another"
	text := p.Rules[0].Needs[0].That
	if newEnvironment(p).keptTree(text) == nil || newEnvironment(&other).keptTree(text) != nil {
		t.Error("a tree is kept for its own pack alone")
	}
}

// TestReadTreeRefuses: a tape cut off or with a byte too many is no condition, and never a panic.
func TestReadTreeRefuses(t *testing.T) {
	x := newEnvironment(&Pack{Name: "test"}).expression(
		"part.walls.all(w, w.thickness >= 1.5 && !('a' in w.between)) || !(part.height in [1, 2])")
	if len(x.faults) > 0 {
		t.Fatal(x.faults)
	}
	b := keepTree(x.tree)
	if got := readTree(b, string(x.text)); !reflect.DeepEqual(got, x.tree) {
		t.Error("the whole comes back another")
	}
	for i := range len(b) {
		if readTree(b[:i], string(x.text)) != nil {
			t.Errorf("%d of %d bytes were taken for a condition", i, len(b))
		}
	}
	if readTree(b+"\x00", string(x.text)) != nil {
		t.Error("a byte too many was taken")
	}
}
