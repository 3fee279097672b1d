package blank

import (
	"fmt"
	"slices"

	"corerod/parts"
	"corerod/parts/plane"
)

// idle reports copies of bodies that add nothing to the shape, and copies of cuts that remove nothing from it, of the features from a
// number on.
func (s *Shape) idle(from int) (ps parts.Problems) {
	copies, why := s.idleCopies()
	works := map[int]bool{} // by feature: some copy of it does something
	for i, c := range copies {
		works[c.feature] = works[c.feature] || why[i] == ""
	}
	for i := len(copies) - 1; i >= 0 && copies[i].feature >= from; i-- {
		if why[i] == "" {
			continue
		}
		f, kind, does := s.features[copies[i].feature], "cut", "removes"
		if copies[i].feature < s.bodies {
			kind, does = "body", "adds"
		}
		what := "the " + kind + " " + f.Name
		if f.Relief != nil {
			if works[copies[i].feature] || i > 0 && copies[i-1].feature == copies[i].feature {
				continue // some of it takes something off, or it is told with the first
			}
			const says = "the %s of %s takes nothing off: it lies outside %[2]s, or where cuts or other bodies leave nothing of its " +
				"%[3]s face"
			ps = append(ps, s.Problem(f.Place, says, f.Relief.Key(), f.Name, f.Relief.On))
			continue
		}
		if f.Repeat.Copies() > 1 {
			what = fmt.Sprintf("copy %d of the %s %s", copies[i].copy+1, kind, f.Name)
		}
		ps = append(ps, s.part.Problem(f.Place, fmt.Sprintf("%s %s nothing: %s", what, does, why[i])))
	}
	return ps
}

// Idle are the names of the bodies that a part would be the same without: no copy of theirs adds anything.
func Idle(p *parts.Part) (names []string) {
	s, ps := newShape(p, true)
	if len(ps) > 0 {
		return nil
	}
	adds := make([]bool, len(s.features))
	copies, why := s.idleCopies()
	for i, c := range copies {
		adds[c.feature] = adds[c.feature] || why[i] == ""
	}
	for n, b := range p.Bodies {
		if !adds[n] {
			names = append(names, b.Name)
		}
	}
	return names
}

// idleCopies are the copies of all features in the order of the file, bodies first, with the reason why nothing would change without
// one; "" where something would. Of two equal ones the later is idle.
func (s *Shape) idleCopies() (copies []copyOf, why []string) {
	copies, why = s.idleBy(s.layers(false))
	_, exactly := s.idleBy(s.layers(true))
	for i := range why {
		if why[i] != "" && exactly[i] == "" {
			why[i] += fmt.Sprintf(", but for less than %g mm", plane.Thin)
		}
	}
	return copies, why
}

// idleBy tells the same by some layers.
func (s *Shape) idleBy(layers []layer, copies []copyOf) (all []copyOf, why []string) {
	why = make([]string, len(copies))
	for i := len(copies) - 1; i >= 0; i-- {
		if copies[i].feature < s.bodies {
			why[i] = s.addsNothing(i, layers, copies, why)
		} else {
			why[i] = s.removesNothing(i, layers, copies, why)
		}
	}
	return copies, why
}

// addsNothing is why a copy of a body adds nothing; "" where it adds something, or where no material is left at all, which is said of
// the part.
func (s *Shape) addsNothing(n int, layers []layer, copies []copyOf, idle []string) string {
	covered, cut, left := true, true, false
	for _, l := range layers {
		left = left || s.isLeft(l, copies, func(int) bool { return true })
		if !slices.Contains(l.bodies, n) {
			continue
		}
		others := func(m int) bool { return m != n && idle[m] == "" }
		without := func(m int) bool { return others(m) || slices.Contains(l.cuts, m) }
		if s.isLeft(l, copies, func(int) bool { return true }) && !s.isLeft(l, copies, without) {
			return ""
		}
		covered = covered && slices.ContainsFunc(l.bodies, others)
		cut = cut && !s.isLeft(layer{[]int{n}, l.cuts}, copies, func(int) bool { return true })
	}
	switch {
	case !left:
		return ""
	case cut:
		return "cuts take all of it away"
	case covered:
		return "other bodies cover all of it"
	}
	return "other bodies cover all of it that cuts leave"
}

// removesNothing is why a copy of a cut removes nothing; "" where it removes something.
func (s *Shape) removesNothing(n int, layers []layer, copies []copyOf, idle []string) string {
	why := "it cuts into no body"
	if len(s.features[copies[n].feature].Keep) > 0 {
		why = "it cuts into no body but those that it keeps"
	}
	for _, l := range layers {
		if len(l.bodies) == 0 || !slices.Contains(l.cuts, n) {
			continue
		}
		others := func(m int) bool { return m != n && (idle[m] == "" || slices.Contains(l.bodies, m)) }
		if s.isLeft(l, copies, others) && !s.isLeft(l, copies, func(m int) bool { return m == n || others(m) }) {
			return ""
		}
		if s.isLeft(layer{l.bodies, nil}, copies, others) && slices.ContainsFunc(l.cuts, others) {
			why = "other cuts take all that it would"
		}
	}
	return why
}

// isLeft tells whether some copies of a layer make material.
func (s *Shape) isLeft(l layer, copies []copyOf, some func(n int) bool) bool {
	in := map[int]int{} // features
	cut := false
	for _, n := range l.bodies {
		if some(n) {
			in[copies[n].feature] = 1
		}
	}
	if len(in) == 0 {
		return false
	}
	for _, n := range l.cuts {
		if some(n) {
			in[copies[n].feature], cut = 1, true
		}
	}
	return !cut || s.keeps != nil && s.leaves(func(feature int) int { return in[feature] })
}

// copyOf is one copy of a feature.
type copyOf struct{ feature, copy int }

// layer is what a stretch of height over a cell lies in: copies of bodies and of cuts, by their numbers.
type layer struct{ bodies, cuts []int }

// layers are all different layers of the shape, and the copies in the order of the file, bodies first. Where slopes pass over a cell,
// what lies between two of them is a layer too: it counts what each holds there, not only at the ends of the stretch. Those as drawn
// have thin cells that joined a neighbour as they were before.
func (s *Shape) layers(drawn bool) (all []layer, copies []copyOf) {
	number := make([]int, len(s.walls)) // by wall: its copy
	for i := range s.walls {
		if c := (copyOf{s.walls[i].feature, s.walls[i].copy}); len(copies) == 0 || copies[len(copies)-1] != c {
			copies = append(copies, c)
		}
		number[i] = len(copies) - 1
	}
	known := map[string]bool{}
	add := func(walls []byte) {
		if !known[string(walls)] {
			known[string(walls)] = true
			all = append(all, s.layerOf(walls, copies))
		}
	}
	walls := make([]byte, len(copies)) // by copy: how many of its walls hold the cell
	for c := range s.cells {
		inside, passes := s.overlay.Cells[c].Inside, s.cells[c].passes
		if as := s.overlay.Cells[c].Drawn; drawn && as != nil {
			inside, passes = as, nil
		}
		at := func(k int) {
			clear(walls)
			inside.Each(func(f int) {
				if s.Covers(f, k) {
					walls[number[s.outlines[f].wall]]++
				}
			})
		}
		for k := range s.cells[c].solid {
			at(k)
			add(walls)
		}
		for i, ps := range passes {
			at(s.first[i])
			for k := 0; k+1 < len(ps); k++ {
				if n := number[ps[k].wall]; ps[k].in {
					walls[n]++
				} else {
					walls[n]--
				}
				if ps[k+1].z-ps[k].z > SameHeight {
					add(walls)
				}
			}
		}
	}
	return all, copies
}

// layerOf is the layer in which some walls of each copy hold a cell.
func (s *Shape) layerOf(walls []byte, copies []copyOf) (l layer) {
	for n, w := range walls {
		switch {
		case w == 0:
		case copies[n].feature < s.bodies:
			l.bodies = append(l.bodies, n)
		default:
			l.cuts = append(l.cuts, n)
		}
	}
	return l
}

// machined checks the cuts that are not pressed: each must meet a body too.
func (s *Shape) machined() (ps parts.Problems) {
	probe := *s.part
	probe.Cuts = nil
	for _, c := range s.part.Cuts {
		if c.MadeBy != "pressing" {
			only := *c
			only.MadeBy = "pressing"
			probe.Cuts = append(probe.Cuts, &only)
		}
	}
	if len(probe.Cuts) == 0 {
		return nil
	}
	shape, ps := newShape(&probe, false)
	if len(ps) > 0 {
		return ps
	}
	return shape.idle(shape.bodies)
}
