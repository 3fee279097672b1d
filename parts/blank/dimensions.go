package blank

import (
	"corerod/parts"
	"corerod/parts/fit"
	"corerod/parts/subject"
	"slices"
	"strings"
)

// findDimensions turns the part file's tolerances into subjects.
func (s *shape) findDimensions() (out []*subject.Dimension) {
	low, high := s.spanAll()
	for i := range s.part.Dimensions {
		d := &s.part.Dimensions[i]
		q := &subject.Dimension{Form: d.Kind, Width: d.Width, Direction: "plan", MadeBy: "pressing", Members: []string{}}
		q.Name, q.Features, q.ZLow, q.ZHigh = d.Name, []string{}, low, high
		if d.Axial {
			q.Direction = "axial"
		}
		if d.Kind == "size" {
			q.Nominal = subject.Some(d.Nominal)
			if g, ok := fit.Grade(d.Nominal, d.Width); ok {
				q.Grade = subject.Some(g)
			}
		}
		if f := s.featureNamed(d.Feature); f != nil {
			at := anchor(f.Profile)
			q.Features, q.X, q.Y, q.MadeBy = []string{f.Name}, at.X, at.Y, f.MadeBy
			if f.Extent.Open == "" {
				q.ZLow, q.ZHigh = f.Extent.From, f.Extent.To
			}
			if f.MadeBy == "pressing" {
				q.Members = s.members(f, d)
			}
		}
		out = append(out, q)
	}
	return out
}

// members are the tool members that form a dimension of a feature: in plan those that form its walls, along the axis
// the punches: one alone of a single face, and where a depth is counted from the face that it opens to.
func (s *shape) members(f *parts.Feature, d *parts.Dimension) (all []string) {
	switch {
	case strings.HasSuffix(d.Of, ".top"):
		return []string{"upper-punch"}
	case strings.HasSuffix(d.Of, ".bottom"):
		return []string{"lower-punch"}
	case d.Axial && f.Extent.Open == "top":
		return []string{"upper-punch"}
	case d.Axial && f.Extent.Open == "bottom":
		return []string{"lower-punch"}
	case d.Axial:
		return []string{"lower-punch", "upper-punch"}
	}
	number := slices.Index(s.features, f)
	var own []string // beside the feature's own leaning wall, where the member is that at the end of the wall
	for i := range s.overlay.Edges {
		for _, side := range [2][2]int{{s.overlay.Edges[i].Left, s.overlay.Edges[i].Right}, {s.overlay.Edges[i].Right, s.overlay.Edges[i].Left}} {
			for k := range s.slabs {
				if !s.cells[side[0]].solid[k] || s.cells[side[1]].solid[k] {
					continue
				}
				if s.outlines[s.owner(k, i, side[0], side[1])].feature != number {
					continue
				}
				if g, sloped := s.slopeBeside(k, side[1]); sloped && g == number {
					own = append(own, s.former(k, side[1]))
				} else {
					all = append(all, s.former(k, side[1]))
				}
			}
		}
	}
	if len(all) == 0 {
		all = own
	}
	slices.Sort(all)
	return slices.Compact(all)
}
