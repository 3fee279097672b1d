package report

import (
	"io"

	"corerod/checker"
	"corerod/checker/report/words"
	"corerod/rules"
)

// Cautions close every layout of a tool for people: what can hurt, and who decides.
var Cautions = []string{
	"Presses: ANSI B11.16 (the same document as MPIF 47) covers powder presses; machine guarding and lock-out rules apply.",
	"Dust: fine iron and other metal powders burn and explode; NFPA 660, formerly 484 (the number from memory), " +
		"and the report 2011-4-I-TN " +
		"of the US Chemical Safety Board on accidents with iron dust.",
	"Furnace atmospheres: hydrogen is explosive from 4 to 75 % in air; endothermic gas carries about 20 % carbon monoxide and much " +
		"hydrogen, poisonous and explosive; NFPA 86.",
	words.Caution,
}

// Tooling writes the layout of the tool for people: the members with their figures, the reason for each, the columns at
// fill and pressed, density, ejection, die sizes, the press, what was assumed and what is not known.
func Tooling(w io.Writer, d *checker.Derived, packs []*rules.Pack, shop *rules.Shop) error {
	p, t := toolOf(d), &textWriter{}
	t.heading(&p.heading)
	t.line("  %s", p.class)
	t.line("  %s", p.wayUp)
	t.lines("  ", p.cannot)
	for _, all := range [][]section{p.members, {p.columns}, p.density, p.making} {
		for i := range all {
			t.section(&all[i])
		}
	}
	t.list("", append(words.Force(packs, shop), Cautions...))
	_, err := io.WriteString(w, t.b.String())
	return err
}
