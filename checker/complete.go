package checker

import (
	"fmt"
	"math"

	"corerod/parts"
	"corerod/parts/source"
	"corerod/parts/subject"
	"corerod/rules"
)

// Complete adds to a part's subjects what the packs in force know of its material. A density that the material cannot
// have is a problem of the part file.
func Complete(p *parts.Part, s *subject.Part, book *rules.Book) source.Problems {
	m, known := book.Material(p.Material.Name)
	density := p.Material.Density
	if !known || !m.PoreFree.Known || density == 0 {
		return nil
	}
	if density > m.PoreFree.Value+1e-9 {
		return source.Problems{p.Problem(p.Material.At, fmt.Sprintf("density %g g/cm3 is impossible: %s without pores has %.4g", density, source.Plain(p.Material.Name), m.PoreFree.Value))}
	}
	s.Porosity = subject.Some(math.Max(0, 1-density/m.PoreFree.Value))
	return nil
}
