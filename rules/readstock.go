package rules

import (
	"slices"
	"strings"

	"corerod/parts/source"
	"corerod/parts/stock"
	"corerod/parts/subject"
)

// sizesFrom are the sizes from which a change of size counts.
var sizesFrom = []string{"die", "green"}

// isStockName tells whether s can name a material or press: a grade as the standards write it.
func isStockName(s string) bool { return named(s, lower+upper, lower+upper+digits+"-") }

// materialFigures are the figures of a material, of which single ones can stand on a basis of their own.
var materialFigures = []string{"density", "apparent", "pore_free", "pore_free_green", "size_change", "composition", "lubricant"}

func (r *reading) material(name, of *source.Node) {
	first := r.pack.Materials[name.Value]
	if first != nil && r.again(name, "the material", first.Origin, true) || !r.Map(of, "a material", forms().material.Known()...) {
		return
	}
	m := &StockMaterial{Name: name.Value, Origin: r.origin(name), stated: r.stated(of)}
	r.pack.Materials[name.Value] = m
	m.DensityLow, m.DensityHigh = r.span(of, "density", 0, 25)
	m.SizeChangeLow, m.SizeChangeHigh = r.span(of, "size_change", -50, 50)
	for _, f := range []struct {
		key  string
		to   *stock.Figure
		most float64
	}{{"apparent", &m.Apparent, 25}, {"pore_free", &m.PoreFree, 25}, {"pore_free_green", &m.PoreFreeGreen, 25},
		{"lubricant", &m.Lubricant, 10}} {
		if n := of.At(f.key); n != nil {
			*f.to = r.positive(n, "`"+f.key+"`", f.most)
		}
	}
	if n := of.At("pore_free"); n != nil && m.PoreFree.Known && m.DensityHigh.Known && m.PoreFree.Value < m.DensityHigh.Value {
		r.Report(n, "`pore_free` is %s, below the density %g; a sintered part cannot be denser than without pores", n.Value,
			m.DensityHigh.Value)
	}
	if n := of.At("composition"); n != nil {
		m.Composition = r.composition(n)
	}
	if !m.PoreFree.Known { // by the rule of mixtures
		m.PoreFree = stock.PoreFreeOf(m.Composition)
		m.PoreFree.Value = subject.Snap(m.PoreFree.Value)
	}
	mixed := map[string]bool{"pore_free": m.PoreFree.Known && of.At("pore_free") == nil}
	if !m.PoreFreeGreen.Known && of.At("pore_free_green") == nil && m.PoreFree.Known && m.Lubricant.Known {
		m.PoreFreeGreen = stock.Some(subject.Snap(stock.PoreFreeGreenOf(m.PoreFree.Value, m.Lubricant.Value)))
		mixed["pore_free_green"] = true
	}
	r.kind(m, of)
	m.Basis, m.Source = r.ground(of, "a material")
	m.Note = r.optional(of, "note")
	m.Bases = r.bases(of)
	for key, by := range mixed {
		if by {
			m.Bases[key] = stock.Derived
		}
	}
}

// kind reads what kind of material one is, and its curve.
func (r *reading) kind(m *StockMaterial, of *source.Node) {
	if n := of.At("family"); n != nil {
		m.Family, _ = r.Word(n, "`family`", stock.Families...)
	}
	if n := of.At("size_change_from"); n != nil {
		m.SizeChangeFrom, _ = r.Word(n, "`size_change_from`", sizesFrom...)
	}
	if n := of.At("curve"); n != nil {
		m.Curve, _ = r.Text(n, "`curve`")
	}
}

// stated finds the figures that a material gives, by their names in expressions.
func (r *reading) stated(of *source.Node) map[string]stated {
	all := map[string]stated{}
	add := func(field string, n *source.Node) {
		if n != nil && n.Shape == source.Scalar {
			all[field] = stated{lastDigit(n.Value), r.origin(n)}
		}
	}
	for _, key := range []string{"apparent", "pore_free", "pore_free_green"} {
		add(key, of.At(key))
	}
	for _, key := range []string{"density", "size_change"} {
		if n := of.At(key); n != nil && n.Shape == source.Sequence && len(n.Items) == 2 {
			add(key+"_low", n.Items[0])
			add(key+"_high", n.Items[1])
		}
	}
	return all
}

// positive reads a number above zero.
func (r *reading) positive(n *source.Node, what string, most float64) stock.Figure {
	v, ok := r.Number(n, what)
	if ok && (v <= 0 || v > most) {
		r.Report(n, "%s is %s; it must be above 0 and at most %g", what, source.Quote(n.Value), most)
		ok = false
	}
	if !ok {
		return stock.Figure{}
	}
	return stock.Some(subject.Snap(v))
}

// span reads two numbers, the lower first, between bounds.
func (r *reading) span(of *source.Node, key string, least, most float64) (low, high stock.Figure) {
	n := of.At(key)
	if n == nil {
		return low, high
	}
	items, ok := r.List(n, "`"+key+"`")
	if !ok {
		return low, high
	}
	if len(items) != 2 {
		r.Report(n, "`%s` has %d numbers; it needs two: [lowest, highest]", key, len(items))
		return low, high
	}
	a, ok1 := r.Number(items[0], "the lowest")
	b, ok2 := r.Number(items[1], "the highest")
	switch {
	case !ok1 || !ok2:
	case a > b:
		r.Report(n, "`%s` is [%s, %s]; the lowest stands first", key, items[0].Value, items[1].Value)
	case a <= least || b > most:
		r.Report(n, "`%s` is [%s, %s]; it must lie above %g and up to %g", key, items[0].Value, items[1].Value, least, most)
	default:
		return stock.Some(subject.Snap(a)), stock.Some(subject.Snap(b))
	}
	return low, high
}

// isSymbol tells whether s looks like the symbol of an element: Fe, C.
func isSymbol(s string) bool {
	return len(s) <= 2 && named(s, upper, upper+lower) && strings.Trim(s[1:], lower) == ""
}

// composition reads the elements of a material, in percent of the mass without lubricant.
func (r *reading) composition(n *source.Node) (all []stock.Share) {
	if n.Shape != source.Map {
		r.Report(n, "`composition` needs elements with percent, such as {Fe: 97.2, Cu: 2, C: 0.8}, not %s", n.Shape)
		return nil
	}
	sum := 0.0
	for i, k := range n.Keys {
		if !isSymbol(k.Value) {
			r.Report(k, "%s is no element; write its symbol, such as Fe", source.Quote(k.Value))
			continue
		}
		if f := r.positive(n.Items[i], "the percent of "+k.Value, 100); f.Known {
			all = append(all, stock.Share{Element: k.Value, Percent: f.Value})
			sum += f.Value
		}
	}
	if len(all) == len(n.Keys) && (sum < 99 || sum > 101) {
		r.Report(n, "the elements add up to %.4g percent; they must make 100", sum)
	}
	return all
}

// bases reads on what single figures stand, where that is not the basis of the material.
func (r *reading) bases(of *source.Node) map[string]stock.Basis {
	all := map[string]stock.Basis{}
	n := of.At("bases")
	if n == nil || !r.Map(n, "`bases`", materialFigures...) {
		return all
	}
	for i, k := range n.Keys {
		if w, ok := r.Word(n.Items[i], "the basis of `"+source.Plain(k.Value)+"`", stock.Bases...); ok {
			all[k.Value] = stock.Basis(w)
		}
		if slices.Contains(materialFigures, k.Value) && of.At(k.Value) == nil {
			r.Report(k, "the material has no `%s`; leave its basis out", k.Value)
		}
	}
	return all
}

func (r *reading) curve(name, of *source.Node) {
	first := r.pack.Curves[name.Value]
	if first != nil && r.again(name, "the curve", first.Origin, true) || !r.Map(of, "a curve", forms().curve.Known()...) {
		return
	}
	c := &Curve{Name: name.Value, Origin: r.origin(name)}
	r.pack.Curves[name.Value] = c
	if n := r.Require(of, "a curve", "points"); n != nil {
		c.Points = r.points(n, "points", [2]string{"pressure", "density"}, "[MPa, g/cm3]")
	}
	if n := of.At("strength"); n != nil {
		c.Strength = r.points(n, "strength", [2]string{"density", "strength"}, "[g/cm3, MPa]")
	}
	c.Basis, c.Source = r.ground(of, "a curve")
	c.Note = r.optional(of, "note")
}

// points reads the points of a curve, of which both numbers rise.
func (r *reading) points(n *source.Node, key string, what [2]string, units string) (all [][2]float64) {
	items, ok := r.List(n, "`"+key+"`")
	if ok && len(items) < 2 {
		r.Report(n, "`%s` has %d points; a curve needs at least two: %s", key, len(items), units)
	}
	for _, item := range items {
		cells, ok := r.List(item, "a point")
		if ok && len(cells) != 2 {
			r.Report(item, "a point has %d numbers; it needs two: %s", len(cells), units)
			ok = false
		}
		if !ok {
			continue
		}
		most := map[string]float64{"pressure": 1e5, "strength": 1e5, "density": 25}
		x, y := r.positive(cells[0], "the "+what[0], most[what[0]]), r.positive(cells[1], "the "+what[1], most[what[1]])
		if !x.Known || !y.Known {
			continue
		}
		if k := len(all) - 1; k >= 0 && (x.Value <= all[k][0] || y.Value <= all[k][1]) {
			r.Report(item, "the point [%s, %s] does not rise above the one before it; both %s and %s rise along a curve", cells[0].Value,
				cells[1].Value, what[0], what[1])
		}
		all = append(all, [2]float64{x.Value, y.Value})
	}
	return all
}

func (r *reading) press(name, of *source.Node) {
	first := r.pack.Presses[name.Value]
	if first != nil && r.again(name, "the press", first.Origin, true) || !r.Map(of, "a press", forms().press.Known()...) {
		return
	}
	p := &Press{Name: name.Value, Origin: r.origin(name)}
	r.pack.Presses[name.Value] = p
	for _, f := range []struct {
		key string
		to  *float64
	}{{"capacity", &p.Capacity}, {"fill", &p.Fill}, {"eject", &p.Eject}, {"upper", &p.Upper}, {"lower", &p.Lower},
		{"ejection_stroke", &p.EjectionStroke}} {
		if n := r.Require(of, "a press", f.key); n != nil {
			*f.to = r.positive(n, "`"+f.key+"`", 1e6).Value
			if (f.key == "upper" || f.key == "lower") && *f.to != float64(int(*f.to)) {
				r.Report(n, "`%s` is %s; punches are counted", f.key, source.Quote(n.Value))
			}
		}
	}
	p.Basis = stock.Shop
	if of.At("basis") != nil {
		p.Basis, p.Source = r.ground(of, "a press")
	} else if n := of.At("source"); n != nil {
		p.Source, _ = r.Text(n, "`source`")
	}
	p.Note = r.optional(of, "note")
}

// knownCurves reports curves that materials name and no file of the pack gives, once all files are read.
func (r *reading) knownCurves(root *source.Node) {
	for _, of := range itemsOf(root.At("materials")) {
		n := of.At("curve")
		if n == nil || n.Shape != source.Scalar || n.Null || r.pack.Curves[n.Value] != nil || r.pack.isRefused("curves", n.Value) {
			continue
		}
		if keys := sortedKeys(r.pack.Curves); len(keys) > 0 {
			r.Report(n, "unknown curve %s%s", source.Quote(n.Value), suggest(n.Value, keys))
		} else {
			r.Report(n, "unknown curve %s; give it in `curves`, or leave `curve` out: then pressure and force are not known",
				source.Quote(strings.TrimSpace(n.Value)))
		}
	}
}
