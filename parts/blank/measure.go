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
	necks necks // of each slab
}

// measure finds every subject and puts the part together. Each finder is given what it asks for, and gives out what is
// not changed any more, but for Tidy at the end.
func (s *shape) measure() (*Blank, parts.Problems) {
	rims, feet := s.findRims()
	marks, misplaced := s.findMarks()
	crossings, outside := s.findCrossings()
	if ps := slices.Concat(s.checkEdges(rims, feet), misplaced, outside, s.checkSeats()); len(ps) > 0 {
		return nil, ps
	}
	q, plan, ps := s.findWhole()
	if len(ps) > 0 {
		return nil, ps
	}
	holes := s.findHoles()
	corners, ps := s.findCorners(holes)
	if len(ps) > 0 {
		return nil, ps
	}
	floors := s.findFloors(holes)
	bosses := s.findBosses(floors)
	levels := s.findLevels(floors, bosses)
	plates := s.findPlates()
	flanges, shelves := s.findFlanges(plates, levels)
	ends := s.findEnds(levels, floors, bosses, shelves)
	necks := s.findNecks()
	b := &Blank{Part: s.part, Subject: q, Ends: ends.all, Steps: s.findSteps(levels), Columns: s.findColumns(plates, &plan, ends), shape: s, necks: necks}
	for _, st := range b.Steps {
		q.Steps = append(q.Steps, st.Step)
	}
	for _, c := range b.Columns {
		q.Columns = append(q.Columns, c.Column)
	}
	q.LevelsTop, q.LevelsBottom = float64(levels.count("top")), float64(levels.count("bottom"))
	q.OpenJoints = openJoints(corners)
	q.Walls, q.Gaps = Tidy(s.findWalls(necks)), Tidy(s.findGaps(necks, holes, floors))
	q.Holes, q.Corners, q.Teeth = Tidy(holes.subjects), Tidy(corners), Tidy(s.findTeeth(necks))
	q.Traps, q.Columns, q.Crossings = Tidy(s.findTraps()), Tidy(q.Columns), Tidy(crossings)
	q.Levels, q.Steps = Tidy(levels.subjects), Tidy(q.Steps)
	q.Feathers, q.Flanges, q.Tapers = Tidy(s.findFeathers()), Tidy(flanges), Tidy(s.findTapers())
	q.Bosses, q.Grooves = Tidy(s.measureBosses(bosses)), Tidy(s.findGrooves(floors))
	q.Rims, q.Marks, q.Dimensions = Tidy(s.rims(rims)), Tidy(marks), Tidy(s.findDimensions())
	b.Rods = findRods(q.Holes, holes)
	return b, nil
}
