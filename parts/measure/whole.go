package measure

import (
	"fmt"
	"math"
	"slices"

	"corerod/parts"
	"corerod/parts/blank"
	"corerod/parts/plane"
	"corerod/parts/subject"
)

// treatments are what some edges of the part file change on the shape; problems are those that do not fit.
func treatments(s *blank.Shape, rims []*rim, feet []*foot, some func(*parts.Edge) bool) (all []*blank.Change, ps parts.Problems) {
	type place struct {
		edge    string
		feature int
		side    string
		z       float64
	}
	known := map[place]bool{} // of a turned feature the inner and the outer rim are two, and one treatment
	add := func(e *parts.Edge, feature int, side string, z float64) {
		at := place{e.Name, feature, side, math.Round(z / blank.SameHeight)}
		if known[at] {
			return
		}
		known[at] = true
		x, err := s.Treat(e, feature, side, z)
		if err != nil {
			why := err.Error()
			if most := mostAcross(s, e, feature, side, z); most > 0 {
				why = fmt.Sprintf("a side of the outline of %s vanishes; at most %s mm across, a flat counted, fits", e.Of, decimal(most))
			}
			ps = append(ps, s.Problem(e.Place, "the edge %s does not fit: %s", e.Name, why))
			return
		}
		all = append(all, x)
	}
	for i := range s.Part().Edges {
		e := &s.Part().Edges[i]
		if !some(e) {
			continue
		}
		for _, m := range rims {
			if m.treatedBy(s, e) {
				add(e, m.feature, m.side, m.z)
			}
		}
		feature := slices.IndexFunc(s.Features(), func(f *parts.Feature) bool { return f.Name == e.Of })
		for _, t := range feet {
			if e.Face == "" && t.feature == feature {
				add(e, t.feature, t.side, t.z)
			}
		}
	}
	return all, ps
}

// mostAcross is how wide an edge's treatment is at most that a rim or foot has room for, mm, rounded down to a hundredth; 0 where none is.
func mostAcross(s *blank.Shape, e *parts.Edge, feature int, side string, z float64) float64 {
	fits, most := 0.0, 1.0 // as shares of what is drawn
	for range 30 {
		share := (fits + most) / 2
		x := *e
		x.Radius *= share
		if e.Chamfer != nil {
			c := *e.Chamfer
			c.Width, c.Flat = c.Width*share, c.Flat*share
			x.Chamfer = &c
		}
		if _, err := s.Treat(&x, feature, side, z); err == nil {
			fits = share
		} else {
			most = share
		}
	}
	return math.Floor(fits*e.Across()*100) / 100
}

// withChanges is the shape as drawn with changes.
func withChanges(s *blank.Shape, all []*blank.Change) (*blank.Shape, parts.Problems) {
	if len(all) == 0 {
		return s.Drawn(), nil
	}
	return s.With(all)
}

// finished is the part after machining, sizing and grinding, with what rims, feet, blends and marks change; nil of one that is finished as
// pressed. The least material above and below features across the axis goes to these.
func finished(s *blank.Shape, all []*blank.Change, crossings []*subject.Crossing) (*blank.Shape, parts.Problems) {
	later := slices.ContainsFunc(s.Part().Cuts, func(c *parts.Feature) bool { return c.MadeBy != "pressing" }) ||
		slices.ContainsFunc(s.Part().Bodies, func(b *parts.Feature) bool { return b.Stock != parts.Stock{} })
	for i := range s.Part().Sides {
		across := s.CrossFeature(&s.Part().Sides[i])
		all, later = append(all, across...), later || len(across) > 0
	}
	if !later {
		return nil, nil
	}
	f, ps := s.Finished()
	if len(ps) > 0 {
		return nil, ps
	}
	if slices.ContainsFunc(s.Part().Edges, func(e parts.Edge) bool { return numberOf(s, e.Of) < 0 }) {
		f = f.WithWalls()
		rims, feet := findRims(f)
		edges, ps := treatments(f, rims, feet, func(e *parts.Edge) bool { return numberOf(s, e.Of) < 0 })
		if len(ps) > 0 {
			return nil, ps
		}
		all = append(all, edges...)
	}
	if f, ps = withChanges(f, all); len(ps) > 0 {
		return nil, ps
	}
	if why := f.NotWhole(); why != "" {
		const says = "the finished part %s: let what is made after pressing take less away"
		return nil, parts.Problems{s.Problem(madeLater(s.Part()), says, why)}
	}
	for _, c := range crossings {
		if d, ok := f.Cover(c.Name); ok && c.Form != "flat" {
			c.Cover = subject.Some(d)
		}
	}
	return f, nil
}

// madeLater is where the first cut or side feature stands that is made after pressing, else the part itself.
func madeLater(p *parts.Part) parts.Place {
	for _, c := range p.Cuts {
		if c.MadeBy != "pressing" {
			return c.Place
		}
	}
	for i := range p.Sides {
		return p.Sides[i].Place
	}
	return p.Place
}

// measureFinished measures the finished part.
func measureFinished(f *blank.Shape, p *subject.Part) []*subject.Finished {
	if f == nil {
		return []*subject.Finished{}
	}
	q := &subject.Finished{}
	var m plane.Moments
	for c := range f.Cells() {
		if f.HasMaterial(c) {
			m = m.Add(f.Moments(c))
		}
	}
	low, high := f.WholeSpan()
	at := f.ToPart(m.Centroid())
	q.Common = subject.Common{Name: "finished", X: at.X, Y: at.Y, ZLow: low, ZHigh: high, Features: []string{}}
	q.Height, q.PlanArea = high-low, m.Area
	q.Volume, q.Surface = f.Volume()
	if p.Density.Known {
		q.Mass = subject.Some(q.Volume * p.Density.Value / 1000)
	}
	return []*subject.Finished{q}
}
