package measure

import (
	"math"
	"slices"
	"strings"

	"corerod/parts"
	"corerod/parts/blank"
	"corerod/parts/fit"
	"corerod/parts/form"
	"corerod/parts/subject"
)

// findDimensions turns the part file's tolerances into subjects.
func findDimensions(s *blank.Shape, levels []*subject.Level) (out []*subject.Dimension) {
	low, high := s.WholeSpan()
	for i := range s.Part().Dimensions {
		d := &s.Part().Dimensions[i]
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
		if f := featureNamed(s, d.Feature); f != nil {
			at := form.Centre(f.Profile)
			q.Features, q.X, q.Y, q.MadeBy = []string{f.Name}, at.X, at.Y, f.MadeBy
			if f.Extent.Open == "" {
				q.ZLow, q.ZHigh = f.Extent.From, f.Extent.To
			}
			if d.Axial && f.Stock != (parts.Stock{}) {
				q.MadeBy = "machining" // an end of it is ground
			}
			if q.MadeBy == "pressing" {
				q.Members = members(s, f, d)
			}
		}
		if name, face, _ := strings.Cut(d.Of, "."); d.Kind == "flatness" {
			for _, l := range levels {
				if l.Face == face && slices.Contains(l.Features, name) {
					q.Extent = subject.Some(math.Max(q.Extent.Value, l.Outside))
				}
			}
		}
		out = append(out, q)
	}
	return out
}

// members are the tool members that form a dimension of a feature: in plan those that form its walls, along the axis
// the punches: one alone of a single face, and where a depth is counted from the face that it opens to.
func members(s *blank.Shape, f *parts.Feature, d *parts.Dimension) (all []string) {
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
	number := slices.Index(s.Features(), f)
	var own []string // beside the feature's own leaning wall, where the member is that at the end of the wall
	for i := range s.Edges() {
		for _, side := range [2][2]int{{s.Edge(i).Left, s.Edge(i).Right}, {s.Edge(i).Right, s.Edge(i).Left}} {
			for k := range s.Slabs() {
				if !s.Solid(side[0], k) || s.Solid(side[1], k) {
					continue
				}
				if s.FeatureOf(s.Owner(k, i, side[0], side[1])) != number {
					continue
				}
				if g, _, sloped := s.SlopeBeside(k, side[1]); sloped && g == number {
					own = append(own, former(s, k, side[1]))
				} else {
					all = append(all, former(s, k, side[1]))
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
