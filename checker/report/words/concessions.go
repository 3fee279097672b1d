package words

import (
	"fmt"

	"corerod/checker"
	"corerod/parts/source"
)

// Concession says what became of a concession.
func Concession(k *checker.Conceded) string {
	who := fmt.Sprintf("until %s by %s (line %d): %s", k.Until, source.Plain(k.By), k.Line, source.Plain(k.Reason))
	if k.State == checker.Covering {
		return "covers it " + who
	}
	return fmt.Sprintf("does not cover it: %s; %s", source.Plain(k.Says), who)
}
