package data

import (
	"io"

	"corerod/checker"
	"corerod/checker/report/words"
	"corerod/parts/subject"
	"corerod/parts/tooling"
	"corerod/rules"
)

type jsonTooling struct {
	Corerod      jsonVersion   `json:"corerod" doc:"The program and the version of this format."`
	InForce      jsonForce     `json:"in_force" doc:"The packs whose figures are used."`
	File         string        `json:"file" doc:"The part file, as it was named."`
	Part         string        `json:"part" doc:"Name of the part."`
	Class        number        `json:"class" doc:"Class of the part, 1 to 4."`
	Members      []jsonMember  `json:"members" doc:"Die, punches and core rods."`
	Force        *number       `json:"force" doc:"Force to press."`
	Ejection     *number       `json:"ejection" doc:"Force to eject."`
	GreenDensity *number       `json:"green_density" doc:"Density as pressed."`
	Pressure     *number       `json:"pressure" doc:"Mean pressure."`
	Strength     *number       `json:"green_strength" doc:"Strength as pressed."`
	Columns      []jsonColumn  `json:"columns" doc:"Columns of powder, each of one height."`
	Steps        []jsonShared  `json:"steps" doc:"Steps whose two levels one punch forms, or is said to form."`
	WayUp        jsonWayUp     `json:"way_up" doc:"How the part lies in the die."`
	Moved        *number       `json:"moved_volume" doc:"Loose powder that must come to columns from beside."`
	Die          []jsonSize    `json:"die" doc:"Sizes of the die, core rods and punches for the drawn sizes."`
	Press        jsonPress     `json:"press" doc:"What a press must offer, and the one that is chosen."`
	Assumed      []jsonAssumed `json:"assumed" doc:"Figures that the layout stands on and the drawing does not state."`
	Cannot       []string      `json:"cannot" doc:"What no tool of this kind can form, and why."`
	Unknown      []string      `json:"unknown" doc:"What is not known, and why."`
}

type jsonMember struct {
	Kind        string   `json:"kind" doc:"die, upper punch, lower punch or core rod."`
	Name        string   `json:"name" doc:"What it forms."`
	Count       int      `json:"count" doc:"How many alike."`
	Area        *number  `json:"area" doc:"Of its face."`
	Section     *number  `json:"section" doc:"The thinnest neck of its plan."`
	StepSection *number  `json:"step_section" doc:"The thinnest that ends on a neighbouring punch or on a step in its own face."`
	Fill        *number  `json:"fill" doc:"Depth of loose powder over it, the deepest."`
	Stroke      *number  `json:"stroke" doc:"Fill less height."`
	Pressure    *number  `json:"pressure" doc:"At its face."`
	Force       *number  `json:"force" doc:"On it."`
	MayNotTurn  bool     `json:"may_not_turn" doc:"Its face would form another shape if it turned about its axis in the die."`
	Why         []string `json:"why" doc:"Reasons for it."`
}

type jsonColumn struct {
	Name      string      `json:"name" doc:"Its name."`
	Count     int         `json:"count" doc:"How many alike."`
	Height    number      `json:"height" doc:"As pressed."`
	Area      number      `json:"area" doc:"In the plan."`
	Fill      *number     `json:"fill" doc:"Depth of loose powder."`
	FillRatio *number     `json:"fill_ratio" doc:"Fill over height."`
	Transfer  *number     `json:"transfer" doc:"Depth of loose powder that must come to it from beside it, below zero where it must go."`
	Spread    *number     `json:"spread" doc:"Density at the denser end less that at the neutral plane."`
	Neutral   *number     `json:"neutral" doc:"z of the neutral plane."`
	Along     []jsonAlong `json:"along" doc:"Pressure and density along it, from the upper punch; empty where friction is not known."`
}

type jsonAlong struct {
	Z        number  `json:"z" doc:"Height on the part."`
	Pressure *number `json:"pressure" doc:"There."`
	Density  *number `json:"density" doc:"There; null past the ends of the curve."`
}

type jsonShared struct {
	Step       string  `json:"step" doc:"Name of the step."`
	Declared   bool    `json:"declared" doc:"Whether the part file says that one face forms both levels, though no punch can."`
	Fill       *number `json:"fill" doc:"Depth of powder over the level set back, when filled for the other."`
	Density    *number `json:"density" doc:"The density that would be there if no powder moved sideways."`
	Impossible bool    `json:"impossible" doc:"Whether that is denser than without pores."`
}

type jsonWayUp struct {
	Is     string  `json:"is" doc:"as-drawn, or turned-over: the upper punches then form what is drawn below."`
	Said   bool    `json:"said" doc:"Whether the part file says so; else it is the better way."`
	Why    *string `json:"why" doc:"What decided; null where both ways serve alike, or the part file says it."`
	Better *string `json:"better" doc:"What is worse than the other way up, where the part file says this one; else null."`
}

type jsonSize struct {
	Of     string  `json:"of" doc:"The size in the part file."`
	Final  number  `json:"final" doc:"As drawn."`
	Cavity *number `json:"cavity" doc:"Of the tool, at the middle of the range of the material."`
	Low    *number `json:"low" doc:"At the lower end of that range."`
	High   *number `json:"high" doc:"At its upper end."`
}

type jsonPress struct {
	Name      *string  `json:"name" doc:"The press of the list that serves, or comes nearest; null without a list."`
	Serves    bool     `json:"serves" doc:"Whether it offers all that is needed."`
	Load      *number  `json:"load" doc:"Share of its capacity that is used."`
	FillShare *number  `json:"fill_share" doc:"Share of its fill that is used."`
	Capacity  *number  `json:"capacity" doc:"That a press must offer."`
	Fill      *number  `json:"fill" doc:"That a press must offer."`
	Ejection  *number  `json:"ejection" doc:"Force that a press must offer."`
	Stroke    *number  `json:"ejection_stroke" doc:"That a press must offer."`
	Upper     int      `json:"upper" doc:"Upper punches that it must drive."`
	Lower     int      `json:"lower" doc:"Lower punches that it must drive."`
	Why       []string `json:"why" doc:"Of each press of the list that does not serve, what it lacks; empty where one serves."`
}

// Tooling writes the layout of the tool as one JSON document; every key is always there, null where it has no value.
func Tooling(w io.Writer, d *checker.Derived, packs []*rules.Pack, shop *rules.Shop) error {
	l := d.Layout
	out := jsonTooling{Corerod: jsonVersion{Version, Format}, InForce: forceJSON(packs, shop), File: d.Part.File, Part: d.Part.Name,
		Class: number(l.Class), Members: []jsonMember{},
		Force: optional(l.Force), Ejection: optional(l.Ejection), GreenDensity: optional(l.Green), Pressure: optional(l.Mean),
		Strength: optional(l.Strength), Columns: []jsonColumn{}, Moved: optional(l.Moved),
		WayUp: jsonWayUp{l.WayUp.Key(), l.WayUp.Pinned, reasonJSON(l.WayUp.Why), reasonJSON(l.WayUp.Better)},
		Steps: []jsonShared{}, Die: []jsonSize{}, Assumed: assumedJSON(l), Cannot: append([]string{}, l.Cannot...),
		Unknown: append([]string{}, l.Unknown...)}
	for _, m := range l.Members {
		out.Members = append(out.Members, jsonMember{m.Kind, m.Name, m.Count, optional(m.Area), optional(m.Section),
			optional(m.StepSection), optional(m.Fill), optional(m.Stroke),
			optional(m.Pressure), optional(m.Force), m.MayNotTurn, append([]string{}, m.Why...)})
	}
	for _, c := range l.Columns {
		out.Columns = append(out.Columns, columnJSON(l, c))
	}
	for i := range l.Steps {
		s := &l.Steps[i]
		out.Steps = append(out.Steps, jsonShared{s.Step.Name, s.Declared, optional(s.Fill), optional(s.Needs), s.Impossible})
	}
	for _, s := range l.Sizes {
		out.Die = append(out.Die, jsonSize{s.Of, number(s.Final), optional(s.Cavity), optional(s.Low), optional(s.High)})
	}
	c := l.Press
	out.Press = jsonPress{Serves: c.Serves, Capacity: optional(c.Capacity), Fill: optional(c.Fill), Ejection: optional(c.Ejection),
		Stroke: optional(c.Stroke), Upper: c.Upper, Lower: c.Lower, Why: append([]string{}, c.Why...)}
	if c.Press != nil {
		out.Press.Name = &c.Press.Name
		out.Press.Load, out.Press.FillShare = optional(subject.Some(c.Load)), optional(subject.Some(c.FillShare))
	}
	return indented(w, out)
}

// reasonJSON is a reason for a way up with its lengths in mm, nil for none.
func reasonJSON(why tooling.Reason) *string {
	if why == nil {
		return nil
	}
	says := why(func(mm float64) string { return words.Value(mm, subject.MM, "mm") })
	return &says
}

// steps of the density along a column in the JSON.
const alongSteps = 10

func columnJSON(l *tooling.Layout, c *tooling.Column) jsonColumn {
	j := jsonColumn{c.Name, c.Count, number(c.Height), number(c.Area), optional(c.Fill), optional(c.Ratio), optional(c.Transfer),
		optional(c.Spread), nil, []jsonAlong{}}
	if !c.Decay.Known {
		return j
	}
	j.Neutral = optional(subject.Some(c.At(c.Profile.Neutral)))
	for i := range alongSteps + 1 {
		x := float64(i) / alongSteps
		d, p := l.Density(c, x)
		j.Along = append(j.Along, jsonAlong{number(subject.Snap(c.At(x))), optional(p), optional(d)})
	}
	return j
}
