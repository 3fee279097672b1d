//go:build ignore

// Command many writes part files that differ, into a folder: the demo parts, the solids and the parts of the built-in packs'
// trials in turn, each with up to three of its numbers moved by some steps, and none that cannot be reviewed. The same call
// writes the same files.
package main

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"

	"corerod/checker"
	"corerod/parts/form"
	"corerod/parts/source"
	"corerod/rules"
)

func main() {
	folder := os.Args[1]
	n, err := strconv.Atoi(os.Args[2])
	check(err)
	pack, err := rules.LoadBuiltin("press-and-sinter")
	check(err)
	book, ps := rules.NewBook(pack)
	if len(ps) > 0 {
		panic(ps)
	}
	sound := func(b []byte) bool { _, ps := checker.Read("part.yaml", b, book); return len(ps) == 0 }
	var bases []*source.Document
	for _, pattern := range []string{"testdata/mill/*.yaml", "testdata/solids/*.yaml", "rules/packs/*/trials/*.yaml"} {
		names, err := filepath.Glob(pattern)
		check(err)
		for _, name := range names {
			b, err := os.ReadFile(name)
			check(err)
			if d, ps := source.Open(name, b); len(ps) == 0 && form.IsPart(d.Root) && sound(b) {
				bases = append(bases, d)
			}
		}
	}
	for i := range n {
		random := rand.New(rand.NewPCG(1, uint64(i)))
		b := vary(bases[i%len(bases)], i, random, sound)
		to := filepath.Join(folder, fmt.Sprintf("%03d", i/500), fmt.Sprintf("part-%05d.yaml", i))
		check(os.MkdirAll(filepath.Dir(to), 0o755))
		check(os.WriteFile(to, b, 0o644))
	}
}

// vary moves numbers of a part and gives it a name of its own.
func vary(d *source.Document, i int, random *rand.Rand, sound func([]byte) bool) []byte {
	was := d.Root.At("part").Value
	b := bytes.Replace(d.Bytes, []byte("part: "+was), fmt.Appendf(nil, "part: part-%05d", i), 1)
	for range 3 {
		d, ps := source.Open(d.File, b)
		if len(ps) > 0 {
			panic(ps)
		}
		numbers := form.Numbers(d.Root)
		x := &numbers[random.IntN(len(numbers))]
		to, ok := x.Move(1 + random.IntN(8) - random.IntN(4))
		if !ok {
			continue
		}
		moved, err := d.With(x.Edits(to)...)
		if err != nil {
			continue
		}
		if sound(moved) {
			b = moved
		}
	}
	return b
}

func check(err error) {
	if err != nil {
		panic(err)
	}
}
