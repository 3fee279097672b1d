package rules

import (
	"crypto/sha256"
	"encoding/hex"
	"path"
	"strings"

	"corerod/parts/source"
)

// ShopFile is the name of the file in which a shop says by which packs its parts are judged.
const ShopFile = "corerod.yaml"

// Shop is what a shop file says.
type Shop struct {
	File        string
	SHA256      string
	Packs       []Base // as named; none where it names none
	StatusAt    Grade  // "" where it says none
	Concessions string // file of the concessions, below the shop file; "" where it names none
}

// ReadShop reads a shop file.
func ReadShop(file string, b []byte) (*Shop, source.Problems) {
	root, ps := source.Parse(file, b)
	r := &reading{Reader: source.Reader{File: file, Problems: ps}, pack: newPack()}
	d := sha256.Sum256(b)
	s := &Shop{File: file, SHA256: hex.EncodeToString(d[:])}
	if root != nil && r.Map(root, "a shop file", forms().shop.Known()...) {
		if n := root.At("packs"); n != nil {
			r.buildsOn(n, "`packs`")
			s.Packs = r.pack.Bases
			if items, ok := r.List(n, "`packs`"); ok && len(items) == 0 {
				r.Report(n, "`packs` is empty; name a pack, or leave it out for %s", "press-and-sinter")
			}
		}
		if n := root.At("status_at"); n != nil {
			w, _ := r.Word(n, "`status_at`", string(Stop), string(Change), string(Ask))
			s.StatusAt = Grade(w)
		}
		if n := root.At("concessions"); n != nil {
			if s.Concessions, _ = r.Text(n, "`concessions`"); s.Concessions != "" && !below(s.Concessions) {
				r.Report(n, "`concessions` is %s; it must be the path of a file below the shop file", source.Quote(s.Concessions))
			}
		}
	}
	if len(r.Problems) > 0 {
		return nil, r.Problems.Sorted()
	}
	return s, nil
}

// below tells whether a path leads below the folder that it starts from.
func below(s string) bool {
	return s != "" && !path.IsAbs(s) && !strings.ContainsAny(s, `\:`) && path.Clean(s) == s && s != "." && s != ".." &&
		!strings.HasPrefix(s, "../")
}

// LeftOut is a rule that a pack leaves out.
type LeftOut struct{ Rule, Reason, Pack string }

// Regraded is a rule whose grade a pack changes.
type Regraded struct {
	Rule  string
	Grade Grade
	Pack  string
}

// changes reads what a pack changes in the rules below it.
func (r *reading) changes(root *source.Node) {
	each := func(key, needs string, read func(name, of *source.Node)) {
		n := root.At(key)
		switch {
		case n == nil || n.Null:
		case n.Shape != source.Map:
			r.Report(n, "`%s` needs rules with %s, not %s", key, needs, n.Shape)
		default:
			for i, k := range n.Keys {
				read(k, n.Items[i])
			}
		}
	}
	each("grades", "a grade each", func(name, of *source.Node) {
		if w, ok := r.Word(of, "the grade of "+source.Quote(name.Value), string(Stop), string(Change), string(Ask)); ok {
			r.pack.grades = append(r.pack.grades, change{name: name.Value, grade: Grade(w), at: r.origin(name)})
		}
	})
	each("leave_out", "a reason each", func(name, of *source.Node) {
		r.pack.leaves = append(r.pack.leaves, change{name: name.Value,
			reason: r.words(of, "the reason to leave "+source.Quote(name.Value)+" out"), at: r.origin(name)})
	})
}

// change is what a pack changes in one rule below it.
type change struct {
	name, reason string
	grade        Grade
	at           Origin
}
