package parts

import (
	"corerod/parts/source"
)

var sideKinds = []string{"hole", "groove", "thread", "knurl", "flat"}

func (r *reader) side(name string, at Place, n *source.Node) {
	what := "the side feature " + name
	if !r.Map(n, what, forms().side.Known()...) {
		return
	}
	s := Side{Name: name, Place: at, MadeBy: "pressing"}
	if v := r.Require(n, what, "in"); v != nil {
		s.In, _ = r.featureName(v)
	}
	if v := n.At("made_by"); v != nil {
		if w, ok := r.Word(v, "made_by", "pressing", "machining", "sizing"); ok {
			s.MadeBy = w
		}
	}
	kind := r.sole(n, what, "kind", sideKinds, nil)
	if kind == nil {
		return
	}
	s.Kind = kind.Value
	r.sideFields(&s, n.At(s.Kind))
	r.part.Sides = append(r.part.Sides, s)
}

func (r *reader) sideFields(s *Side, n *source.Node) {
	what := "a " + s.Kind
	form := forms().sides[s.Kind]
	if !r.Map(n, what, form.Known()...) {
		return
	}
	for _, k := range form.Keys {
		key, v := k.Name, n.At(k.Name)
		if v == nil {
			if k.Required {
				r.Require(n, what, key)
			}
			continue
		}
		switch key {
		case "diameter", "width":
			s.Width = r.size(v, key)
		case "depth":
			s.Depth = r.size(v, key)
		case "distance":
			s.Away = r.size(v, key)
		case "z":
			s.At = r.length(v, key)
		case "toward":
			s.Toward = r.angle(v, key, -360, 360)
		case "size":
			s.Size, _ = r.Text(v, key)
		case "inside":
			s.Inside, _ = r.Boolean(v, key)
		case "pattern":
			w, _ := r.Word(v, key, "straight", "crossed")
			s.Crossed = w == "crossed"
		}
	}
}
