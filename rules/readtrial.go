package rules

import (
	"path"
	"strings"

	"corerod/parts/source"
)

// Trial is one part on which a rule must find what the pack says.
type Trial struct {
	Rule    string
	Part    string // file of the part, below the pack's folder
	Set     []Setting
	Presses map[string]*Press // that are offered in this trial
	Finds   Grade             // "" for none
	Origin  Origin
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
		if !r.Map(it, "a trial", "rule", "part", "set", "presses", "finds") {
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
		if v := it.At("presses"); v != nil {
			t.Presses = r.trialPresses(it)
		}
		if v := r.Require(it, "a trial", "finds"); v != nil {
			if w, ok := r.Word(v, "`finds`", string(Stop), string(Change), string(Ask), none); ok && w != none {
				t.Finds = Grade(w)
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
	if s == "" || path.IsAbs(s) || strings.Contains(s, `\`) || strings.Contains(s, ":") || path.Clean(s) != s || s == ".." || strings.HasPrefix(s, "../") {
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

// trialPresses reads the presses that one trial offers.
func (r *reading) trialPresses(it *source.Node) map[string]*Press {
	own := &reading{Reader: source.Reader{File: r.File}, pack: &Pack{Presses: map[string]*Press{}, refused: map[string]bool{}}, units: r.units}
	own.section(it, "presses", "a press", isStockName, own.press)
	r.Problems = append(r.Problems, own.Problems...)
	return own.pack.Presses
}
