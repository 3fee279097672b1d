package measure

import (
	"math"
	"slices"

	"corerod/parts/blank"
	"corerod/parts/plane"
	"corerod/parts/subject"
)

// Step is a step between two levels of Subject.Levels: Back is the one set back.
type Step struct {
	*subject.Step
	Front, Back *subject.Level
}

// meeting is where two levels of a side share a plan edge.
type meeting struct {
	front, back int
	edges       []int
	local       float64 // the largest rise over the taller column
	ratio       float64 // the largest of the taller over the lower column
	owners      []int
	outer       []bool // of the walls between them: round ones have the axis on the side of the front
}

// findSteps pairs the levels of each side that share an edge.
func findSteps(s *blank.Shape, l *levels) (steps []Step) {
	for _, side := range []string{"bottom", "top"} {
		var ms []*meeting
		of := l.of[side]
		for i := range s.Edges() {
			c, d := s.Edge(i).Left, s.Edge(i).Right
			if of[c] < 0 || of[d] < 0 || of[c] == of[d] {
				continue
			}
			if blank.Outward(side, l.subjects[of[c]].Z, l.subjects[of[d]].Z) < 0 {
				c, d = d, c // c in front, d set back
			}
			j := slices.IndexFunc(ms, func(m *meeting) bool { return m.front == of[c] && m.back == of[d] })
			if j < 0 {
				j = len(ms)
				ms = append(ms, &meeting{front: of[c], back: of[d]})
			}
			ms[j].edges = append(ms[j].edges, i)
			meet(s, l, ms[j], side, i, c, d)
		}
		for _, m := range ms {
			if len(m.owners) > 0 { // else two slopes that meet in a ridge, with no wall between them
				steps = append(steps, step(s, l, m, side))
			}
		}
	}
	return steps
}

// meet adds one edge between column c in front and d set back.
func meet(s *blank.Shape, l *levels, m *meeting, side string, edge, c, d int) {
	p, _ := s.Column(c)
	q, _ := s.Column(d)
	m.outer = append(m.outer, s.Edge(edge).Around(c))
	if !l.onWall(s, c) && !l.onWall(s, d) { // else a drafted wall cuts the columns off
		m.local = math.Max(m.local, math.Abs(l.subjects[m.front].Z-l.subjects[m.back].Z)/taller(s, l, edge, c, d))
		mid := s.Edge(edge).Curve.At(0.5)
		a, b := fullAt(s, l, c, mid), fullAt(s, l, d, mid)
		if low := math.Min(a, b); low > blank.SameHeight {
			m.ratio = math.Max(m.ratio, math.Max(a, b)/low)
		}
	}
	if side == "top" {
		m.owners = append(m.owners, s.WallOwners(edge, c, d, q.Hi+1, p.Hi)...)
	} else {
		m.owners = append(m.owners, s.WallOwners(edge, c, d, p.Lo, q.Lo-1)...)
	}
}

func step(s *blank.Shape, l *levels, m *meeting, side string) Step {
	front, back := l.subjects[m.front], l.subjects[m.back]
	low, high := s.WholeSpan()
	st := &subject.Step{Rise: math.Abs(front.Z - back.Z), LocalShare: m.local, ColumnRatio: math.Max(1, m.ratio)}
	st.Share = st.Rise / (high - low)
	st.LocalShare = math.Max(st.LocalShare, st.Share)
	st.FootRadius = footRadius(s, m.owners)
	if t := drawnAt(s, side, back.Z, true, m.edges); t != nil && (!st.FootRadius.Known || t.Rise < st.FootRadius.Value) {
		st.FootRadius = subject.Some(t.Rise)
	}
	st.Draft = leastDraft(s, m.owners, math.Min(front.Z, back.Z), math.Max(front.Z, back.Z), m.outer...)
	st.Ledge = ledge(s, l.of[side], m)
	owners := slices.Clone(m.owners)
	var length float64
	var at plane.Point
	for _, i := range m.edges {
		e := s.Edge(i)
		for _, c := range [2]int{e.Left, e.Right} {
			z := front.Z
			if l.of[side][c] == m.back {
				z = back.Z
			}
			owners = append(owners, s.FaceOwners(c, z, side)...)
		}
		d := e.Curve.Length()
		mid := e.Curve.Centroid()
		length += d
		at = plane.Point{X: at.X + d*mid.X, Y: at.Y + d*mid.Y}
	}
	switch st.Declared = declared(s, owners); st.Declared {
	case "none":
		st.OwnPunch = subject.Snap(st.Share) > StepShare+overShare || subject.Snap(st.LocalShare) > stepLocal+overShare
	default:
		st.OwnPunch = st.Declared == "own"
	}
	at = plane.Point{X: at.X / length, Y: at.Y / length}
	st.Common = common(s, owners, s.ToPart(at), math.Min(front.Z, back.Z), math.Max(front.Z, back.Z))
	st.Name = joined(st.Features, " to ") + " " + side
	return Step{st, front, back}
}

// StepShare is the rise, as a share of the part's height, up to which a step stays in a punch face and levels share a
// punch: 15 %, published (kalpakjian item 5, bralla, for steps and bosses).
const StepShare = 0.15

// stepLocal is the same as a share of the taller column at the step: 25 %, from memory.
const stepLocal = 0.25

// declared is what the features that make a step's wall and its two levels there say of its punch.
func declared(s *blank.Shape, owners []int) string {
	said := "none"
	for _, f := range owners {
		switch s.Feature(f).Punch {
		case "own":
			return "own"
		case "face":
			said = "face"
		}
	}
	return said
}

// footRadius is the radius that the part file gives at the foot of a step's wall, the least of several.
func footRadius(s *blank.Shape, owners []int) (r subject.Optional) {
	for i := range s.Part().Edges {
		e := &s.Part().Edges[i]
		for _, f := range owners {
			if e.Face == "" && e.Of == s.Feature(f).Name && (!r.Known || e.Radius < r.Value) {
				r = subject.Some(e.Radius)
			}
		}
	}
	return r
}
