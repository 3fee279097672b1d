package subject

// The declarations. Each measure says how it is found, so that a reader can find it again by hand.
var (
	WallKind = &Kind{Name: "wall", List: "walls", Doc: "Local minimum of material thickness between two pieces of the boundary, as pressed.", Fields: common(
		size("thickness", MM, "Length of the shortest chord of material that is square to both sides, over the wall's height.", func(w *Wall) float64 { return w.Thickness }),
		size("height", MM, "Axial extent over which the two sides face each other.", func(w *Wall) float64 { return w.Height }),
		number("length", MM, "Length of the medial line over which the thickness holds: parallel sides or concentric arcs; 0 at a single chord.", func(w *Wall) float64 { return w.Length }),
		size("ratio", Ratio, "Height over the mean thickness along the axis.", func(w *Wall) float64 { return w.Ratio }),
		texts("between", "The two features on its sides, in alphabetical order.", func(w *Wall) []string { return w.Between }),
		boolean("web", "It stands between two holes; neither side is the outside of the part.", func(w *Wall) bool { return w.Web }),
		boolean("plain_bush", "The whole part is one ring of one height: a circle inside a concentric circle.", func(w *Wall) bool { return w.PlainBush }),
	)}

	HoleKind = &Kind{Name: "hole", List: "holes", Doc: "Void closed in plan, through or blind.", Fields: common(
		size("width", MM, "Diameter of the largest circle that fits the hole in plan.", func(h *Hole) float64 { return h.Width }),
		optionalSize("bore", MM, "Diameter, when it is round or a round bore with a keyway or flat: more than half of one circle.", func(h *Hole) Optional { return h.Bore }),
		size("depth", MM, "Axial height of the material around it.", func(h *Hole) float64 { return h.Depth }),
		boolean("through", "It is open at both ends of the part.", func(h *Hole) bool { return h.Through }),
		text("open", "The end faces it opens to.", func(h *Hole) string { return h.Open }, "top", "bottom", "both"),
		size("ratio", Ratio, "Depth over width.", func(h *Hole) float64 { return h.Ratio }),
		number("edge", MM, "Least material to the outside contour, over the heights at which it is closed in plan; 0 where it touches it.", func(h *Hole) float64 { return h.Edge }),
		optionalSize("floor", MM, "Least column of material under a blind hole.", func(h *Hole) Optional { return h.Floor }),
		boolean("keyed", "A bore whose contour is more than a circle: keyway, spline, other teeth or flat.", func(h *Hole) bool { return h.Keyed }),
		number("draft", Deg, "Least draft angle of its wall; straight walls have 0.", func(h *Hole) float64 { return h.Draft }),
	)}

	GapKind = &Kind{Name: "gap", List: "gaps", Doc: "Neck of void: where a tool member must be thin.", Fields: common(
		size("width", MM, "Length of the shortest chord of void that is square to both sides.", func(g *Gap) float64 { return g.Width }),
		size("depth", MM, "Axial extent over which the two sides face each other.", func(g *Gap) float64 { return g.Depth }),
		size("ratio", Ratio, "Depth over width.", func(g *Gap) float64 { return g.Ratio }),
		text("member", "The tool member that forms it.", func(g *Gap) string { return g.Member }, "core-rod", "die", "punch"),
	)}

	CornerKind = &Kind{Name: "corner", List: "corners", Doc: "Corner of a boundary in plan.", Fields: common(
		number("angle", Deg, "Angle of the material at the corner: under 180 outside, over 180 inside; 0 at a knife edge.", func(c *Corner) float64 { return c.Angle }),
		number("radius", MM, "Radius of its rounding; 0 when sharp.", func(c *Corner) float64 { return c.Radius }),
		boolean("inside", "The material takes more than half a turn around it.", func(c *Corner) bool { return c.Inside }),
		boolean("joint", "It lies where two features meet; its radius is the part file's blend.", func(c *Corner) bool { return c.Joint }),
		boolean("in_key", "It belongs to a keyway, spline or flat.", func(c *Corner) bool { return c.InKey }),
	)}

	LevelKind = &Kind{Name: "level", List: "levels", Doc: "Distinct end face: one for each side and height.", Fields: common(
		text("face", "The end of the part it belongs to.", func(l *Level) string { return l.Face }, "top", "bottom"),
		number("z", MM, "Its height.", func(l *Level) float64 { return l.Z }),
		size("area", MM2, "Its area, islands together.", func(l *Level) float64 { return l.Area }),
		size("height", MM, "Height of the lowest column under it.", func(l *Level) float64 { return l.Height }),
	)}

	StepKind = &Kind{Name: "step", List: "steps", Doc: "Pair of adjacent levels on one face.", Fields: common(
		size("rise", MM, "Axial distance between the two levels.", func(s *Step) float64 { return s.Rise }),
		size("share", Ratio, "Rise over the overall height of the part.", func(s *Step) float64 { return s.Share }),
		size("local_share", Ratio, "Rise over the taller of the two columns that meet at it.", func(s *Step) float64 { return s.LocalShare }),
		size("ledge", MM, "Least width of the set-back level between the step and the outline or the next level; holes ignored unless nothing else bounds it.", func(s *Step) float64 { return s.Ledge }),
		boolean("own_punch", "It needs a punch of its own: as declared, else share above 0.15 or local share above 0.25.", func(s *Step) bool { return s.OwnPunch }),
		text("declared", "What the part file says of its punch.", func(s *Step) string { return s.Declared }, "own", "face", "none"),
		number("draft", Deg, "Draft angle of its wall; straight walls have 0.", func(s *Step) float64 { return s.Draft }),
	)}

	TrapKind = &Kind{Name: "trap", List: "traps", Doc: "Void closed along the pressing axis: material, void, material.", Fields: common(
		size("height", MM, "Axial extent of the void.", func(t *Trap) float64 { return t.Height }),
		size("area", MM2, "Area of the void in plan.", func(t *Trap) float64 { return t.Area }),
		text("opens", "The end face it is nearer to; the top when both are equally far.", func(t *Trap) string { return t.Opens }, "top", "bottom"),
	)}

	CrossingKind = &Kind{Name: "crossing", List: "crossings", Doc: "Feature across the pressing axis.", Fields: common(
		text("kind", "What it is.", func(c *Crossing) string { return c.Form }, "hole", "groove", "thread", "knurl", "flat"),
		optionalSize("width", MM, "Diameter of a hole, axial width of a groove.", func(c *Crossing) Optional { return c.Width }),
		optionalSize("depth", MM, "Depth of a groove.", func(c *Crossing) Optional { return c.Depth }),
		optional("toward", Deg, "Direction of a hole or flat in plan, from x.", func(c *Crossing) Optional { return c.Toward }),
		boolean("crossed", "A knurl with crossed lines.", func(c *Crossing) bool { return c.Crossed }),
		text("made_by", "How it is made.", func(c *Crossing) string { return c.MadeBy }, "pressing", "machining", "sizing"),
	)}

	ColumnKind = &Kind{Name: "column", List: "columns", Doc: "Region of the plan with one bottom and one top face.", Fields: common(
		size("height", MM, "Distance from its bottom to its top face.", func(c *Column) float64 { return c.Height }),
		size("area", MM2, "Area in plan.", func(c *Column) float64 { return c.Area }),
		number("perimeter", MM, "Wall that slides on die, core rods and neighbouring punches, over its height: contact area over height.", func(c *Column) float64 { return c.Perimeter }),
		size("slenderness", Ratio, "Height over the least width of its plan between parallel lines.", func(c *Column) float64 { return c.Slenderness }),
	)}

	TeethKind = &Kind{Name: "teeth", List: "teeth", Doc: "Teeth of one gear, spline or serration. Walls behind them, gaps between them and their corners stand here, not among walls, gaps and corners.", Fields: common(
		optionalSize("module", MM, "Module of a gear, in its normal section.", func(t *Teeth) Optional { return t.Module }),
		size("count", Count, "Number of teeth, as drawn.", func(t *Teeth) float64 { return t.Count }),
		number("helix", Deg, "Helix angle; 0 for straight teeth.", func(t *Teeth) float64 { return t.Helix }),
		number("tip_radius", MM, "Radius of the rounding at the tips, in plan; 0 when sharp.", func(t *Teeth) float64 { return t.TipRadius }),
		number("root_radius", MM, "Radius of the rounding at the roots, in plan; 0 when sharp. Where a gear's is not given, the basic rack's 0.38 module as far as it fits.", func(t *Teeth) float64 { return t.RootRadius }),
		size("tip_thickness", MM, "Thickness of a tooth on its tip circle before the tip is rounded, straight across.", func(t *Teeth) float64 { return t.TipThickness }),
		size("space_width", MM, "Width of a tooth space at the root end of its flanks, where the rounding begins and flanks are nearest, straight across.", func(t *Teeth) float64 { return t.SpaceWidth }),
		optional("root_wall", MM, "Least material between the teeth and another boundary, or, where less, the distance in plan to a wall that stands up from their end face, such as a hub's; 0 where that wall runs through the teeth. Absent where there is neither.", func(t *Teeth) Optional { return t.RootWall }),
		boolean("internal", "They stand inward, round a cut.", func(t *Teeth) bool { return t.Internal }),
	)}

	PartKind = &Kind{Name: "part", List: "parts", Doc: "The whole part, as pressed.", Fields: common(
		size("height", MM, "Overall height along the pressing axis.", func(p *Part) float64 { return p.Height }),
		size("length", MM, "Extent of the plan square to its width.", func(p *Part) float64 { return p.Length }),
		size("width", MM, "Least distance between parallel supporting lines of the plan.", func(p *Part) float64 { return p.Width }),
		size("outside", MM, "Diameter of the least circle around the plan.", func(p *Part) float64 { return p.Outside }),
		size("slenderness", Ratio, "Height over width.", func(p *Part) float64 { return p.Slenderness }),
		size("volume", MM3, "Volume as pressed, to the drawn sizes.", func(p *Part) float64 { return p.Volume }),
		optionalSize("mass", Gram, "Volume times sintered density.", func(p *Part) Optional { return p.Mass }),
		size("plan_area", MM2, "Area seen along the pressing axis, through-holes out.", func(p *Part) float64 { return p.PlanArea }),
		size("surface", MM2, "Whole surface: end faces and walls.", func(p *Part) float64 { return p.Surface }),
		size("levels_top", Count, "Levels on the top side.", func(p *Part) float64 { return p.LevelsTop }),
		size("levels_bottom", Count, "Levels on the bottom side.", func(p *Part) float64 { return p.LevelsBottom }),
		size("punches_top", Count, "Upper punches: groups of top levels that can share one.", func(p *Part) float64 { return p.PunchesTop }),
		size("punches_bottom", Count, "Lower punches: groups of bottom levels that can share one.", func(p *Part) float64 { return p.PunchesBottom }),
		optionalSize("density", Density, "Sintered density the part file states.", func(p *Part) Optional { return p.Density }),
		text("pressing", "The ends from which the powder is pressed.", func(p *Part) string { return p.Pressing }, "both", "top"),
		boolean("sized", "It is sized after sintering.", func(p *Part) bool { return p.Sized }),
		optionalSize("quantity", Count, "Parts a year.", func(p *Part) Optional { return p.Quantity }),
		texts("open_joints", "Corners where two features meet and the part file gives no blend radius.", func(p *Part) []string { return p.OpenJoints }),
		list(WallKind, func(p *Part) []*Wall { return p.Walls }),
		list(HoleKind, func(p *Part) []*Hole { return p.Holes }),
		list(GapKind, func(p *Part) []*Gap { return p.Gaps }),
		list(CornerKind, func(p *Part) []*Corner { return p.Corners }),
		list(LevelKind, func(p *Part) []*Level { return p.Levels }),
		list(StepKind, func(p *Part) []*Step { return p.Steps }),
		list(TrapKind, func(p *Part) []*Trap { return p.Traps }),
		list(CrossingKind, func(p *Part) []*Crossing { return p.Crossings }),
		list(ColumnKind, func(p *Part) []*Column { return p.Columns }),
		list(TeethKind, func(p *Part) []*Teeth { return p.Teeth }),
	)}
)

// Kinds lists every kind: the part first, then its lists in the order they are declared.
func Kinds() []*Kind {
	all := []*Kind{PartKind}
	for i := range PartKind.Fields {
		if f := &PartKind.Fields[i]; f.Type == List {
			all = append(all, f.Of)
		}
	}
	return all
}

// KindNamed finds a kind by its name, or nil.
func KindNamed(name string) *Kind {
	for _, k := range Kinds() {
		if k.Name == name {
			return k
		}
	}
	return nil
}

// Of returns the subjects of a kind on a part; the part itself for the part's kind.
func Of(p *Part, k *Kind) []Subject {
	if k == PartKind {
		return []Subject{p}
	}
	return PartKind.Field(k.List).List(p)
}
