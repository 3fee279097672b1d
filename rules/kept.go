package rules

import (
	"crypto/sha256"
	_ "embed"
	"fmt"
	"sync"

	"github.com/google/cel-go/common/ast"

	"corerod/parts/source"
	"corerod/parts/subject"
	"corerod/parts/tape"
)

// kept holds the built-in packs' files as nodes and their conditions checked, both read when the program was built:
// reading them takes most of a cold start. It is generated (TestGeneratedKept), holds nothing but those packs, and is
// left aside where a pack or a declaration differs by a byte from what it was made of.
//
//go:embed kept.bin
var kept string

// keptParts are the parts of kept by name.
var keptParts = sync.OnceValue(func() map[string]string {
	parts := map[string]string{}
	for r := (tape.Reader{Rest: kept}); !r.Done(); {
		parts[r.Text()] = r.Text()
		if r.Broken {
			return nil
		}
	}
	return parts
})

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
	if b, ok := keptParts()[keptNodes(p, f.Name)]; ok {
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
	for _, p := range e.pack.All() { // a pack that builds on others changes figures, never what their rules mean
		if b, ok := keptParts()[keptKey(p, text)]; ok {
			return readTree(b, text)
		}
	}
	return nil
}
