package tooling

import (
	"cmp"
	"slices"

	"corerod/parts/measure"
	"corerod/parts/subject"
)

// complete puts what was found into the blank's subjects, in place of what another way up had.
func (l *Layout) complete() {
	q := l.measured.Subject
	if q.WayUp != l.WayUp.Key() {
		turnOver(q)
		q.WayUp = l.WayUp.Key()
	}
	q.TurnedBetter, q.Moved = l.WayUp.Better != nil, l.Moved
	q.Punches, q.Cores, q.Presses = nil, nil, nil
	q.PunchesTop, q.PunchesBottom, q.Class = float64(l.Upper), float64(l.Lower), l.Class
	q.GreenDensity, q.GreenStrength, q.Force = l.Green, l.Strength, l.Force
	for _, m := range l.Members {
		switch m.Kind {
		case UpperPunch, LowerPunch:
			q.Punches = append(q.Punches, l.punch(m))
			for _, e := range m.Ends {
				if e.Hole != nil {
					e.Hole.OwnPunch = m.Ends[0].Alike(e)
				}
			}
		case CoreRod:
			q.Cores = append(q.Cores, m.core)
		}
	}
	for _, c := range l.Columns {
		q := c.Column.Column
		q.Fill, q.FillRatio, q.Spread = c.Fill, c.Ratio, c.Spread
		q.Need, q.Moved, q.LocalDensity, q.Punch = c.Need, c.Moved, c.LocalDensity, c.lower.Name
	}
	if c := l.Press; c != nil && c.Press != nil {
		q.Presses = append(q.Presses, &subject.Press{
			Common:   subject.Common{Name: c.Press.Name, Features: []string{}, X: q.X, Y: q.Y, ZLow: q.ZLow, ZHigh: q.ZHigh},
			Capacity: c.Press.Capacity, Load: c.Load, Fill: c.Press.Fill, FillShare: c.FillShare, Ejection: c.Press.Eject,
			EjectionShare: l.Ejection.Value / c.Press.Eject, Upper: c.Press.Upper, Lower: c.Press.Lower, Serves: c.Serves})
	}
	q.Punches, q.Cores = measure.Tidy(q.Punches), measure.Tidy(q.Cores)
}

// turnOver makes of the subjects of a part as it lies those of it turned over: what holds it, and which punch forms what.
func turnOver(q *subject.Part) {
	for _, t := range q.Tapers {
		t.Reverse, t.ReverseTurned = t.ReverseTurned, t.Reverse
	}
	turned := map[string]string{UpperPunch: LowerPunch, LowerPunch: UpperPunch}
	for _, r := range q.Rims {
		r.Member = cmp.Or(turned[r.Member], r.Member)
	}
	for _, d := range q.Dimensions {
		for i, m := range d.Members {
			d.Members[i] = cmp.Or(turned[m], m)
		}
		slices.Sort(d.Members)
	}
}

// punch is the subject of a punch: it lies where its first level lies.
func (l *Layout) punch(m *Member) *subject.Punch {
	p := &subject.Punch{Area: m.Area.Value, Section: m.Section.Value, StepSection: m.StepSection, Fill: m.Fill, Stroke: m.Stroke,
		Pressure: m.Pressure, Force: m.Force, StrokeLoosest: m.StrokeLoosest, HeightShare: m.heightShare(),
		PocketRatio: m.PocketRatio, BucklingShare: m.Buckling, Upper: m.Kind == UpperPunch}
	p.Face = m.Ends[0].Side
	p.Common = m.Ends[0].Place()
	p.Name = m.Name
	p.Places, p.Footprints = nil, nil
	p.Level = m.Ends[0].Z
	var features []string
	for _, f := range l.measured.Part.Features() {
		forms := func(e *measure.End) bool {
			return slices.Contains(e.Place().Features, f.Name) || slices.Contains(e.BossNames, f.Name)
		}
		if slices.ContainsFunc(m.Ends, forms) {
			features = append(features, f.Name)
		}
	}
	p.Features = features
	return p
}
