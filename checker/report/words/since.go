package words

import (
	"fmt"
	"strings"

	"corerod/checker"
	"corerod/parts/source"
)

// Restated says what a part file declares otherwise than before.
func Restated(x *checker.Restated) string {
	from, counts := "", ""
	if x.From != "" {
		from = " from " + x.From
	}
	if x.Counts {
		counts = "; this counts as worsened"
		if x.Concession == nil {
			counts += ", unless a person agrees to it with `corerod concede --machined`"
		}
	}
	if x.Concession != nil {
		counts += "; a concession " + strings.TrimSuffix(Concession(x.Concession), ".")
	}
	return fmt.Sprintf("Changed: %s%s to %s%s.", x.What, from, x.To, counts)
}

// Gone says that a part is gone, and whether that counts.
func Gone(g *checker.GonePart) string {
	switch what := source.Plain(g.String()); {
	case g.Concession == nil:
		return fmt.Sprintf("Gone, which counts as worsened: %s. A person can agree to it with `corerod concede --gone`.", what)
	case g.Counts():
		return fmt.Sprintf("Gone, which counts as worsened: %s; a concession %s.", what, Concession(g.Concession))
	default:
		return fmt.Sprintf("Gone: %s; a concession %s.", what, Concession(g.Concession))
	}
}
