package tooling

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"corerod/parts/measure"
	"corerod/parts/subject"
)

// Kinds of members, in the order of a layout.
const (
	Die        = "die"
	UpperPunch = "upper-punch"
	LowerPunch = "lower-punch"
	CoreRod    = "core-rod"
)

// Member is one member of the tool: the die, a punch, or the core rods of one hole and those alike.
type Member struct {
	Kind, Name    string
	Count         int            // of core rods alike, or of copies of a punch, which one drive moves
	Ends          []*measure.End // what a punch forms; the shelves of a die
	Area          subject.Optional
	Section       subject.Optional // mm, thinnest neck of its plan
	StepSection   subject.Optional // mm, the same with an end on a neighbouring punch or a step in its own face
	Fill          subject.Optional // mm, of loose powder over it, the mean over its plan
	Stroke        subject.Optional // mm, by which it and what is opposite close on the powder
	StrokeLoosest subject.Optional // mm, of an upper punch with powder as loose as iron powders come
	PocketRatio   subject.Optional // depth over section of the pockets for bosses in its face
	Buckling      subject.Optional // force over that at which it would buckle
	Pressure      subject.Optional // MPa, at its face
	Force         subject.Optional // kN
	MayNotTurn    bool             // a punch whose face would be another one if it turned about its axis
	Why           []string         // the reason for each choice

	columns []*Column
	core    *subject.Core
	wall    float64 // mm2, of a core rod, that the part grips
}

// OwnPunch is the depth of a blind hole, as a share of the column beside it, from which its pin is a punch by itself:
// 25 %, from memory. As a share of the part's height it is measure.StepShare.
const OwnPunch = 0.25

// group is the ends of one side that one member forms.
type group struct {
	ends  []*measure.End
	count int  // of copies of the first, each of which takes one
	shelf bool // in the die, or in an upper die if the part is turned over
	why   []string
}

// groups divides the ends of one side, "top" or "bottom", among members. Each punch starts from the largest land that has none yet, and
// takes in those beside a land of it, in plan, that lie within 15 % of the overall height of the first, unless a step between them needs
// a punch of its own; with a land its copies go. Of lands of one area the one starts that can take in most, then the lowest. A punch whose
// lands a shelf of the die can all form is not made where lower tells that die and lower punches form the side. A blind hole stays a
// pin in the punch round it unless it is too deep for that.
func groups(p *measure.Measured, side string, lower bool) (all []*group) {
	var free []*measure.End
	for _, e := range p.Ends {
		if e.Side == side && e.Level != nil {
			free = append(free, e)
		}
	}
	reach := measure.StepShare*p.Subject.Height + atHeight
	near := func(d, e *measure.End) bool { return math.Abs(d.Z-e.Z) <= reach }
	for len(free) > 0 {
		first := slices.MinFunc(free, func(d, e *measure.End) int { return before(d, e, free, near) })
		g := &group{}
		take := func(e *measure.End) {
			g.ends = append(g.ends, e)
			free = slices.DeleteFunc(free, func(o *measure.End) bool {
				if o != e && e.Alike(o) {
					g.ends = append(g.ends, o)
				}
				return e.Alike(o)
			})
		}
		take(first)
		g.count = len(g.ends)
		for again := true; again; {
			again = false
			stays := func(e *measure.End) bool { return near(first, e) && g.besides(e) && !parted(p, g, e) }
			if i := slices.IndexFunc(free, stays); i >= 0 {
				e := free[i]
				g.why = append(g.why, fmt.Sprintf("%s stays in its face: within %g %% of the height", e.Name(), 100*measure.StepShare))
				take(e)
				again = true
			}
		}
		g.shelf = lower && onShelf(p, g)
		all = append(all, g)
	}
	return pins(p, side, all)
}

// besides tells whether an end lies beside one of the group.
func (g *group) besides(e *measure.End) bool {
	return slices.ContainsFunc(g.ends, func(o *measure.End) bool { return slices.Contains(o.Beside, e) })
}

// before orders levels as the start of a punch.
func before(d, e *measure.End, free []*measure.End, near func(d, e *measure.End) bool) int {
	if math.Abs(d.Area-e.Area) > sameArea*d.Area {
		return cmp.Compare(e.Area, d.Area)
	}
	taken := func(x *measure.End) (n int) {
		for _, o := range free {
			if near(x, o) {
				n++
			}
		}
		return n
	}
	return cmp.Or(cmp.Compare(taken(e), taken(d)), cmp.Compare(d.Z, e.Z))
}

// parted tells whether a step between a level and one of a punch needs a punch of its own.
func parted(p *measure.Measured, g *group, e *measure.End) bool {
	return slices.ContainsFunc(g.ends, func(o *measure.End) bool {
		s := stepBetween(p, o, e)
		return s != nil && s.OwnPunch
	})
}

// stepBetween is the step at which two levels meet, or nil.
func stepBetween(p *measure.Measured, d, e *measure.End) *measure.Step {
	for i := range p.Steps {
		if s := &p.Steps[i]; s.Front == d.Level && s.Back == e.Level || s.Front == e.Level && s.Back == d.Level {
			return s
		}
	}
	return nil
}

// onShelf tells whether shelves of the die can form all levels of a punch: none of them is said to have a punch of its
// own, and the punch beside them goes on.
func onShelf(p *measure.Measured, g *group) bool {
	for _, e := range g.ends {
		if !e.Shelf {
			return false
		}
		for i := range p.Steps {
			if s := &p.Steps[i]; (s.Front == e.Level || s.Back == e.Level) && s.Declared == "own" {
				return false
			}
		}
	}
	return true
}

// pins adds the floors of blind holes, one in the floor of another after that.
func pins(p *measure.Measured, side string, all []*group) []*group {
	var rest []*measure.End
	for _, e := range p.Ends {
		if e.Side == side && e.Hole != nil {
			rest = append(rest, e)
		}
	}
	for len(rest) > 0 {
		i := max(0, slices.IndexFunc(rest, func(e *measure.End) bool { return !slices.Contains(rest, e.Round) }))
		all = pin(rest[i], all)
		rest = slices.Delete(rest, i, i+1)
	}
	return all
}

// pin adds the floor of one blind hole to the punch round it, or as a punch by itself, one with those of its copies.
func pin(e *measure.End, all []*group) []*group {
	own := e.Said == "own" ||
		e.Said == "none" && (subject.Snap(e.Share) > measure.StepShare+overShare || subject.Snap(e.Local) > OwnPunch+overShare)
	in := slices.IndexFunc(all, func(g *group) bool { return !g.shelf && slices.Contains(g.ends, e.Round) })
	if own || in < 0 {
		if i := slices.IndexFunc(all, func(g *group) bool { return g.ends[0].Hole != nil && g.ends[0].Alike(e) }); i >= 0 {
			all[i].ends, all[i].count = append(all[i].ends, e), all[i].count+1
			return all
		}
		return append(all, &group{ends: []*measure.End{e}, count: 1, why: []string{pinWhy(e)}})
	}
	all[in].ends = append(all[in].ends, e)
	all[in].why = append(all[in].why, fmt.Sprintf("the pin for %s stands on its face: %.3g %% of the height deep", e.Name(), 100*e.Share))
	return all
}

// pinWhy is the reason for which a blind hole's pin is a punch by itself.
func pinWhy(e *measure.End) string {
	switch {
	case e.Said == "own":
		return "the blind hole is said to have its own punch"
	case subject.Snap(e.Share) > measure.StepShare+overShare:
		return fmt.Sprintf("the blind hole is %.3g %% of the height deep, above %g %%", 100*e.Share, 100*measure.StepShare)
	case subject.Snap(e.Local) > OwnPunch+overShare:
		return fmt.Sprintf("the blind hole is %.3g %% of the column beside it deep, above %g %%", 100*e.Local, 100*OwnPunch)
	}
	return "no punch stands round the blind hole"
}

// class is that of the part by its members: N = punches on top + punches below - 1, shelves counted. One is class I up
// to 7.5 mm of height and II above, two are III, more IV (ASM Handbook vol. 7, part classification).
func class(members int, height float64) float64 {
	switch n := members - 1; {
	case n >= 3:
		return 4
	case n == 2:
		return 3
	case subject.Snap(height) > ClassHeight+atHeight:
		return 2
	}
	return 1
}

// ClassHeight is the height up to which a part of one level is pressed from one side, mm (ASM Handbook vol. 7).
const ClassHeight = 7.5

// punchOf makes the member for one group.
func punchOf(p *measure.Measured, g *group, kind string) *Member {
	m := &Member{Kind: kind, Name: g.ends[0].Name(), Count: g.count, Ends: g.ends}
	area := 0.0
	for _, e := range g.ends {
		area += e.Area
	}
	section, step, pocket := p.Section(g.ends)
	for _, e := range g.ends {
		if pocket.Known && e.Pocket > 0 {
			m.PocketRatio = subject.Some(math.Max(m.PocketRatio.Value, e.Pocket/pocket.Value))
		}
	}
	m.Area, m.Section, m.StepSection = subject.Some(area), subject.Some(section), step
	if g.ends[0].Level != nil {
		m.Why = []string{whyPunch(p, g)}
	}
	for _, e := range g.ends {
		m.Why = append(m.Why, inFace("boss", "bosses", e.Bosses)...)
		m.Why = append(m.Why, inFace("groove", "grooves", e.Grooves)...)
	}
	for _, r := range p.Subject.Reliefs {
		forms := func(e *measure.End) bool {
			return e.Side == r.Face && slices.Contains(e.Place().Features, r.Features[0])
		}
		if slices.ContainsFunc(g.ends, forms) {
			m.Why = append(m.Why, fmt.Sprintf("it forms the %s of %s", r.Form, r.Name))
			if m.MayNotTurn = p.RoundOutside(); m.MayNotTurn {
				m.Why[len(m.Why)-1] += ", and may not turn about its axis in the die"
			}
		}
	}
	if g.count > 1 {
		m.Why = append(m.Why, fmt.Sprintf("one of %d alike, which one platen carries", g.count))
	}
	for _, why := range g.why { // blind holes alike say the same
		if !slices.Contains(m.Why, why) {
			m.Why = append(m.Why, why)
		}
	}
	return m
}

// inFace says what stays in a punch's face.
func inFace(one, many string, n int) []string {
	switch n {
	case 0:
		return nil
	case 1:
		return []string{"a " + one + " stays in its face"}
	}
	return []string{fmt.Sprintf("%d %s stay in its face", n, many)}
}

// whyPunch is the reason for which a level has its own punch.
func whyPunch(p *measure.Measured, g *group) string {
	first := g.ends[0]
	sole := true
	for _, e := range p.Ends {
		sole = sole && (e.Side != first.Side || e.Level == nil || slices.Contains(g.ends, e))
	}
	if sole && len(g.ends) == 1 {
		return "the only level of its side"
	}
	if sole {
		return "one punch forms all levels of its side"
	}
	for i := range p.Steps {
		s := &p.Steps[i]
		if s.Front != first.Level && s.Back != first.Level || !s.OwnPunch {
			continue
		}
		if s.Declared == "own" {
			return s.Name + " is said to have its own punch"
		}
		if subject.Snap(s.Share) > measure.StepShare+overShare {
			return fmt.Sprintf("%s rises %.3g %% of the height, above %g %%", s.Name, 100*s.Share, 100*measure.StepShare)
		}
		return fmt.Sprintf("%s rises %.3g %% of the column beside it, above %g %%", s.Name, 100*s.LocalShare, 100*OwnPunch)
	}
	return fmt.Sprintf("more than %g %% of the height from the other levels of its side", 100*measure.StepShare)
}

// coreRod makes the member for the rods of one hole and those alike.
func coreRod(r measure.Rod, ganged int) *Member {
	m := &Member{Kind: CoreRod, Name: r.Name, Count: r.Count, Area: subject.Some(r.Area), Section: subject.Some(r.Width),
		Why: []string{"a through-hole"}}
	if ganged > 1 {
		m.Why = append(m.Why, fmt.Sprintf("one of %d of the same length, ganged on one core platen", ganged))
	}
	m.core = &subject.Core{Common: r.Common, Width: r.Width, Length: r.Depth, Slenderness: r.Depth / r.Width}
	m.wall = r.Round * r.Depth
	return m
}
