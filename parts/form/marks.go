package form

import (
	"corerod/parts"
	"corerod/parts/source"
)

func mark(p *parts.Part) *Form {
	var m parts.Mark
	f := &Form{Doc: "Lettering or a logo on an end face.", Type: source.FormMap, called: "the mark",
		Sole: []Group{{"height", []string{"raised", "recessed"}}},
		Keys: []Key{must("on", face(&m.On, "The face: NAME.top or NAME.bottom.")), may("raised", size(&m.Rise, "Its height.").lies(AlongZ)),
			may("recessed", size(func(v float64) { m.Rise = -v }, "Its depth.").lies(AlongZ)),
			must("box", tuple("[x, y, length, width]; x and y of its centre.",
				"four numbers, [x, y, length, width] with x and y of its centre",
				length(&m.At.X, "").lies(X), length(&m.At.Y, "").lies(Y), size(&m.Length, ""), size(&m.Width, ""))),
			may("text", text(&m.Text, "What it says.").later()), may("made_by", madeBy(&m.MadeBy)),
			maybe("repeat", func() *Form { return repeat(&m.Repeat) })}}
	f.begin = func(name string, at parts.Place) { m.Name, m.Place = name, at }
	f.done = func(_ *reader, _ *source.Node, _ bool) {
		for i := range m.Repeat {
			m.Repeat[i].Upright = m.Repeat[i].Polar // a box lies along x and y
		}
		p.Marks = append(p.Marks, m)
	}
	return f
}
