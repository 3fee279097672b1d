// Package measure finds on the as-pressed shape of a part what rules judge and what the layout of the tool needs: walls,
// gaps, holes, corners, levels, steps, teeth and the rest, one file a subject.
//
// Each finder is a function from the shape and from the results that it names to values that nothing changes any more:
// levels ask for the floors of holes and grooves, flanges for the levels. Part calls them all and puts what they find
// into the structs of package subject. A finder numbers cells, slabs, edges and figures as package blank does.
package measure

import (
	"slices"

	"corerod/parts"
	"corerod/parts/blank"
	"corerod/parts/subject"
)

// Measured is the as-pressed shape of one part and what was found on it, with what the layout of the tool needs.
type Measured struct {
	Part    *parts.Part
	Shape   *blank.Shape // without rims, feet, blends and marks, of which everything is measured but volume and surface
	Whole   *blank.Shape // with them
	After   *blank.Shape // that as finished; nil where it is finished as pressed
	Subject *subject.Part
	Steps   []Step   // Subject.Steps with the levels that meet at each
	Ends    []*End   // what tools form at both sides
	Columns []Column // every one by itself: Subject.Columns has those alike once, with their places
	Rods    []Rod    // of Subject.Holes those that go through

	Unblended []string // blends that volume and drawings do not show in some corner, since a slope comes to it

	necks *necks
	open  map[string][]bool // by side and cell: see opens
}

// Part finds everything on the as-pressed shape of a part that was read without problems. Problems are those of the shape,
// else those of what the part file puts on it: edges, marks, side features, seats, then blends.
func Part(p *parts.Part) (*Measured, parts.Problems) {
	s, ps := blank.Make(p)
	if len(ps) > 0 {
		return nil, ps
	}
	m, ps := onShape(s)
	if len(ps) > 0 {
		return nil, ps.Sorted()
	}
	return m, nil
}

// onShape finds every subject and puts the part together. Names and places change once, at the end, by Tidy.
func onShape(s *blank.Shape) (*Measured, parts.Problems) {
	rims, feet := findRims(s)
	marks, boxes, misplaced := findMarks(s)
	crossings, outside := findCrossings(s)
	if ps := slices.Concat(checkEdges(s, rims, feet), misplaced, outside, checkSeats(s)); len(ps) > 0 {
		return nil, ps
	}
	holes := findHoles(s)
	corners, edges, blends, ps := findCorners(s, holes)
	if len(ps) > 0 {
		return nil, ps
	}
	changes, ps := treatments(s, rims, feet, func(*parts.Edge) bool { return true })
	if len(ps) > 0 {
		return nil, ps
	}
	changes = slices.Concat(changes, blends.changes, boxes)
	whole, ps := withChanges(s, changes)
	if len(ps) > 0 {
		return nil, ps
	}
	after, ps := finished(s, changes, crossings)
	if len(ps) > 0 {
		return nil, ps
	}
	q, plan := findWhole(s, whole)
	floors := findFloors(s, holes)
	bosses := findBosses(s, floors)
	levels := findLevels(s, floors, bosses)
	plates := findPlates(s)
	flanges, shelves := findFlanges(s, plates, levels)
	ends := findEnds(s, levels, floors, bosses, shelves)
	necks := findNecks(s)
	m := &Measured{Part: s.Part(), Shape: s, Whole: whole, After: after, Subject: q, Steps: findSteps(s, levels), Ends: ends.all,
		Columns: findColumns(s, plates, &plan, ends), Unblended: blends.sloped, necks: necks, open: opens(s)}
	for _, st := range m.Steps {
		q.Steps = append(q.Steps, st.Step)
	}
	for _, c := range m.Columns {
		q.Columns = append(q.Columns, c.Column)
	}
	q.LevelsTop, q.LevelsBottom = float64(levels.count("top")), float64(levels.count("bottom"))
	q.OpenJoints = openJoints(edges)
	edged := measureRims(s, rims)
	teeth := findTeeth(s, necks)
	landTeeth(s, teeth, rims)
	walls, runOuts := findWalls(s, necks, rims)
	feathers := findFeathers(s, runOuts)
	q.Walls, q.Gaps = Tidy(walls), Tidy(findGaps(s, necks, holes, floors))
	q.Holes, q.Corners, q.Teeth = Tidy(holes.subjects), Tidy(corners), Tidy(teeth)
	q.Traps, q.Columns, q.Crossings = Tidy(findTraps(s)), Tidy(q.Columns), Tidy(crossings)
	q.Reliefs = Tidy(findReliefs(s))
	q.Levels, q.Steps = Tidy(levels.subjects), Tidy(q.Steps)
	q.Feathers, q.Flanges, q.Tapers = Tidy(feathers), Tidy(flanges), Tidy(findTapers(s, m.open))
	q.Bosses, q.Grooves = Tidy(measureBosses(s, bosses)), Tidy(measureGrooves(s, floors))
	q.Rims, q.Marks, q.Dimensions = Tidy(edged), Tidy(marks), Tidy(findDimensions(s, levels.subjects))
	q.Finished, q.Bulges = measureFinished(after, q), Tidy(q.Bulges)
	m.Rods = findRods(q.Holes, holes)
	return m, nil
}
