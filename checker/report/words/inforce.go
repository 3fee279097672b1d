package words

import (
	"fmt"

	"corerod/parts/source"
	"corerod/rules"
)

// InForce is what a comparison was judged by.
type InForce struct {
	Packs  []*rules.Pack
	Shop   *rules.Shop // nil for none
	Unused string      // the shop file that the old part alone lies under; "" for none
}

// Lines say what was in force, and close a report.
func (in *InForce) Lines() []string {
	all := Force(in.Packs, in.Shop)
	if in.Unused != "" {
		all = append(all, fmt.Sprintf("Not in force: %s, which only the old part lies under.", source.Plain(in.Unused)))
	}
	return append(all, Caution)
}

// Force names the shop file and the packs in force, and what they leave out and change, a line each.
func Force(packs []*rules.Pack, shop *rules.Shop) (lines []string) {
	add := func(format string, args ...any) { lines = append(lines, fmt.Sprintf(format, args...)) }
	if shop != nil {
		add("Shop file: %s, sha256 %.12s.", source.Plain(shop.File), shop.SHA256)
	}
	for _, p := range rules.InForce(packs) {
		add("In force: %s %s, sha256 %.12s.", p.Name, source.Plain(p.Version), p.Digest)
	}
	for _, p := range packs {
		for _, x := range p.LeftOut {
			add("Left out by %s: %s; %s.", x.Pack, Rule(x.Rule), source.Plain(x.Reason))
		}
		for _, x := range p.Regraded {
			add("Grade changed by %s: %s, to %s.", x.Pack, Rule(x.Rule), x.Grade)
		}
	}
	return lines
}
