package data

import (
	"io"

	"corerod/checker/prove"
	"corerod/checker/report/words"
	"corerod/parts/stock"
	"corerod/rules"
)

type jsonPackShow struct {
	Packs     []jsonPack      `json:"packs"`
	Limits    []jsonLimit     `json:"limits"`
	Tables    []jsonTable     `json:"tables"`
	Materials []jsonMaterial  `json:"materials"`
	Rules     []jsonRuleShown `json:"rules"`
}

// jsonOrigin is where a figure stands and on what.
type jsonOrigin struct {
	Pack   string `json:"pack"`
	File   string `json:"file"`
	Line   int    `json:"line"`
	Source string `json:"source"`
	Basis  string `json:"basis"`
	Note   string `json:"note"`
}

type jsonLimit struct {
	Limit string `json:"limit"`
	Value number `json:"value"`
	Unit  string `json:"unit"`
	jsonOrigin
}

type jsonTable struct {
	Table   string      `json:"table"`
	X       string      `json:"x"`
	XUnit   string      `json:"x_unit"`
	Y       string      `json:"y"`
	Unit    string      `json:"unit"`
	Between string      `json:"between"`
	Rows    [][2]number `json:"rows"`
	jsonOrigin
}

type jsonMaterial struct {
	Material      string     `json:"material"`
	Density       *[2]number `json:"density"`
	Apparent      *number    `json:"apparent"`
	PoreFree      *number    `json:"pore_free"`
	PoreFreeGreen *number    `json:"pore_free_green"`
	SizeChange    *[2]number `json:"size_change"`
	Lubricant     *number    `json:"lubricant"`
	Family        string     `json:"family"`
	Curve         string     `json:"curve"`
	jsonOrigin
}

type jsonRuleShown struct {
	Rule    string       `json:"rule"`
	Title   string       `json:"title"`
	Stage   string       `json:"stage"`
	Over    string       `json:"over"`
	When    string       `json:"when"`
	Need    []jsonNeed   `json:"need"`
	Limits  []string     `json:"limits"`
	Tables  []string     `json:"tables"`
	Says    string       `json:"says"`
	Because string       `json:"because"`
	Change  string       `json:"change"`
	Sources []jsonSource `json:"sources"`
	Since   string       `json:"since"`
	Pack    string       `json:"pack"`
	File    string       `json:"file"`
	Line    int          `json:"line"`
	Fails   *jsonTrial   `json:"fails"`
	Misses  *jsonTrial   `json:"near_miss"`
}

type jsonNeed struct {
	Grade string `json:"grade"`
	That  string `json:"that"`
}

type jsonTrial struct {
	Part    string            `json:"part"`
	Set     map[string]string `json:"set"`
	Finds   string            `json:"finds"`
	Figures []string          `json:"figures"`
}

func origin(o rules.Origin, key string, basis stock.Basis, note string) jsonOrigin {
	return jsonOrigin{o.Pack, o.File, o.Line, key, string(basis), note}
}

// Pack writes a pack, or some of its rules in full, for machines.
func Pack(w io.Writer, p *rules.Pack, entries []prove.Entry) error {
	out := jsonPackShow{Packs: []jsonPack{}, Limits: []jsonLimit{}, Tables: []jsonTable{}, Materials: []jsonMaterial{},
		Rules: []jsonRuleShown{}}
	for _, q := range p.All() {
		out.Packs = append(out.Packs, jsonPack{q.Name, q.Version, q.Digest})
	}
	for _, l := range words.Limits(p) {
		out.Limits = append(out.Limits, jsonLimit{l.Name, number(l.Value), l.Unit, origin(l.Origin, l.Source, l.Basis, l.Note)})
	}
	for _, x := range words.Tables(p) {
		j := jsonTable{Table: x.Name, X: x.X, XUnit: x.XUnit, Y: x.Y, Unit: x.YUnit, Between: string(x.Between),
			jsonOrigin: origin(x.Origin, x.Source, x.Basis, x.Note)}
		for _, r := range x.Rows {
			j.Rows = append(j.Rows, [2]number{number(r[0]), number(r[1])})
		}
		out.Tables = append(out.Tables, j)
	}
	for _, m := range words.Materials(p) {
		out.Materials = append(out.Materials, jsonMaterial{m.Name, pair(m.DensityLow, m.DensityHigh), figureJSON(m.Apparent),
			figureJSON(m.PoreFree), figureJSON(m.PoreFreeGreen), pair(m.SizeChangeLow, m.SizeChangeHigh), figureJSON(m.Lubricant),
			m.Family, m.Curve,
			origin(m.Origin, m.Source, m.Basis, m.Note)})
	}
	for i := range entries {
		out.Rules = append(out.Rules, entryJSON(&entries[i]))
	}
	return indented(w, out)
}

func figureJSON(f stock.Figure) *number {
	if !f.Known {
		return nil
	}
	v := number(f.Value)
	return &v
}

func pair(a, b stock.Figure) *[2]number {
	if !a.Known || !b.Known {
		return nil
	}
	return &[2]number{number(a.Value), number(b.Value)}
}

func entryJSON(e *prove.Entry) jsonRuleShown {
	r := e.Rule
	j := jsonRuleShown{Rule: r.Name, Title: r.Title, Stage: r.Stage, Over: r.Over, When: words.OneLine(r.When), Need: []jsonNeed{},
		Limits: []string{}, Tables: []string{},
		Says: r.Says, Because: r.Because, Change: r.Change, Sources: []jsonSource{},
		Since: r.Since, Pack: r.From.Name, File: r.File, Line: r.Line,
		Fails: trialJSON(e.Fails), Misses: trialJSON(e.Misses)}
	for _, n := range r.Needs {
		j.Need = append(j.Need, jsonNeed{string(n.Grade), words.OneLine(n.That)})
	}
	for _, l := range e.Limits {
		j.Limits = append(j.Limits, l.Name)
	}
	for _, t := range e.Tables {
		j.Tables = append(j.Tables, t.Name)
	}
	for _, c := range r.Sources {
		j.Sources = append(j.Sources, jsonSource{c.Key, string(c.Basis)})
	}
	return j
}

func trialJSON(x *prove.Tried) *jsonTrial {
	if x == nil {
		return nil
	}
	j := &jsonTrial{Part: x.Trial.Part, Set: map[string]string{}, Finds: "none", Figures: words.TrialFigures(x)}
	if x.Finds != "" {
		j.Finds = string(x.Finds)
	}
	for _, s := range x.Trial.Set {
		j.Set[s.Path] = words.Node(s.Value)
	}
	return j
}
