package measure

import (
	"math"
	"slices"

	"corerod/parts"
	"corerod/parts/blank"
	"corerod/parts/form"
	"corerod/parts/plane"
	"corerod/parts/subject"
)

// Bounds of a corner: the least turn, and the radius from which an arc is a contour of its own.
const (
	leastTurn    = 15 * math.Pi / 180
	contourRound = 2.0 // mm
)

// foundCorner is a corner of sections, followed through stretches of height that touch.
type foundCorner struct {
	tip         // where it is sharpest
	bottom, top tip
	low, high   float64
	walls       []int // that make it
	joint       bool  // of different walls
	sharp       bool  // somewhere
	endsSharp   bool  // at its upper end
	slopes      []blank.Slope
	inKey       bool
	room        float64        // of a sharp one: the largest radius that the shorter side has room for
	sides       [2]plane.Curve // of a sharp one between upright walls
}

// features are those that make a corner.
func (f *foundCorner) features(s *blank.Shape) (out []int) {
	for _, w := range f.walls {
		out = append(out, s.WallFeature(w))
	}
	return out
}

// findCorners finds the corners of all sections, and those that a die or core rod has an edge at: none of a punch's face. Those of one
// toothed outline are its teeth's.
func findCorners(s *blank.Shape, h *holes) (out, edges []*subject.Corner, blends blended, ps parts.Problems) {
	all := slices.DeleteFunc(followed(s, func(m *movingRing) []*foundCorner { return ringCorners(h, m) }), func(f *foundCorner) bool {
		turn := math.Abs(f.turn)
		return turn < leastTurn-atAngle || f.radius >= contourRound-atLength || !f.sharp && turn >= runsBack
	})
	out = make([]*subject.Corner, len(all))
	for i, c := range all {
		if out[i] = corner(s, c); !c.onFace() {
			edges = append(edges, out[i])
		}
	}
	if ps := checkBlends(s, all, out); len(ps) > 0 {
		return nil, nil, blended{}, ps
	}
	return out, edges, blendsOf(s, all, out), nil
}

// ofTeeth tells whether the pieces of a ring that a corner is of are all of one toothed outline.
func (m *movingRing) ofTeeth(i, pieces int) bool {
	n, s := len(m.pieces), m.x.s
	first := m.x.wall(m.pieces[i].number)
	if !toothedWall(s, first) {
		return false
	}
	for k := 1; k < pieces; k++ {
		if m.x.wall(m.pieces[(i+k)%n].number) != first {
			return false
		}
	}
	return true
}

// ringCorners finds the joints and the arcs that are tangent to what is beside them of one ring.
func ringCorners(h *holes, m *movingRing) (out []*foundCorner) {
	n, z := len(m.pieces), m.x.z
	for i := range n {
		if m.ofTeeth(i, 2) || m.passing(i) || m.onRelief(i) {
			continue
		}
		a := &m.pieces[(i+1)%n].Curve
		turn := m.turn(i+1, z)
		add := func(f *foundCorner) {
			at := m.x.outside(&m.pieces[i].Piece, &m.pieces[(i+1)%n].Piece)
			f.inKey = inKey(m.x.s, f.walls, h.keyed[at[0]] || h.keyed[at[1]])
			out = append(out, f)
		}
		if math.Abs(turn) >= tangent {
			f := m.follow(sharpTip, i, 2)
			f.sharp, f.room = true, m.room(i, f)
			if !slices.ContainsFunc(f.slopes, func(w blank.Slope) bool { return !w.Upright() }) {
				f.sides = [2]plane.Curve{m.curve(i, z), m.curve(i+1, z)}
			}
			add(f)
		} else if a.IsArc() && math.Abs(m.turn(i+2, z)) < tangent {
			f := m.follow(roundedTip, i, 3)
			f.room, f.joint, f.walls = math.Inf(1), false, []int{m.x.wall(m.pieces[(i+1)%n].number)}
			add(f)
		}
	}
	return out
}

// onRelief tells whether a piece of a ring or the one after it is a wall of a relief: no edge of a die or core rod is there, and the part
// file gives it no radius.
func (m *movingRing) onRelief(i int) bool {
	for _, k := range [2]int{i, i + 1} {
		if m.x.s.Feature(m.x.feature(m.pieces[k%len(m.pieces)].number)).Relief != nil {
			return true
		}
	}
	return false
}

// room is the largest radius that the shorter side at a sharp corner has room for, at every height.
func (m *movingRing) room(i int, f *foundCorner) float64 {
	least := math.Inf(1)
	heights := []float64{f.low, m.x.z, f.high}
	if !m.x.middle {
		heights = heights[:1]
	}
	for _, z := range heights {
		p, q := m.curve(i, z), m.curve(i+1, z)
		least = math.Min(least, math.Min(p.Length(), q.Length())/math.Tan(math.Abs(sharpTip(m, i, z).turn)/2))
	}
	return least
}

// inKey tells whether a corner belongs to a flat, to a spline, or to the key of a round bore.
func inKey(s *blank.Shape, walls []int, keyed bool) bool {
	for _, w := range walls {
		f := s.WallFeature(w)
		if form.HasFlats(s.Feature(f).Profile) || isSpline(s, f) || keyed && !form.Round(s.Feature(f).Profile) {
			return true
		}
	}
	return false
}

func corner(s *blank.Shape, f *foundCorner) *subject.Corner {
	angle := within(180-f.turn*180/math.Pi, [2]float64{0, 360}) // a cusp but for rounding is one
	c := &subject.Corner{Angle: angle, Radius: f.radius, Inside: f.turn < 0, Joint: f.joint, InKey: f.inKey}
	c.Common = common(s, f.features(s), s.ToPart(f.at), f.low, f.high)
	c.Footprints = pointPrint(f.at)
	if c.Joint {
		c.Radius = blendRadius(s, c.Features, 0)
	}
	return c
}

// openJoints names the joints without a blend, each once, sorted.
func openJoints(cs []*subject.Corner) []string {
	out := []string{}
	for _, c := range cs {
		if c.Joint && c.Radius == 0 {
			out = append(out, c.Name)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}
