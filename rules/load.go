package rules

import (
	"bytes"
	"cmp"
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"fmt"
	"io"
	"io/fs"
	"path"
	"slices"
	"strings"
	"sync"

	"corerod/parts/source"
	"corerod/parts/subject"
)

// File is one file of a pack: its name below the pack's folder, with slashes, and its contents.
type File struct {
	Name  string
	Bytes []byte
}

//go:embed packs
var embedded embed.FS

// Builtin lists the names of the packs that are part of the program, sorted.
func Builtin() []string {
	entries, _ := embedded.ReadDir("packs")
	var names []string
	for _, e := range entries {
		if e.IsDir() {
			names = append(names, e.Name())
		}
	}
	return names
}

// builtin keeps the built-in packs once read.
var builtin struct {
	sync.Mutex
	packs map[string]*Pack
}

// LoadBuiltin reads a built-in pack. Its expressions are compiled when a review needs them: that they are right is
// tested when the program is built.
func LoadBuiltin(name string) (*Pack, error) {
	builtin.Lock()
	defer builtin.Unlock()
	if p, ok := builtin.packs[name]; ok {
		return p, nil
	}
	p, ps, err := fromKept(name, func(b Base) (*Pack, source.Problems) {
		builtin.Unlock()
		defer builtin.Lock()
		return Builtins(b)
	})
	if err != nil {
		return nil, err
	}
	if len(ps) > 0 {
		return nil, fmt.Errorf("built-in pack %s: %w", name, ps.Sorted())
	}
	if builtin.packs == nil {
		builtin.packs = map[string]*Pack{}
	}
	builtin.packs[name] = p
	return p, nil
}

// fromKept takes a built-in pack as it is kept, or reads it without its trials.
func fromKept(name string, resolve Resolve) (*Pack, source.Problems, error) {
	names, err := builtinNames(name)
	if err != nil {
		return nil, nil, err
	}
	d, err := builtinDigest(name, names)
	if err != nil {
		return nil, nil, err
	}
	if b, ok := keptParts()[keptWhole(d)]; ok {
		if p := keptPack(b); p != nil {
			p.Digest = d
			p.ready()
			return p, p.build(resolve), nil
		}
	}
	files, err := builtinFiles(name)
	if err != nil {
		return nil, nil, err
	}
	p, ps := read(files, isTrials, resolve)
	return p, ps, nil
}

// builtinDigest is the digest of a built-in pack's files, which are not copied for it.
func builtinDigest(name string, files []string) (string, error) {
	h := sha256.New()
	buffer := make([]byte, 4096)
	for _, f := range files {
		in, err := embedded.Open("packs/" + name + "/" + f)
		if err != nil {
			return "", fmt.Errorf("built-in pack %s: %w", name, err)
		}
		i, err := in.Stat()
		if err != nil {
			return "", fmt.Errorf("built-in pack %s: %w", name, err)
		}
		fmt.Fprintf(h, "%s\x00%d\x00", f, i.Size())
		if _, err := io.CopyBuffer(struct{ io.Writer }{h}, struct{ io.Reader }{in}, buffer); err != nil {
			return "", fmt.Errorf("built-in pack %s: %w", name, err)
		}
	}
	return hex.EncodeToString(h.Sum(nil)), nil
}

// isTrials tells the files of a built-in pack that hold nothing but trials: a review has no use for them.
func isTrials(file string) bool { return strings.HasPrefix(file, "trials") }

// LoadBuiltinWhole reads a built-in pack with its trials and checks it as LoadPack does.
func LoadBuiltinWhole(name string) (*Pack, source.Problems) {
	files, err := builtinFiles(name)
	if err != nil {
		return nil, source.Problems{{File: name, Message: err.Error()}}
	}
	return LoadPack(files, Builtins)
}

// BuiltinFile reads a file below a built-in pack's folder, such as the part of a trial.
func BuiltinFile(pack, file string) ([]byte, error) {
	return fs.ReadFile(embedded, path.Join("packs", pack, file))
}

// builtinNames lists the files of a built-in pack, sorted.
func builtinNames(name string) (files []string, err error) {
	names := Builtin()
	if !slices.Contains(names, name) {
		return nil, fmt.Errorf("there is no built-in pack %s%s", source.Quote(name), suggest(name, names))
	}
	entries, err := embedded.ReadDir("packs/" + name)
	if err != nil {
		return nil, fmt.Errorf("built-in pack %s: %w", name, err)
	}
	for _, e := range entries {
		if !e.IsDir() && path.Ext(e.Name()) == ".yaml" {
			files = append(files, e.Name())
		}
	}
	return files, nil
}

// builtinFiles returns the files of a built-in pack.
func builtinFiles(name string) ([]File, error) {
	names, err := builtinNames(name)
	if err != nil {
		return nil, err
	}
	var files []File
	for _, n := range names {
		b, err := BuiltinFile(name, n)
		if err != nil {
			return nil, fmt.Errorf("built-in pack %s: %w", name, err)
		}
		files = append(files, File{n, b})
	}
	return files, nil
}

// LoadPack reads one pack: a folder's files, of which one is pack.yaml, or one file of any name. Every expression is
// compiled and examined. resolve finds the packs it builds on. It returns a pack or problems, never both.
func LoadPack(files []File, resolve Resolve) (*Pack, source.Problems) {
	p, ps := read(files, nil, resolve)
	if p != nil {
		ps = append(ps, p.checkRules()...)
		ps = append(ps, p.idle()...)
	}
	if len(ps) > 0 {
		return nil, ps.Sorted()
	}
	return p, nil
}

// read reads the files of a pack without its expressions, but for those it has no use for. The pack is nil where nothing
// could be made of it.
func read(files []File, useless func(file string) bool, resolve Resolve) (*Pack, source.Problems) {
	files = slices.Clone(files)
	slices.SortStableFunc(files, func(a, b File) int { return cmp.Compare(a.Name, b.Name) })
	p := newPack()
	p.Digest = digest(files)
	main := slices.IndexFunc(files, func(f File) bool { return len(files) == 1 || path.Base(f.Name) == "pack.yaml" })
	if main < 0 {
		return nil, source.Problems{{File: folder(files), Message: "a pack of several files needs one named pack.yaml"}}
	}
	var ps source.Problems
	units := subject.MM
	roots, readings := make([]*source.Node, len(files)), make([]*reading, len(files))
	for _, i := range mainFirst(main, len(files)) {
		if readings[i] = (&reading{Reader: source.Reader{File: files[i].Name}, pack: p, units: units}); useless != nil &&
			useless(files[i].Name) {
			continue
		}
		root, found := source.Parse(files[i].Name, files[i].Bytes)
		ps = append(ps, found...)
		r := readings[i]
		roots[i] = root
		if root == nil {
			continue
		}
		form := &source.Form{Keys: forms().body}
		if i == main {
			form = forms().pack
		}
		if !r.Map(root, "a pack", form.Known()...) {
			continue
		}
		if i == main {
			r.head(root)
			units = r.units
		}
		r.body(root)
	}
	p.ready()
	ps = append(ps, p.build(resolve)...)
	for i, r := range readings {
		if roots[i] != nil {
			r.known(roots[i])
			r.knownCurves(roots[i])
		}
		ps = append(ps, r.Problems...)
	}
	if roots[main] == nil {
		return nil, ps
	}
	return p, ps
}

// newPack is a pack that gives nothing yet.
func newPack() *Pack {
	return &Pack{Sources: map[string]Source{}, Limits: map[string]*Limit{}, Tables: map[string]*Table{},
		Materials: map[string]*StockMaterial{}, Curves: map[string]*Curve{}, Presses: map[string]*Press{}, refused: map[string]bool{}}
}

// mainFirst orders the files of a pack for reading: the one that states its units first.
func mainFirst(main, n int) []int {
	order := []int{main}
	for i := range n {
		if i != main {
			order = append(order, i)
		}
	}
	return order
}

// folder names the files of a pack together.
func folder(files []File) string {
	if len(files) == 0 {
		return "pack"
	}
	return path.Dir(files[0].Name)
}

// digest is the SHA-256, in hexadecimal, over the files in order of name: name, a zero byte, length in decimal, a zero
// byte, contents. Line ends count as they stand.
func digest(files []File) string {
	h := sha256.New()
	for _, f := range files {
		fmt.Fprintf(h, "%s\x00%d\x00", path.Base(strings.ReplaceAll(f.Name, `\`, "/")), len(f.Bytes))
		_, _ = bytes.NewReader(f.Bytes).WriteTo(h)
	}
	return hex.EncodeToString(h.Sum(nil))
}
