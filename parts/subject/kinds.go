package subject

// The declarations. Each measure says how it is found, so that a reader can find it again by hand.
var (
	WallKind = &Kind{Name: "wall", List: "walls",
		Doc:     "Local minimum of material thickness between two pieces of the boundary, as pressed.",
		Outline: "The strip between its two sides over the length for which the thickness holds, or its one chord, where it is thinnest.",
		Fields: common(
			number("thickness", MM, "Across, in plan: length of the shortest chord of material that is square to both sides, over the "+
				"wall's height; 0 where it runs out.", func(w *Wall) float64 { return w.Thickness }),
			optional("square", MM, "Least distance in space between its two sides, over its height; only where both lean one way and "+
				"it is less than the thickness.", func(w *Wall) Optional { return w.Square }),
			boolean("runs_out", "It comes to nothing: at some height a hole or a recess opens to the outside or to another one, or the "+
				"outside, with a slope of up to 30 degrees, comes to an upright wall; or two voids touch all the way. A flatter slope of "+
				"the outside is its face: where a hole comes out of that, the wall ends at the kink below, and a sharp rim is a feather.",
				func(w *Wall) bool { return w.RunsOut }),
			optional("angle", Deg, "Angle between its two sides, in the plane across, where it runs out; 0 where they touch all the way.",
				func(w *Wall) Optional { return w.Angle }),
			optional("at_rim", MM, "What the rims leave of it where it ends at an end face, the least; only where one is treated. The "+
				"other measures are those without rims.", func(w *Wall) Optional { return w.AtRim }),
			size("height", MM, "Axial extent over which the two sides face each other, up to a ledge or to a slope of over 30 degrees "+
				"that leads to another wall.", func(w *Wall) float64 { return w.Height }),
			number("length", MM, "Length of the medial line over which the thickness holds: parallel sides or concentric arcs; "+
				"0 at a single chord.", func(w *Wall) float64 { return w.Length }),
			size("ratio", Ratio, "Height over the mean thickness along the axis.", func(w *Wall) float64 { return w.Ratio }),
			texts("between", "The features on its two sides, in alphabetical order; several on one side are one name with `with`.",
				func(w *Wall) []string { return w.Between }),
			boolean("web", "It stands between two holes; neither side is the outside of the part.", func(w *Wall) bool { return w.Web }),
			boolean("plain_bush", "The whole part is one ring of one height: a circle inside a concentric circle.",
				func(w *Wall) bool { return w.PlainBush }),
		)}

	HoleKind = &Kind{Name: "hole", List: "holes",
		Doc:     "Void closed in plan, through or blind.",
		Outline: "The area that is open through the whole part; of a blind hole all that it takes in plan.",
		Fields: common(
			size("width", MM, "Diameter of the largest circle that fits the hole in plan, where it is narrowest; of a blind "+
				"one slopes of over 30 degrees, a ball's too, are its floor: one without another wall, or whose walls come to a point, is "+
				"as wide as its mouth.",
				func(h *Hole) float64 { return h.Width }),
			optionalSize("bore", MM, "Diameter, when it is round or a round bore with a keyway or flat: more than half of one circle.",
				func(h *Hole) Optional { return h.Bore }),
			size("depth", MM, "Axial height of the material around it; of a through-hole up to a ledge or a slope of over 30 degrees, "+
				"where it has another wall than these.", func(h *Hole) float64 { return h.Depth }),
			boolean("through", "It is open at both ends of the part.", func(h *Hole) bool { return h.Through }),
			text("open", "The end faces it opens to.", func(h *Hole) string { return h.Open }, "top", "bottom", "both"),
			size("ratio", Ratio, "Depth over width.", func(h *Hole) float64 { return h.Ratio }),
			size("share", Ratio, "Depth over the overall height of the part.", func(h *Hole) float64 { return h.Share }),
			boolean("own_punch", "A blind one whose pin is a punch by itself: as declared, else where its share is above 0.15 or its "+
				"depth above 0.25 of the column beside it.", func(h *Hole) bool { return h.OwnPunch }),
			number("edge", MM, "Least material to the outside contour, over the heights at which it is closed in plan, of a through-hole "+
				"those of its depth, whatever void joins it there; 0 where it touches it. A ridge all round it is a feather and does not "+
				"count.", func(h *Hole) float64 { return h.Edge }),
			optional("floor", MM, "Least column of material under a blind hole, straight along the axis; 0 where its floor "+
				"touches the other face in a point. A hole in its floor has its own.", func(h *Hole) Optional { return h.Floor }),
			optional("web_across", MM, "Least distance in space from a blind hole to the face or void on the other side of its floor, "+
				"where it is less than the floor.",
				func(h *Hole) Optional { return h.WebAcross }),
			boolean("keyed", "A bore whose contour is more than a circle: keyway, spline, other teeth or flat.",
				func(h *Hole) bool { return h.Keyed }),
			number("draft", Deg, "Least draft angle of its wall; straight walls have 0.", func(h *Hole) float64 { return h.Draft }),
		)}

	GapKind = &Kind{Name: "gap", List: "gaps",
		Doc:     "Neck of void: where a tool member must be thin.",
		Outline: "The strip between its two sides over the length for which the width holds, or its one chord, where it is narrowest.",
		Fields: common(
			size("width", MM, "Length of the shortest chord of void that is square to both sides.",
				func(g *Gap) float64 { return g.Width }),
			size("depth", MM, "Axial extent over which the two sides face each other, up to a ledge or a slope of over 30 degrees "+
				"that leads to another gap.", func(g *Gap) float64 { return g.Depth }),
			size("ratio", Ratio, "Depth over width.", func(g *Gap) float64 { return g.Ratio }),
			optionalSize("tongue_ratio", Ratio, "Of one of die or core rod between parallel sides, closed at one end in plan: its length "+
				"from the mouth to that end, over its width.", func(g *Gap) Optional { return g.TongueRatio }),
			text("member", "The tool member that forms it.", func(g *Gap) string { return g.Member }, "core-rod", "die", "punch"),
		)}

	CornerKind = &Kind{Name: "corner", List: "corners",
		Doc:     "Corner of a boundary in plan.",
		Outline: "Its point; of a rounded one the middle of the arc.",
		Fields: common(
			number("angle", Deg, "Angle of the material at the corner, where it is sharpest: under 180 outside, over 180 inside; 0 at a "+
				"knife edge.",
				func(c *Corner) float64 { return c.Angle }),
			number("radius", MM, "Radius of its rounding; 0 when sharp.", func(c *Corner) float64 { return c.Radius }),
			boolean("inside", "The material takes more than half a turn around it.", func(c *Corner) bool { return c.Inside }),
			boolean("joint", "It lies where two features meet; its radius is the part file's blend.",
				func(c *Corner) bool { return c.Joint }),
			boolean("in_key", "It belongs to a keyway, spline or flat.", func(c *Corner) bool { return c.InKey }),
		)}

	LevelKind = &Kind{Name: "level", List: "levels",
		Doc: "Distinct end face: one for each side and height.",
		Fields: common(
			text("face", "The end of the part it belongs to.", func(l *Level) string { return l.Face }, "top", "bottom"),
			number("z", MM, "Its height.", func(l *Level) float64 { return l.Z }),
			size("area", MM2, "Its area, islands together.", func(l *Level) float64 { return l.Area }),
			size("height", MM, "Height of the lowest column under it.", func(l *Level) float64 { return l.Height }),
			size("plate", MM, "Height of the lowest column between it and levels of the other face, not blind holes and grooves.",
				func(l *Level) float64 { return l.Plate }),
			size("outside", MM, "Diameter of the least circle around it.", func(l *Level) float64 { return l.Outside }),
		)}

	StepKind = &Kind{Name: "step", List: "steps",
		Doc: "Pair of adjacent levels on one face.",
		Fields: common(
			size("rise", MM, "Axial distance between the two levels.", func(s *Step) float64 { return s.Rise }),
			size("share", Ratio, "Rise over the overall height of the part.", func(s *Step) float64 { return s.Share }),
			size("local_share", Ratio, "Rise over the taller of the two columns that meet at it.",
				func(s *Step) float64 { return s.LocalShare }),
			size("column_ratio", Ratio, "Height of the taller over that of the lower of two columns that meet at it, where that is most.",
				func(s *Step) float64 { return s.ColumnRatio }),
			size("ledge", MM, "Least width of the set-back level between the step and the outline or the next level; "+
				"holes ignored unless nothing else bounds it.", func(s *Step) float64 { return s.Ledge }),
			boolean("own_punch", "It needs a punch of its own: as declared, else share above 0.15 or local share above 0.25.",
				func(s *Step) bool { return s.OwnPunch }),
			text("declared", "What the part file says of its punch.", func(s *Step) string { return s.Declared }, "own", "face", "none"),
			optionalSize("foot_radius", MM, "Radius at the foot of its wall, where the part file gives one.",
				func(s *Step) Optional { return s.FootRadius }),
			number("draft", Deg, "Draft angle of its wall; straight walls have 0.", func(s *Step) float64 { return s.Draft }),
		)}

	TrapKind = &Kind{Name: "trap", List: "traps",
		Doc: "Void closed along the pressing axis: material, void, material.",
		Fields: common(
			size("height", MM, "Axial extent of the void.", func(t *Trap) float64 { return t.Height }),
			size("area", MM2, "Area of the void in plan.", func(t *Trap) float64 { return t.Area }),
			text("opens", "The end face it is nearer to; the top when both are equally far.",
				func(t *Trap) string { return t.Opens }, "top", "bottom"),
		)}

	CrossingKind = &Kind{Name: "crossing", List: "crossings",
		Doc: "Feature across the pressing axis.",
		Fields: common(
			text("kind", "What it is.", func(c *Crossing) string { return c.Form }, "hole", "groove", "thread", "knurl", "flat"),
			optionalSize("width", MM, "Diameter of a hole, axial width of a groove.", func(c *Crossing) Optional { return c.Width }),
			optionalSize("depth", MM, "Depth of a groove.", func(c *Crossing) Optional { return c.Depth }),
			optional("toward", Deg, "Direction of a hole or flat in plan, from x.", func(c *Crossing) Optional { return c.Toward }),
			optional("cover", MM, "Least height of material above and below it in the finished part; 0 where it comes out of an end face. "+
				"Of a hole or groove alone.", func(c *Crossing) Optional { return c.Cover }),
			boolean("crossed", "A knurl with crossed lines.", func(c *Crossing) bool { return c.Crossed }),
			text("made_by", "How it is made.", func(c *Crossing) string { return c.MadeBy }, "pressing", "machining", "sizing"),
		)}

	ReliefKind = &Kind{Name: "relief", List: "reliefs",
		Doc: "What one punch forms in an end face besides a flat: a tilt, teeth or a ramp of the part file.",
		Fields: common(
			text("kind", "What it is.", func(r *Relief) string { return r.Form }, "tilt", "teeth", "ramp"),
			text("face", "The end of the part it is in.", func(r *Relief) string { return r.Face }, "top", "bottom"),
			size("rise", MM, "Axial distance from its deepest place to the face as drawn.", func(r *Relief) float64 { return r.Rise }),
			size("share", Ratio, "Rise over the overall height of the part.", func(r *Relief) float64 { return r.Share }),
			number("local_share", Ratio, "The most that it takes of a column as its faces are drawn; what a relief of the other face "+
				"takes there counts too.", func(r *Relief) float64 { return r.LocalShare }),
			number("floor", MM, "Least column that it leaves.", func(r *Relief) float64 { return r.Floor }),
			optionalSize("width", MM, "Of a tooth space at its mouth, or of a ramp whose outer diameter is given, from the inner one.",
				func(r *Relief) Optional { return r.Width }),
			size("slope", Deg, "Its steepest slope, from the face: of a ramp at its inner diameter.",
				func(r *Relief) float64 { return r.Slope }),
		)}

	ColumnKind = &Kind{Name: "column", List: "columns",
		Doc: "Region of the plan with one bottom and one top face.",
		Fields: common(
			size("height", MM, "Distance from its bottom to its top face.", func(c *Column) float64 { return c.Height }),
			size("area", MM2, "Area in plan.", func(c *Column) float64 { return c.Area }),
			number("perimeter", MM,
				"Wall that slides on die, core rods and neighbouring punches, over its height: contact area over height.",
				func(c *Column) float64 { return c.Perimeter }),
			size("slenderness", Ratio, "Height over the least width of its plan between parallel lines.",
				func(c *Column) float64 { return c.Slenderness }),
			number("standing", Ratio, "Share of its wall, over all its contour and height, that no powder stands beside: "+
				"1 for one that stands alone.", func(c *Column) float64 { return c.Standing }),
			optionalSize("fill", MM, "Depth of loose powder in it, its punch at the filling place: mass is kept over each lower punch, "+
				"and the powder is level at the top of the die.", func(c *Column) Optional { return c.Fill }),
			optionalSize("fill_ratio", Ratio, "Fill over height. Times the apparent density it is the density it would have if no powder "+
				"moved sideways.", func(c *Column) Optional { return c.FillRatio }),
			optionalSize("need", MM, "Depth of loose powder that it takes: its mean height times green over apparent density.",
				func(c *Column) Optional { return c.Need }),
			optional("moved", Ratio, "Share of the need that must come from beside: what the fill lacks over the need. A column narrower "+
				"than 2 mm counts with the one that it shares the longest edge with.", func(c *Column) Optional { return c.Moved }),
			optionalSize("local_density", Density, "Density that it would have if no powder moved sideways: apparent density times "+
				"fill over mean height; one narrower than 2 mm counts with its neighbour.",
				func(c *Column) Optional { return c.LocalDensity }),
			label("punch", "The lower punch under it, or the die.", func(c *Column) string { return c.Punch }),
			optional("spread", Density, "Green density at its denser end less that at the neutral plane, by wall friction.",
				func(c *Column) Optional { return c.Spread }),
		)}

	FeatherKind = &Kind{Name: "feather", List: "feathers",
		Doc: "Tip in plan under 90 degrees and with a radius under 0.25 mm; or a ridge, a rim without width or a point in " +
			"space under 90 degrees.",
		Outline: "Its tip; of a rounded one the middle of the arc; of a ridge where it is sharpest.",
		Fields: common(
			number("angle", Deg, "Angle between its flanks; of a ridge in the plane across it, of a point all round.",
				func(f *Feather) float64 { return f.Angle }),
			boolean("in_space", "It is a ridge, a rim or a point in space and no tip in plan. What a flat makes with a wall, however "+
				"that leans, is none.", func(f *Feather) bool { return f.Space }),
			number("radius", MM,
				"Radius of its tip; of a blunt tip that of the arc that touches both flanks over the same width; 0 when sharp.",
				func(f *Feather) float64 { return f.Radius }),
			text("of", "What is thin.", func(f *Feather) string { return f.Of }, "material", "tool"),
		)}

	FlangeKind = &Kind{Name: "flange", List: "flanges",
		Doc: "Plate beside a taller column, at most half as thick as the part is high, with an edge that is free outside.",
		Fields: common(
			size("thickness", MM, "Its height along the pressing axis: with a slope on one side the greatest, on both the least.",
				func(f *Flange) float64 { return f.Thickness }),
			optional("square", MM, "Least distance in space between its two faces, where it is less than the thickness.",
				func(f *Flange) Optional { return f.Square }),
			size("overhang", MM, "Greatest distance from its free edge to the taller column.",
				func(f *Flange) float64 { return f.Overhang }),
			size("ratio", Ratio, "Overhang over thickness.", func(f *Flange) float64 { return f.Ratio }),
			boolean("die_shelf", "A shelf in the die can form it: the taller column goes on below it, and the overhang is at most its "+
				"thickness and 3 mm.", func(f *Flange) bool { return f.DieShelf }),
		)}

	BossKind = &Kind{Name: "boss", List: "bosses",
		Doc: "Island on an end face that rises from one lower level all round, at most a tenth of the plan area, " +
			"without a hole through it and not said to have a punch of its own. It is no level.",
		Outline: "The area of its top.",
		Fields: common(
			text("face", "The end face.", func(b *Boss) string { return b.Face }, "top", "bottom"),
			size("rise", MM, "Its height over the level round it.", func(b *Boss) float64 { return b.Rise }),
			size("share", Ratio, "Rise over the overall height of the part.", func(b *Boss) float64 { return b.Share }),
			size("width", MM, "Diameter of the largest circle that fits its plan.", func(b *Boss) float64 { return b.Width }),
			number("draft", Deg, "Draft angle of its wall; straight walls have 0.", func(b *Boss) float64 { return b.Draft }),
		)}

	GrooveKind = &Kind{Name: "groove", List: "grooves",
		Doc: "Narrow recess in an end face: at most a third as wide as long, " +
			"and a quarter of the plan. Its floor is no level.",
		Outline: "The area of its floor.",
		Fields: common(
			text("face", "The end face.", func(g *Groove) string { return g.Face }, "top", "bottom"),
			size("depth", MM, "From the face beside it, the furthest out of several, to its floor.",
				func(g *Groove) float64 { return g.Depth }),
			size("share", Ratio, "Depth over the overall height of the part.", func(g *Groove) float64 { return g.Share }),
			size("width", MM, "Diameter of the largest circle that fits its plan.", func(g *Groove) float64 { return g.Width }),
			boolean("curved", "The longest stretch of its contour is an arc.", func(g *Groove) bool { return g.Curved }),
			number("draft", Deg, "Draft angle of its wall; straight walls have 0.", func(g *Groove) float64 { return g.Draft }),
		)}

	TaperKind = &Kind{Name: "taper", List: "tapers",
		Doc: "Straight sloped wall: of a drafted feature, or a cone of a turned one.",
		Fields: common(
			size("angle", Deg, "Angle of the wall from the pressing axis.", func(t *Taper) float64 { return t.Angle }),
			text("narrows", "The way in which its outline gets smaller.", func(t *Taper) string { return t.Narrows }, "up", "down"),
			text("formed_by", "What forms it: the die outside and the core rod in a through-hole, up to 30 degrees; else a punch.",
				func(t *Taper) string { return t.FormedBy }, "die", "core", "punch"),
			boolean("reverse",
				"It holds the part when it is ejected upward: a die's wall that narrows upward, a core rod's that narrows downward.",
				func(t *Taper) bool { return t.Reverse }),
			boolean("reverse_turned", "It would be reverse if the part were turned over.", func(t *Taper) bool { return t.ReverseTurned }),
			optionalSize("land", MM, "Upright wall that goes on from it, of two the lower.", func(t *Taper) Optional { return t.Land }),
		)}

	RimKind = &Kind{Name: "rim", List: "rims",
		Doc: "Edge of an end face, where a feature's own wall ends. " +
			"Its treatment alters no volume, column or wall.",
		Fields: common(
			text("kind", "How it is treated.", func(r *Rim) string { return r.Treatment }, "sharp", "chamfer", "round"),
			text("face", "The end face.", func(r *Rim) string { return r.Face }, "top", "bottom"),
			optionalSize("width", MM, "Width of its chamfer in plan, or radius of its round.", func(r *Rim) Optional { return r.Width }),
			optionalSize("rise", MM, "Height of its chamfer: width times the tangent of the slope; radius of its round.",
				func(r *Rim) Optional { return r.Rise }),
			optionalSize("slope", Deg, "Angle of its chamfer from the plane of the end face.", func(r *Rim) Optional { return r.Slope }),
			optional("flat", MM, "Flat on the punch's rim outside the chamfer, in plan; 0 where none is drawn.",
				func(r *Rim) Optional { return r.Flat }),
			optionalSize("land", MM, "Straight wall between the chamfer and what is below it.", func(r *Rim) Optional { return r.Land }),
			text("member", "The member that forms the wall along most of it.", func(r *Rim) string { return r.Member }, members...),
		)}

	MarkKind = &Kind{Name: "mark", List: "marks",
		Doc:     "Lettering or a logo on an end face. It alters no volume, column or wall.",
		Outline: "Its box.",
		Fields: common(
			number("rise", MM, "Height over the face; below zero where it is recessed.", func(m *Mark) float64 { return m.Rise }),
			size("share", Ratio, "Rise, either way, over the overall height of the part.", func(m *Mark) float64 { return m.Share }),
			boolean("seating", "The part seats or stacks on its face.", func(m *Mark) bool { return m.Seating }),
		)}

	DimensionKind = &Kind{Name: "dimension", List: "dimensions",
		Doc: "Toleranced size, or tolerance of form or position, by its key in the part file.",
		Fields: common(
			text("kind", "What is toleranced.", func(d *Dimension) string { return d.Form }, "size", "flatness", "runout", "coaxiality"),
			optional("nominal", MM, "The drawn size.", func(d *Dimension) Optional { return d.Nominal }),
			size("width", MM, "The whole tolerance.", func(d *Dimension) float64 { return d.Width }),
			optional("extent", MM, "Of a flatness: the diameter of the least circle around the face.",
				func(d *Dimension) Optional { return d.Extent }),
			optional("it", Count,
				"Grade of ISO 286-1 that the width comes to at the nominal size; between grades by the logarithm of the width.",
				func(d *Dimension) Optional { return d.Grade }),
			text("direction", "How it lies to the pressing axis.", func(d *Dimension) string { return d.Direction },
				"plan", "axial", "both"),
			texts("members", "The tool members that form it, in alphabetical order; none where it is made after pressing.",
				func(d *Dimension) []string { return d.Members }),
			text("made_by", "How its feature is made.", func(d *Dimension) string { return d.MadeBy }, "pressing", "machining", "sizing"),
		)}

	TeethKind = &Kind{Name: "teeth", List: "teeth",
		Doc: "Teeth of one gear, spline or serration. Walls behind them, " +
			"gaps between them and their corners stand here, not among walls, gaps and corners.",
		Fields: common(
			optionalSize("module", MM, "Module of a gear, in its normal section.", func(t *Teeth) Optional { return t.Module }),
			size("count", Count, "Number of teeth, as drawn.", func(t *Teeth) float64 { return t.Count }),
			number("helix", Deg, "Helix angle; 0 for straight teeth.", func(t *Teeth) float64 { return t.Helix }),
			number("tip_radius", MM, "Radius of the rounding at the tips, in plan; 0 when sharp.",
				func(t *Teeth) float64 { return t.TipRadius }),
			number("root_radius", MM, "Radius of the rounding at the roots, in plan; 0 when sharp. Where a gear's is not given, "+
				"the basic rack's 0.38 module as far as it fits.", func(t *Teeth) float64 { return t.RootRadius }),
			size("tip_thickness", MM, "Thickness of a tooth on its tip circle before the tip is rounded, straight across.",
				func(t *Teeth) float64 { return t.TipThickness }),
			optional("top_land", MM, "What a rim leaves of it at an end face, the least; 0 where nothing is left. Only where one is "+
				"treated.", func(t *Teeth) Optional { return t.TopLand }),
			size("space_width", MM,
				"Width of a tooth space at the root end of its flanks, where the rounding begins and flanks are nearest, "+
					"straight across.", func(t *Teeth) float64 { return t.SpaceWidth }),
			optionalSize("lead", MM, "Axial advance of the helix in one turn: pi times module and count over the sine of the helix angle. "+
				"Absent for straight teeth.", func(t *Teeth) Optional { return t.Lead }),
			optional("root_wall", MM,
				"Least material between the teeth and another boundary, or, where less, the distance in plan to a wall "+
					"that stands up from their end face, such as a hub's; 0 where that wall runs through the teeth. "+
					"Absent where there is neither.", func(t *Teeth) Optional { return t.RootWall }),
			texts("root_wall_to", "What stands at the other side of the root wall, in order of declaration.",
				func(t *Teeth) []string { return t.RootWallTo }),
			optionalSize("root_ratio", Ratio, "Height of the teeth over their root wall, where that is to a void or the outside; absent "+
				"toward a hub.", func(t *Teeth) Optional { return t.RootRatio }),
			boolean("internal", "They stand inward, round a cut.", func(t *Teeth) bool { return t.Internal }),
		)}

	PunchKind = &Kind{Name: "punch", List: "punches",
		Doc: "Upper or lower punch: it forms one or several levels of a side, or the floor of a deep blind hole.",
		Fields: common(
			text("face", "The side of the part it forms.", func(p *Punch) string { return p.Face }, "top", "bottom"),
			size("area", MM2, "Area of its plan, with the bosses, grooves and pins in its face.", func(p *Punch) float64 { return p.Area }),
			size("section", MM,
				"Thinnest neck of its plan; teeth do not count among themselves. The widest circle in it where it has no neck.",
				func(p *Punch) float64 { return p.Section }),
			optionalSize("step_section", MM, "Thinnest neck of its plan with an end on a neighbouring punch, "+
				"of a projection of its face with an end on a step, or beside a pocket for a boss; those to teeth are root walls.",
				func(p *Punch) Optional { return p.StepSection }),
			optionalSize("fill", MM, "Of a lower punch: depth of loose powder over it, the mean over its plan.",
				func(p *Punch) Optional { return p.Fill }),
			optional("stroke", MM, "Way by which it closes on the powder: of a lower punch fill less height, the mean; "+
				"of an upper one the least over its columns.", func(p *Punch) Optional { return p.Stroke }),
			optional("stroke_loosest", MM, "The stroke with powder as loose as it comes: at the limit apparent_least. Only of iron and "+
				"steel powders.", func(p *Punch) Optional { return p.StrokeLoosest }),
			optional("height_share", Ratio, "Of a lower punch: the difference of the greatest and the least mean height of the columns "+
				"over it, over the greatest; columns narrower than 2 mm, and those that end on a slope, do not count.",
				func(p *Punch) Optional { return p.HeightShare }),
			optionalSize("pocket_ratio", Ratio, "Of the pockets in its face for bosses: the greatest rise of one over the thinnest neck "+
				"of the face beside one.", func(p *Punch) Optional { return p.PocketRatio }),
			optionalSize("buckling_share", Ratio, "Force on a connected region of its plan over that at which it buckles: pi2 E I / L2, "+
				"with E 210,000 MPa, I the least second moment of the region, L its fill or, of an upper one, its stroke, and 30 mm. "+
				"The greatest; of regions without a hole alone.", func(p *Punch) Optional { return p.BucklingShare }),
			boolean("upper", "It comes from above.", func(p *Punch) bool { return p.Upper }),
			optionalSize("pressure", MPa, "Pressure at its face, wall friction included.", func(p *Punch) Optional { return p.Pressure }),
			optionalSize("force", KN, "Area times pressure.", func(p *Punch) Optional { return p.Force }),
			number("level", MM, "Height along the axis of its largest level.", func(p *Punch) float64 { return p.Level }),
		)}

	CoreKind = &Kind{Name: "core", List: "cores",
		Doc:     "Core rod of a through-hole.",
		Outline: "The area of its hole.",
		Fields: common(
			size("width", MM, "Diameter of the largest circle that fits its plan.", func(c *Core) float64 { return c.Width }),
			size("length", MM, "Length over which it forms the hole, as pressed: the depth of the hole.",
				func(c *Core) float64 { return c.Length }),
			size("slenderness", Ratio, "Length over width.", func(c *Core) float64 { return c.Slenderness }),
			optionalSize("tension", MPa, "Tension in it when the part is stripped from it: friction times the radial stress that is "+
				"left, on its wall, over its area.", func(c *Core) Optional { return c.Tension }),
		)}

	PressKind = &Kind{Name: "press", List: "presses",
		Doc: "The press of the packs in force: the smallest that serves, " +
			"else the one that comes nearest. None where the packs list none, or the force is not known.",
		Fields: common(
			size("capacity", KN, "Its capacity.", func(p *Press) float64 { return p.Capacity }),
			size("load", Ratio, "Force of the part over its capacity.", func(p *Press) float64 { return p.Load }),
			size("fill", MM, "Its deepest fill.", func(p *Press) float64 { return p.Fill }),
			size("fill_share", Ratio, "Deepest fill of the part over its deepest fill.", func(p *Press) float64 { return p.FillShare }),
			size("ejection", KN, "Its ejection force.", func(p *Press) float64 { return p.Ejection }),
			size("ejection_share", Ratio, "Force to eject the part over its ejection force.",
				func(p *Press) float64 { return p.EjectionShare }),
			size("upper", Count, "Punches it drives from above.", func(p *Press) float64 { return p.Upper }),
			size("lower", Count, "Punches it drives from below.", func(p *Press) float64 { return p.Lower }),
			boolean("serves", "It offers all that the part needs, at no more than the load that is used.",
				func(p *Press) bool { return p.Serves }),
		)}

	FinishedKind = &Kind{Name: "finished", List: "finished",
		Doc: "The part after machining, sizing and grinding: with the cuts made then and the features across the axis, without stock. " +
			"None of a part that is finished as pressed.",
		Fields: common(
			size("height", MM, "Overall height along the pressing axis.", func(f *Finished) float64 { return f.Height }),
			size("volume", MM3, "Volume of the finished part, to the drawn sizes.", func(f *Finished) float64 { return f.Volume }),
			optionalSize("mass", Gram, "Volume times sintered density.", func(f *Finished) Optional { return f.Mass }),
			size("plan_area", MM2, "Area seen along the pressing axis, through-holes out.",
				func(f *Finished) float64 { return f.PlanArea }),
			size("surface", MM2, "Whole surface: end faces and walls.", func(f *Finished) float64 { return f.Surface }),
		)}

	BulgeKind = &Kind{Name: "bulge", List: "bulges",
		Doc: "Where a ball, or another body that narrows both upward and downward, is widest on the outside of the part.",
		Fields: common(
			number("band", MM, "Height of the upright wall there; 0 where there is none.", func(b *Bulge) float64 { return b.Band }),
			number("lip", Deg, "Least angle from the pressing axis at which a slope comes to the band: for a ball the angle whose sine is "+
				"band over diameter. The punch ends in so sharp a lip.", func(b *Bulge) float64 { return b.Lip }),
		)}

	PowderKind = &Kind{Name: "powder", List: "powders",
		Doc: "The material that the part file names; none where it names none.",
		Fields: common(
			boolean("known", "A pack in force has it.", func(p *Powder) bool { return p.Known }),
			texts("nearest", "Where it is not known: the names of materials most like it.", func(p *Powder) []string { return p.Nearest }),
		)}

	PartKind = &Kind{Name: "part", List: "parts",
		Doc: "The whole part, as pressed.", Fields: whole(
			label("title", "Title of the drawing; empty where the part file gives none.", func(p *Part) string { return p.Title }),
			label("drawing", "Number of the drawing; empty where the part file gives none.", func(p *Part) string { return p.Drawing }),
			label("revision", "Revision of the drawing; empty where the part file gives none.", func(p *Part) string { return p.Revision }),
			label("customer", "Whom the part is made for; empty where the part file does not say.",
				func(p *Part) string { return p.Customer }),
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
			size("punches_top", Count, "Upper punches: one for the top levels that can share it, and one for each deep blind hole.",
				func(p *Part) float64 { return p.PunchesTop }),
			size("punches_bottom", Count, "Lower punches, likewise; shelves in the die are none.",
				func(p *Part) float64 { return p.PunchesBottom }),
			size("class", Count, "Class of the part, 1 to 4, by N = upper and lower punches and shelves in the die, less one: "+
				"N 1 is class 1 to a height of 7.5 mm and 2 above, N 2 is class 3, more are 4.", func(p *Part) float64 { return p.Class }),
			optionalSize("density", Density, "Sintered density the part file states.", func(p *Part) Optional { return p.Density }),
			optionalSize("green_density", Density, "Density as pressed: the sintered one, less what the change of size adds and the "+
				"lubricant takes.", func(p *Part) Optional { return p.GreenDensity }), optionalSize("green_strength", MPa,
				"Strength as pressed, by the powder's own line over green density.", func(p *Part) Optional { return p.GreenStrength }),
			optionalSize("force", KN, "Force to press it: that of all upper punches.", func(p *Part) Optional { return p.Force }),
			optional("porosity", Ratio, "Share of pores in the sintered part: 1 less density over the density without pores.",
				func(p *Part) Optional { return p.Porosity }),
			optional("band", MM,
				"Height of the upright wall where a ball, or another body that narrows both upward and downward, is widest, "+
					"the least of several; 0 where there is none. Absent without such a body on the outside.",
				func(p *Part) Optional { return p.Band }),
			text("pressing", "The ends from which the powder is pressed.", func(p *Part) string { return p.Pressing }, "both", "top"),
			text("way_up", "How it lies in the die: the better of both ways by what docs/tooling.md says, or as the part file has it.",
				func(p *Part) string { return p.WayUp }, "as-drawn", "turned-over"),
			boolean("turned_better", "The part file says the way up, and it has a fault that the other one has not.",
				func(p *Part) bool { return p.TurnedBetter }),
			optional("moved_volume", MM3, "Loose powder that must come to columns from beside: over each column its area times what its "+
				"height times green over apparent density is more than its fill.", func(p *Part) Optional { return p.Moved }),
			boolean("sized", "It is sized after sintering.", func(p *Part) bool { return p.Sized }),
			optionalSize("quantity", Count, "Parts a year.", func(p *Part) Optional { return p.Quantity }),
			texts("open_joints", "Corners where two features meet and the part file gives no blend radius; what a slope of over "+
				"30 degrees makes is no edge of a die.",
				func(p *Part) []string { return p.OpenJoints }),
			list(WallKind, func(p *Part) []*Wall { return p.Walls }),
			list(HoleKind, func(p *Part) []*Hole { return p.Holes }),
			list(GapKind, func(p *Part) []*Gap { return p.Gaps }),
			list(CornerKind, func(p *Part) []*Corner { return p.Corners }),
			list(LevelKind, func(p *Part) []*Level { return p.Levels }),
			list(StepKind, func(p *Part) []*Step { return p.Steps }),
			list(TrapKind, func(p *Part) []*Trap { return p.Traps }),
			list(CrossingKind, func(p *Part) []*Crossing { return p.Crossings }),
			list(ReliefKind, func(p *Part) []*Relief { return p.Reliefs }),
			list(ColumnKind, func(p *Part) []*Column { return p.Columns }),
			list(FeatherKind, func(p *Part) []*Feather { return p.Feathers }),
			list(FlangeKind, func(p *Part) []*Flange { return p.Flanges }),
			list(BossKind, func(p *Part) []*Boss { return p.Bosses }),
			list(GrooveKind, func(p *Part) []*Groove { return p.Grooves }),
			list(TaperKind, func(p *Part) []*Taper { return p.Tapers }),
			list(RimKind, func(p *Part) []*Rim { return p.Rims }),
			list(MarkKind, func(p *Part) []*Mark { return p.Marks }),
			list(DimensionKind, func(p *Part) []*Dimension { return p.Dimensions }),
			list(TeethKind, func(p *Part) []*Teeth { return p.Teeth }),
			list(PunchKind, func(p *Part) []*Punch { return p.Punches }),
			list(CoreKind, func(p *Part) []*Core { return p.Cores }),
			list(PressKind, func(p *Part) []*Press { return p.Presses }),
			list(FinishedKind, func(p *Part) []*Finished { return p.Finished }),
			list(BulgeKind, func(p *Part) []*Bulge { return p.Bulges }),
			list(PowderKind, func(p *Part) []*Powder { return p.Powders }),
		)}
)

// members are the tool members that form walls.
var members = []string{"die", "core-rod", "upper-punch", "lower-punch"}

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
	if name == PartKind.Name {
		return PartKind
	}
	for i := range PartKind.Fields {
		if k := PartKind.Fields[i].Of; k != nil && k.Name == name {
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
