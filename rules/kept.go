package rules

import (
	"crypto/sha256"
	_ "embed"
	"encoding/binary"
	"fmt"
	"maps"
	"slices"
	"strings"
	"sync"

	"github.com/google/cel-go/common/ast"
	exprpb "google.golang.org/genproto/googleapis/api/expr/v1alpha1"
	"google.golang.org/protobuf/proto"

	"corerod/parts/source"
	"corerod/parts/subject"
)

// kept holds the built-in packs' files as nodes and their conditions checked, both read when the program was built:
// reading them takes most of a cold start. It is generated (TestGeneratedKept), holds nothing but those packs, and is left aside where a
// pack or a declaration differs by a byte from what it was made of.
//
//go:embed kept.bin
var kept []byte

// keptTrees are the checked trees by pack and text, still encoded.
var keptTrees = sync.OnceValue(func() map[string][]byte {
	trees := map[string][]byte{}
	for rest := kept; len(rest) > 0; {
		var key, tree []byte
		key, rest = cutBytes(rest)
		tree, rest = cutBytes(rest)
		if key == nil || tree == nil {
			return nil
		}
		trees[string(key)] = tree
	}
	return trees
})

// cutBytes takes one length and as many bytes off b.
func cutBytes(b []byte) (part, rest []byte) {
	n, w := binary.Uvarint(b)
	if w <= 0 || n > uint64(len(b)-w) {
		return nil, nil
	}
	return b[w : w+int(n)], b[w+int(n):]
}

// keptKey names a text of a pack under the present declarations.
func keptKey(p *Pack, text string) string { return p.Digest + declared() + text }

// declared is a digest over everything that expressions are checked against, but for the pack's own limits and tables.
var declared = sync.OnceValue(func() string {
	h := sha256.New()
	for _, k := range subject.Kinds() {
		for i := range k.Fields {
			f := &k.Fields[i]
			of := ""
			if f.Of != nil {
				of = f.Of.Name
			}
			fmt.Fprintln(h, k.Name, f.Name, f.Type, f.Optional, of)
		}
	}
	return string(h.Sum(nil))
})

// keptNodes names the nodes of a pack's file.
func keptNodes(p *Pack, file string) string { return p.Digest + "nodes of " + file }

// parse reads a file of the pack, or takes its kept nodes.
func (p *Pack) parse(f File) (*source.Node, source.Problems) {
	if b, ok := keptTrees()[keptNodes(p, f.Name)]; ok {
		if n := source.Kept(b, f.Bytes); n != nil {
			return n, nil
		}
	}
	return source.Parse(f.Name, f.Bytes)
}

// keptTree returns the checked tree of a built-in pack's text, or nil.
func (e *environment) keptTree(text string) *ast.AST {
	if e.pack.Digest == "" {
		return nil
	}
	b, ok := keptTrees()[keptKey(e.pack, text)]
	if !ok {
		return nil
	}
	var pb exprpb.CheckedExpr
	if proto.Unmarshal(b, &pb) != nil {
		return nil
	}
	tree, err := ast.ToAST(&pb)
	if err != nil {
		return nil
	}
	return tree
}

// Warm decodes one kept condition, for no result. The first one of a process costs the library that decodes it some
// milliseconds: a program that judges one part can spend them beside the reading of pack and part.
func Warm() {
	newEnvironment(&Pack{})
	keys := slices.Sorted(maps.Keys(keptTrees()))
	i := slices.IndexFunc(keys, func(k string) bool { return !strings.Contains(k, "nodes of ") })
	if i < 0 {
		return
	}
	var pb exprpb.CheckedExpr
	if proto.Unmarshal(keptTrees()[keys[i]], &pb) == nil {
		_, _ = ast.ToAST(&pb) // nothing rests on it: keptTree looks again
	}
}
