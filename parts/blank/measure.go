package blank

import (
	"corerod/parts"
	"corerod/parts/subject"
	"slices"
)

// Blank is the as-pressed shape of one part and what was found on it, with what the layout of the tool needs.
type Blank struct {
	Part    *parts.Part
	Subject *subject.Part
	Steps   []Step   // Subject.Steps with the levels that meet at each
	Ends    []*End   // what tools form at both sides
	Columns []Column // every one by itself: Subject.Columns has those alike once, with their places
	Rods    []Rod    // of Subject.Holes those that go through

	shape *shape
}

// measure finds every subject and puts the part together.
func (s *shape) measure() (*Blank, parts.Problems) {
	b := &Blank{Part: s.part, Subject: &subject.Part{Title: s.part.Title, Drawing: s.part.Drawing, Revision: s.part.Revision, Customer: s.part.Customer}}
	q := b.Subject
	rims, feet := s.findRims()
	ps := s.checkEdges(rims, feet)
	q.Rims = s.rims(rims)
	marks, faulty := s.findMarks()
	crossings, outside := s.findCrossings()
	q.Marks, q.Crossings = marks, crossings
	if ps = slices.Concat(ps, faulty, outside, s.checkSeats()); len(ps) > 0 {
		return nil, ps
	}
	q.Dimensions = s.findDimensions()
	holes := s.findHoles()
	levels := s.findLevels(holes) // marks the floors of open grooves, which gaps ask for
	if ps := s.measurePart(q); len(ps) > 0 {
		return nil, ps
	}
	var rootWalls map[int]float64
	q.Walls, q.Gaps, rootWalls = s.findNecks(holes)
	q.Teeth = s.findTeeth(rootWalls)
	q.Holes = holes.subjects
	if q.Corners, ps = s.findCorners(holes); len(ps) > 0 {
		return nil, ps
	}
	q.Levels = levels.subjects
	b.Steps = s.findSteps(levels)
	for _, st := range b.Steps {
		q.Steps = append(q.Steps, st.Step)
	}
	q.Feathers = s.findFeathers()
	q.Tapers = s.findTapers()
	q.Flanges = s.findFlanges(levels)
	q.Bosses, q.Grooves = s.findBosses(levels), s.findGrooves(holes)
	q.Traps = s.findTraps()
	ends, of := s.findEnds(levels, holes)
	b.Ends, b.Columns = ends, s.columnsBetween(of)
	for _, c := range b.Columns {
		q.Columns = append(q.Columns, c.Column)
	}
	b.shape = s
	q.LevelsTop, q.LevelsBottom = float64(levels.count("top")), float64(levels.count("bottom"))
	q.Band = s.leastBand()
	for _, h := range q.Holes {
		h.Share = h.Depth / q.Height
	}
	q.OpenJoints = openJoints(q.Corners)
	bush := s.plainBush()
	for _, w := range q.Walls {
		w.PlainBush = bush
	}
	q.Walls, q.Gaps, q.Holes, q.Corners = Tidy(q.Walls), Tidy(q.Gaps), Tidy(q.Holes), Tidy(q.Corners)
	q.Traps, q.Columns, q.Crossings = Tidy(q.Traps), Tidy(q.Columns), Tidy(q.Crossings)
	q.Levels, q.Steps = Tidy(q.Levels), Tidy(q.Steps)
	q.Feathers, q.Flanges, q.Tapers = Tidy(q.Feathers), Tidy(q.Flanges), Tidy(q.Tapers)
	q.Bosses, q.Grooves = Tidy(q.Bosses), Tidy(q.Grooves)
	q.Rims, q.Marks, q.Dimensions = Tidy(q.Rims), Tidy(q.Marks), Tidy(q.Dimensions)
	q.Teeth = Tidy(q.Teeth)
	b.Rods = s.rods(q.Holes, holes)
	return b, nil
}
