package checker

import (
	"slices"

	"corerod/rules"
)

// Force is what holds for a part: rules, concessions, and the grade from which findings set the status.
type Force struct {
	Book     *rules.Book
	Shop     *rules.Shop  // nil for none
	Concede  *Concessions // nil for none
	StatusAt rules.Grade
}

// Head is what a review stands on, known before its first part.
type Head struct {
	Forces     []*Force // one at least; several where parts lie under different shop files
	NotInForce []string // shop files, packs and concessions that a change has otherwise: they do not hold
	Lot, Lots  int      // a share of the files; 0 for all
	Only       []string // the rules that alone were asked for; nil for all
}

// Packs are those of all forces, each once.
func (h *Head) Packs() (all []*rules.Pack) {
	for _, f := range h.Forces {
		for _, p := range f.Book.Packs {
			if !slices.Contains(all, p) {
				all = append(all, p)
			}
		}
	}
	return all
}
