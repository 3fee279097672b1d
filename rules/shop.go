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
