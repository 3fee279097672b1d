package blank

import (
	"fmt"
	"math"

	"corerod/parts"
	"corerod/parts/plane"
)

// outline is one copy of a feature's plan profile.
type outline struct {
	feature int // number in shape.features
	copy    int
	loop    plane.Loop
}

// MostExtent is the largest part that is reviewed, across and high, mm.
const MostExtent = 500

func point(p parts.Point) plane.Point { return plane.Point{X: p.X, Y: p.Y} }

// draw returns the closed outline of a profile as drawn.
func draw(p parts.Profile) (plane.Loop, error) {
	switch s := p.(type) {
	case parts.Circle:
		return plane.Circle(point(s.At), s.Diameter), nil
	case parts.Rectangle:
		return plane.Rectangle(point(s.At), s.Length, s.Width, s.Turn, s.Corner)
	case parts.Slot:
		return plane.Slot(point(s.At), s.Length, s.Width, s.Turn)
	case parts.Hexagon:
		return plane.Hexagon(point(s.At), s.AcrossFlats, s.Turn, s.Corner)
	case parts.Flatted:
		return plane.Flatted(point(s.At), s.Diameter, s.Flats, s.Turn, s.Corner)
	case parts.Polygon:
		ps := make([]plane.Point, len(s.Points))
		for i, p := range s.Points {
			ps[i] = point(p)
		}
		return plane.Polygon(ps, s.Corners)
	case parts.Path:
		steps := make([]plane.Step, len(s.Steps))
		for i, t := range s.Steps {
			steps[i] = plane.Step{To: point(t.To), Radius: t.Radius, Clockwise: t.Clockwise, Large: t.Large}
		}
		return plane.Path(point(s.Start), steps, s.Corner)
	case parts.Gear, parts.Spline, parts.Serration:
		t, err := toothed(p)
		if err != nil {
			return nil, err
		}
		at, turn := placing(p)
		return t.Loop(at, turn), nil
	}
	return nil, fmt.Errorf("unknown profile %T", p)
}

// anchor is the point of a profile that an upright copy is shifted by.
func anchor(p parts.Profile) plane.Point {
	switch s := p.(type) {
	case parts.Circle:
		return point(s.At)
	case parts.Rectangle:
		return point(s.At)
	case parts.Slot:
		return point(s.At)
	case parts.Hexagon:
		return point(s.At)
	case parts.Flatted:
		return point(s.At)
	case parts.Polygon:
		return point(s.Points[0])
	case parts.Path:
		return point(s.Start)
	}
	at, _ := placing(p)
	return at
}

// placeCopy returns copy i of a feature's outline.
func placeCopy(l plane.Loop, f *parts.Feature, i int) plane.Loop {
	r := f.Repeat
	switch {
	case i == 0 && !r.Polar:
		return l
	case !r.Polar:
		return l.Moved(plane.Point{}, 0, plane.Point{X: float64(i) * r.Step.X, Y: float64(i) * r.Step.Y})
	case r.Upright:
		a := anchor(f.Profile)
		b := plane.Turned(a, point(r.About), r.Angle(i))
		return l.Moved(plane.Point{}, 0, plane.Point{X: b.X - a.X, Y: b.Y - a.Y})
	}
	return l.Moved(point(r.About), r.Angle(i), plane.Point{})
}

// outlines draws every copy of the features and reports profiles that cannot be drawn or are too large.
func outlines(p *parts.Part, features []*parts.Feature) (out []outline, ps parts.Problems) {
	for n, f := range features {
		if f.Profile == nil {
			continue // reported when it was read
		}
		l, err := draw(f.Profile)
		if err != nil {
			ps = append(ps, p.Problem(f.Shape, fmt.Sprintf("%s: %v", f.Name, err)))
			continue
		}
		if lo, hi := l.Bounds(); hi.X-lo.X > MostExtent+plane.Near || hi.Y-lo.Y > MostExtent+plane.Near {
			ps = append(ps, p.Problem(f.Shape, fmt.Sprintf("%s is %.4g mm across; features of more than %d mm are not reviewed: past that a nanometre is lost in rounding",
				f.Name, math.Max(hi.X-lo.X, hi.Y-lo.Y), MostExtent)))
			continue
		}
		for i := range f.Repeat.Copies() {
			out = append(out, outline{n, i, placeCopy(l, f, i)})
		}
	}
	return out, ps
}

// Check reports what is wrong with the profiles of a part, cut by pressing or not; it needs no complete part.
func Check(p *parts.Part) parts.Problems {
	_, ps := outlines(p, p.Features())
	return ps
}
