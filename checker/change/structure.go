package change

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"corerod/checker"
	"corerod/parts/blank"
	"corerod/parts/form"
	"corerod/parts/source"
	"corerod/parts/subject"
)

// proposal is a change of structure that may clear a finding.
type proposal struct {
	says string
	sets []checker.Set
}

// structures are the changes of structure that clear a target, where the file format can express them.
func (s *search) structures(t *target) (good []*candidate) {
	tried := map[string]bool{}
	for _, p := range s.proposals(t) {
		same := func(c *candidate) bool { return c.Says == p.says }
		key := fmt.Sprint(p.sets)
		if s.left() < 1 || tried[key] || s.touchesHeld(p.sets) || slices.ContainsFunc(good, same) {
			continue
		}
		tried[key] = true
		s.tried++
		v := s.review(editsOf(p.sets))
		if v.derived == nil {
			p.sets = append(slices.Clip(p.sets), s.idle(v)...)
			if v = s.review(editsOf(p.sets)); v.derived == nil || s.touchesHeld(p.sets) {
				continue
			}
			s.tried++
		}
		c := s.weigh(t, p.sets, v)
		if c.Says = p.says; !c.spoilt && (c.Clears || c.Eases) {
			good = append(good, c)
		}
	}
	return good
}

// idle takes out the bodies that add nothing to a changed part: such a part is refused as long as it has them. What else names one of
// them keeps it in the file.
func (s *search) idle(v *variant) (sets []checker.Set) {
	b, err := s.doc.With(v.edits...)
	if err != nil {
		return nil
	}
	p, ps := form.Parse(s.doc.File, b)
	if len(ps) > 0 {
		return nil
	}
	for _, name := range blank.Idle(p) {
		x := s.set("bodies."+name, "")
		x.From, x.Remove = "", true
		sets = append(sets, x)
	}
	return sets
}

// touchesHeld tells whether a set changes a number that no change may touch, or what it stands in.
func (s *search) touchesHeld(sets []checker.Set) bool {
	for _, x := range sets {
		for _, h := range s.held {
			if h == x.Path || strings.HasPrefix(h, x.Path+".") || strings.HasPrefix(h, x.Path+"[") {
				return true
			}
		}
	}
	return false
}

// proposals are what a toolmaker would try with the structure of the part, by what the target is.
func (s *search) proposals(t *target) (all []proposal) {
	names := s.features(t)
	f := t.finding
	switch f.Subject.Kind() {
	case subject.CrossingKind:
		all = s.machined(names, "sides")
	case subject.MarkKind:
		all = append(s.recessed(names), s.machined(names, "marks")...)
	case subject.TrapKind:
		trap := f.Subject.(*subject.Trap)
		all = slices.Concat(s.opened(names, trap), s.filled(names, trap), s.flipped(names), s.machined(names, "cuts"))
	case subject.TaperKind:
		all = slices.Concat(s.flipped(names), s.uprighted(names, f.Subject.(*subject.Taper)), s.turnedOver())
	case subject.StepKind:
		all = slices.Concat(s.merged(f.Subject.(*subject.Step)), s.ownPunch(names), s.fromBothEnds())
	case subject.RimKind:
		all = s.chamfered(names)
	case subject.PunchKind, subject.ColumnKind:
		all = slices.Concat(s.turnedOver(), s.ownPunch(names))
	case subject.DimensionKind:
		all = s.sized()
	case subject.HoleKind, subject.WallKind, subject.GapKind, subject.CornerKind, subject.FeatherKind, subject.GrooveKind:
		all = append(s.machined(names, "cuts"), s.ownPunch(names)...)
	case subject.PartKind:
		all = slices.Concat(s.turnedOver(), s.blended(), s.fromBothEnds())
		for _, step := range s.base.derived.Subject.Steps {
			all = append(all, s.merged(step)...)
		}
		all = append(all, s.machined(s.blind(names), "cuts")...)
	}
	return all
}

// blind are those of some cuts that do not go right through: what forms one is a member of the tool, or part of one.
func (s *search) blind(names []string) (some []string) {
	s.eachOf(names, "cuts", func(name, _ string, n *source.Node) {
		if slices.ContainsFunc([]string{"open", "from", "to", "turned", "ball"}, func(key string) bool { return n.At(key) != nil }) {
			some = append(some, name)
		}
	})
	return some
}

// set is a value that is given, or added where it is not there.
func (s *search) set(path, to string) checker.Set {
	n := s.doc.At(path)
	for up := path; n == nil; n = s.doc.At(up) {
		i := strings.LastIndexAny(up, ".[")
		if i < 0 {
			return checker.Set{Path: path, Line: s.doc.Root.Line, To: to}
		}
		up = up[:i]
	}
	x := checker.Set{Path: path, Line: n.Line, To: to, Unit: s.units[path]}
	if at := s.doc.At(path); at != nil {
		x.From = at.Value
	}
	return x
}

// eachOf finds the features of one section among names, with their paths.
func (s *search) eachOf(names []string, section string, f func(name, path string, n *source.Node)) {
	for _, name := range names {
		if n := s.doc.Root.At(section).At(name); n != nil {
			f(name, section+"."+name, n)
		}
	}
}

// machined proposes to make a feature by machining after sintering.
func (s *search) machined(names []string, section string) (all []proposal) {
	s.eachOf(names, section, func(name, path string, n *source.Node) {
		if by := n.At("made_by"); by == nil || by.Value == "pressing" {
			all = append(all, proposal{"machine " + name + " after sintering", []checker.Set{s.set(path+".made_by", "machining")}})
		}
	})
	return all
}

// recessed proposes to recess raised lettering.
func (s *search) recessed(names []string) (all []proposal) {
	s.eachOf(names, "marks", func(name, path string, n *source.Node) {
		if raised := n.At("raised"); raised != nil {
			x := checker.Set{Path: path + ".raised", Line: raised.Line, From: raised.Value, To: raised.Value, Key: "recessed"}
			all = append(all, proposal{"recess " + name + " instead of raising it", []checker.Set{x}})
		}
	})
	return all
}

// opened proposes to let a recess run out to the end face that it is nearer to.
func (s *search) opened(names []string, trap *subject.Trap) (all []proposal) {
	p := s.base.derived.Subject
	s.eachOf(names, "cuts", func(name, path string, n *source.Node) {
		key, z := "to", p.ZHigh
		if trap.Opens == "bottom" {
			key, z = "from", p.ZLow
		}
		if n.At(key) != nil {
			all = append(all, proposal{"let " + name + " run out to the " + trap.Opens, []checker.Set{s.set(path+"."+key, s.length(z))}})
		}
	})
	return all
}

// filled proposes to carry the body above or below the void to the other one.
func (s *search) filled(names []string, trap *subject.Trap) (all []proposal) {
	s.eachOf(names, "bodies", func(name, path string, n *source.Node) {
		for _, key := range []string{"to", "from"} {
			at, to, way := trap.ZLow, trap.ZHigh, "up"
			if key == "from" {
				at, to, way = to, at, "down"
			}
			if v := n.At(key); v != nil && decimalOf(v.Value) == s.length(at) {
				all = append(all, proposal{"carry " + name + " " + way + " over the void",
					[]checker.Set{s.set(path+"."+key, s.length(to))}})
			}
		}
	})
	return all
}

// length writes a length as the part file has it.
func (s *search) length(mm float64) string {
	if s.base.derived.Part.Unit == "in" {
		mm /= 25.4
	}
	return strconv.FormatFloat(subject.Snap(mm), 'f', -1, 64)
}

// flipped proposes to let a drafted wall narrow the other way.
func (s *search) flipped(names []string) (all []proposal) {
	for _, section := range []string{"bodies", "cuts"} {
		s.eachOf(names, section, func(name, path string, n *source.Node) {
			if way := n.At("draft").At("narrows"); way != nil {
				other := map[string]string{"up": "down", "down": "up"}[way.Value]
				all = append(all, proposal{"let " + name + " narrow " + other, []checker.Set{s.set(path+".draft.narrows", other)}})
			}
		})
	}
	return all
}

// turnedOver proposes to leave the way up to the layout, where the part file says the worse one.
func (s *search) turnedOver() []proposal {
	if !s.base.derived.Subject.TurnedBetter {
		return nil
	}
	return []proposal{{"press the part the better way up", []checker.Set{s.set("way_up", "best")}}}
}

// merged proposes to draw two levels within 15 % of the part's height at one height: the one that is further out at that of the
// other, or the other way round.
func (s *search) merged(step *subject.Step) (all []proposal) {
	if step.Share > 0.15 {
		return nil
	}
	s.eachOf(step.Features, "bodies", func(name, path string, n *source.Node) {
		for _, key := range []string{"to", "from"} {
			ends := [2]string{s.length(step.ZHigh), s.length(step.ZLow)}
			at := n.At(key)
			if at == nil {
				continue
			}
			if i := slices.Index(ends[:], decimalOf(at.Value)); i >= 0 {
				all = append(all, proposal{"draw the levels at " + step.Name + " at one height",
					[]checker.Set{s.set(path+"."+key, ends[1-i])}})
			}
		}
	})
	return all
}

// decimalOf writes a number of the file as length does.
func decimalOf(text string) string {
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return text
	}
	return strconv.FormatFloat(subject.Snap(v), 'f', -1, 64)
}

// ownPunch proposes to give the level of a feature a punch of its own.
func (s *search) ownPunch(names []string) (all []proposal) {
	for _, section := range []string{"bodies", "cuts"} {
		s.eachOf(names, section, func(name, path string, n *source.Node) {
			if at := n.At("punch"); at == nil || at.Value != "own" {
				all = append(all, proposal{"give the level of " + name + " a punch of its own", []checker.Set{s.set(path+".punch", "own")}})
			}
		})
	}
	return all
}

// chamfered proposes a chamfer of 30 degrees with a flat instead of a round: common practice, no source.
func (s *search) chamfered(names []string) (all []proposal) {
	flat := map[string]string{"mm": "0.25", "in": "0.01"}[s.base.derived.Part.Unit]
	s.eachOf(names, "edges", func(name, path string, n *source.Node) {
		if r := n.At("round").At("radius"); r != nil {
			x := checker.Set{Path: path + ".round", Line: r.Line, Key: "chamfer",
				To: fmt.Sprintf("{width: %s, slope: 30, flat: %s}", r.Value, flat)}
			all = append(all, proposal{"draw a chamfer with a flat instead of the round " + name, []checker.Set{x}})
		}
	})
	return all
}

// sized proposes to size the part after sintering.
func (s *search) sized() []proposal {
	if s.base.derived.Part.Sized {
		return nil
	}
	return []proposal{{"size the part after sintering", []checker.Set{s.set("sized", "true")}}}
}

// fromBothEnds proposes to press the part from both ends.
func (s *search) fromBothEnds() []proposal {
	if s.base.derived.Part.Pressing == "both" {
		return nil
	}
	return []proposal{{"press the part from both ends", []checker.Set{s.set("pressing", "both")}}}
}

// blended proposes a radius for every corner where two features meet and the file gives none, the smallest that does.
func (s *search) blended() (all []proposal) {
	pairs := openJoints(s.base.derived.Subject.Corners)
	if len(pairs) == 0 {
		return nil
	}
	radii := []string{"0.2", "0.3", "0.5", "0.8"}
	if s.base.derived.Part.Unit == "in" {
		radii = []string{"0.008", "0.012", "0.02", "0.032"}
	}
	for _, r := range radii {
		p := proposal{says: "state a radius where features meet"}
		for _, of := range pairs {
			name := s.freeName(strings.ReplaceAll(strings.Join(of, "-"), ".", "-"))
			p.sets = append(p.sets, s.set("blends."+name, fmt.Sprintf("{of: [%s], radius: %s}", strings.Join(of, ", "), r)))
		}
		all = append(all, p)
	}
	return all
}

// openJoints are the features that meet in a corner without a radius, by corner, each once.
func openJoints(cs []*subject.Corner) (all [][]string) {
	for _, c := range cs {
		if c.Joint && c.Radius == 0 && len(c.Features) > 1 {
			all = append(all, c.Features)
		}
	}
	slices.SortFunc(all, slices.Compare[[]string])
	return slices.CompactFunc(all, slices.Equal[[]string])
}

// freeName is a name that nothing in the file has yet.
func (s *search) freeName(name string) string {
	name = name[:min(len(name), 60)]
	taken := func(n string) bool {
		return slices.ContainsFunc([]string{"bodies", "cuts", "blends", "edges", "sides", "marks"},
			func(section string) bool { return s.doc.Root.At(section).At(n) != nil })
	}
	for i, free := 2, name; ; i++ {
		if !taken(free) {
			return free
		}
		free = fmt.Sprintf("%s-%d", name, i)
	}
}
