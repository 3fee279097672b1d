package rules

import "corerod/parts/source"

// Trial is one part on which a rule must find what the pack says.
type Trial struct {
	Rule   string
	Part   string // file of the part, below the pack's folder
	Set    []Setting
	Offers *Pack  // materials, curves and presses that are there in this trial, or nil
	Finds  Grade  // "" for none
	On     string // name of the subject that must be found, "" for any
	Origin Origin
}

// Setting is one value of a trial's part that differs from the file.
type Setting struct {
	Path   string
	Value  *source.Node // empty for one that is taken out
	Origin Origin
}

// none is what a near miss finds.
const none = "none"

// trials reads the trials of one file.
func (r *reading) trials(root *source.Node) {
	n := root.At("trials")
	if n == nil {
		return
	}
	items, _ := r.List(n, "`trials`")
	for _, it := range items {
		if !r.Map(it, "a trial", forms().trial.Known()...) {
			continue
		}
		before := len(r.Problems)
		t := Trial{Origin: r.origin(it)}
		if v := r.Require(it, "a trial", "rule"); v != nil {
			t.Rule, _ = r.Text(v, "`rule`")
		}
		if v := r.Require(it, "a trial", "part"); v != nil {
			t.Part = r.below(v)
		}
		if v := it.At("set"); v != nil {
			t.Set = r.settings(v)
		}
		t.Offers = r.offers(it)
		if v := r.Require(it, "a trial", "finds"); v != nil {
			if w, ok := r.Word(v, "`finds`", string(Stop), string(Change), string(Ask), none); ok && w != none {
				t.Finds = Grade(w)
			}
		}
		if v := it.At("on"); v != nil {
			if t.On, _ = r.Text(v, "`on`"); t.Finds == "" && len(r.Problems) == before {
				r.Report(v, "`on` names the subject that is found, and this trial finds none; leave `on` out")
			}
		}
		if len(r.Problems) == before {
			r.pack.Trials = append(r.pack.Trials, t)
		}
	}
}

// below reads the path of a file that lies below the pack's folder.
func (r *reading) below(n *source.Node) string {
	s, ok := r.Text(n, "`part`")
	if !ok {
		return ""
	}
	if !below(s) {
		r.Report(n, "`part` is %s; it must be the path of a file below the pack's folder, such as trials/plate.yaml", source.Quote(s))
	}
	return s
}

// settings reads what a trial changes in its part.
func (r *reading) settings(n *source.Node) (all []Setting) {
	if n.Shape != source.Map {
		r.Report(n, "`set` needs paths with values, such as {eye.at: [0, 7.1]}, not %s", n.Shape)
		return nil
	}
	for i, k := range n.Keys {
		all = append(all, Setting{k.Value, n.Items[i], r.origin(k)})
	}
	return all
}

// offers reads the materials, curves and presses that are there in one trial.
func (r *reading) offers(it *source.Node) *Pack {
	p := &Pack{Materials: map[string]*StockMaterial{}, Curves: map[string]*Curve{}, Presses: map[string]*Press{},
		refused: map[string]bool{}}
	own := &reading{Reader: source.Reader{File: r.File}, pack: p, units: r.units}
	own.section(it, "materials", "a material", isStockName, own.material)
	own.section(it, "curves", "a curve", source.IsName, own.curve)
	own.section(it, "presses", "a press", isStockName, own.press)
	own.knownCurves(it)
	r.Problems = append(r.Problems, own.Problems...)
	if len(p.Materials)+len(p.Curves)+len(p.Presses) == 0 {
		return nil
	}
	return p
}
