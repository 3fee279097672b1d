package rules

import (
	"bytes"
	"encoding/binary"
	"os"
	"reflect"
	"slices"
	"testing"

	"github.com/google/cel-go/common/ast"
	"google.golang.org/protobuf/proto"

	"corerod/parts/source"
)

// TestGeneratedKept: kept.bin is what reading and checking the built-in packs' conditions gives. COREROD_UPDATE=1
// writes it.
func TestGeneratedKept(t *testing.T) {
	var want []byte
	put := func(b []byte) {
		want = binary.AppendUvarint(want, uint64(len(b)))
		want = append(want, b...)
	}
	for _, name := range Builtin() {
		p, err := LoadBuiltin(name)
		if err != nil {
			t.Fatal(err)
		}
		files, err := builtinFiles(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range files {
			n, ps := source.Parse(f.Name, f.Bytes)
			if len(ps) > 0 {
				t.Fatal(ps)
			}
			put([]byte(keptNodes(p, f.Name)))
			put(n.Keep())
			if got := source.Kept(n.Keep(), f.Bytes); !reflect.DeepEqual(got, n) {
				t.Errorf("%s comes back another", f.Name)
			}
		}
		env := newEnvironment(p)
		var texts []string
		for _, r := range p.Rules {
			if r.when != nil && r.When != "true" {
				texts = append(texts, r.When)
			}
			for _, n := range r.Needs {
				texts = append(texts, n.That)
			}
		}
		slices.Sort(texts)
		for _, text := range slices.Compact(texts) {
			x := &expression{env: env, text: []rune(text)}
			tree := x.read()
			if tree == nil {
				t.Fatalf("%s: %v", text, x.faults)
			}
			pb, err := ast.ToProto(tree)
			if err != nil {
				t.Fatal(err)
			}
			b, err := proto.MarshalOptions{Deterministic: true}.Marshal(pb)
			if err != nil {
				t.Fatal(err)
			}
			put([]byte(keptKey(p, text)))
			put(b)
		}
	}
	if os.Getenv("COREROD_UPDATE") != "" {
		if err := os.WriteFile("kept.bin", want, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if !bytes.Equal(want, kept) {
		t.Error("kept.bin is stale; run COREROD_UPDATE=1 go test ./rules -run Kept")
	}
	if len(keptTrees()) == 0 {
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
