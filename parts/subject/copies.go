package subject

import "reflect"

// Footprint is where one subject lies in plan: points, and lines and arcs with what they hold.
type Footprint interface {
	// Gap is the least distance in plan to another footprint, mm; 0 where the two touch or overlap.
	Gap(other Footprint) float64
	// Size is the number of points, lines and arcs: what measuring a gap costs.
	Size() int
}

// CountOf is the number of places at which a part has a subject alike; of a copy that of the subject it is a copy of.
func CountOf(s Subject) int { return max(1, len(GroupOf(s).Place().Places)) }

// GroupOf is the subject of a part's list that a copy is one of; the subject itself where it is no copy.
func GroupOf(s Subject) Subject {
	if of := s.Place().of; of != nil {
		return of
	}
	return s
}

// CopiesOf are the subjects that one stands for, in the order of its places: each with the measures of that one and a
// place of its own. A subject at a single place is its own and only copy.
func CopiesOf(s Subject) []Subject {
	s = GroupOf(s)
	c := s.Place()
	if len(c.Places) < 2 {
		return []Subject{s}
	}
	all := make([]Subject, len(c.Places))
	for i := range all {
		all[i] = copyAt(s, i)
	}
	return all
}

// copyAt is the copy of a subject at one of its places.
func copyAt(s Subject, place int) Subject {
	v := reflect.New(reflect.TypeOf(s).Elem())
	v.Elem().Set(reflect.ValueOf(s).Elem())
	one := v.Interface().(Subject)
	c, p := one.Place(), s.Place().Places[place]
	c.X, c.Y, c.ZLow, c.ZHigh = p.X, p.Y, p.ZLow, p.ZHigh
	c.Places, c.of = nil, s
	if len(c.Footprints) > 0 {
		c.Footprints = c.Footprints[place : place+1]
	}
	return one
}
