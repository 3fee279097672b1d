package rules

import (
	"crypto/sha256"
	_ "embed"
	"sync"

	"github.com/google/cel-go/common/ast"

	"corerod/parts/subject"
	"corerod/parts/tape"
)

// kept holds the built-in packs as read and their expressions checked, both when the program was built: reading them
// takes most of a cold start. It is generated (TestGeneratedKept), holds nothing but those packs, and is
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
	var b []byte
	for _, k := range subject.Kinds() {
		for i := range k.Fields {
			f := &k.Fields[i]
			b = append(append(append(b, k.Name...), ' '), f.Name...)
			b = append(b, byte(f.Type), 0)
			if f.Optional {
				b = append(b, 1)
			}
			if f.Of != nil {
				b = append(b, f.Of.Name...)
			}
		}
	}
	d := sha256.Sum256(b)
	return string(d[:])
})

// keptWhole names the kept form of a pack of a digest.
func keptWhole(digest string) string { return digest + declared() + "whole" }

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
