package report

import (
	"bytes"
	"cmp"
	"encoding/json"
	"fmt"
	"io"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf16"

	"corerod/checker"
	"corerod/parts/subject"
	"corerod/parts/tooling"
	"corerod/rules"
)

// Version of the program, and of the machine format.
const (
	Version = "0.1.0"
	Format  = 1
)

// number writes a float with at most 12 significant digits, and zero without a sign.
type number float64

// MarshalJSON implements json.Marshaler.
func (n number) MarshalJSON() ([]byte, error) {
	v, err := strconv.ParseFloat(strconv.FormatFloat(float64(n), 'g', 12, 64), 64)
	if err != nil {
		return nil, err
	}
	return json.Marshal(v + 0) // + 0 turns a negative zero into zero
}

func optional(o subject.Optional) *number {
	if !o.Known {
		return nil
	}
	v := number(o.Value)
	return &v
}

type jsonReview struct {
	Corerod jsonVersion      `json:"corerod"`
	InForce jsonInForce      `json:"in_force"`
	Parts   many[jsonPart]   `json:"parts"`
	Unread  many[jsonUnread] `json:"unread"`
	Earlier *jsonAgainst     `json:"earlier"`
	Lot     *jsonLot         `json:"lot,omitempty"`
	Status  int              `json:"status"`
}

// jsonLot is the share of a set that was reviewed.
type jsonLot struct {
	Lot  int `json:"lot"`
	Lots int `json:"lots"`
}

type jsonVersion struct {
	Version string `json:"version"`
	Format  int    `json:"format"`
}

// jsonForce is what a result stands on.
type jsonForce struct {
	Packs      many[jsonPack]     `json:"packs"`
	ShopFile   *string            `json:"shop_file"`
	ShopSHA256 *string            `json:"shop_sha256"`
	LeftOut    many[jsonLeftOut]  `json:"left_out"`
	Regraded   many[jsonRegraded] `json:"regraded"`
}

type jsonInForce struct {
	jsonForce
	Concessions       *string  `json:"concessions"`
	ConcessionsSHA256 *string  `json:"concessions_sha256"`
	NotInForce        []string `json:"not_in_force"`
	StatusAt          string   `json:"status_at"`
}

// forceJSON names packs with those they build on, what they leave out and change, and the shop file.
func forceJSON(packs []*rules.Pack, shop *rules.Shop) jsonForce {
	j := jsonForce{Packs: []jsonPack{}, LeftOut: []jsonLeftOut{}, Regraded: []jsonRegraded{}}
	for _, p := range rules.InForce(packs) {
		j.Packs = append(j.Packs, jsonPack{p.Name, p.Version, p.Digest})
	}
	if shop != nil {
		j.ShopFile, j.ShopSHA256 = &shop.File, &shop.SHA256
	}
	for _, p := range packs {
		for _, x := range p.LeftOut {
			j.LeftOut = append(j.LeftOut, jsonLeftOut{x.Rule, x.Reason, x.Pack})
		}
		for _, x := range p.Regraded {
			j.Regraded = append(j.Regraded, jsonRegraded{x.Rule, string(x.Grade), x.Pack})
		}
	}
	return j
}

type jsonLeftOut struct {
	Rule   string `json:"rule"`
	Reason string `json:"reason"`
	Pack   string `json:"pack"`
}

type jsonRegraded struct {
	Rule  string `json:"rule"`
	Grade string `json:"grade"`
	Pack  string `json:"pack"`
}

type jsonPack struct {
	Pack    string `json:"pack"`
	Version string `json:"version"`
	SHA256  string `json:"sha256"`
}

type jsonPart struct {
	File     string               `json:"file"`
	Part     string               `json:"part"`
	Drawing  string               `json:"drawing"`
	Revision string               `json:"revision"`
	Grade    string               `json:"grade"`
	Figures  jsonFigures          `json:"figures"`
	Rules    jsonRules            `json:"rules"`
	Findings many[jsonFinding]    `json:"findings"`
	Notes    many[jsonNote]       `json:"notes"`
	Assumed  many[jsonAssumed]    `json:"assumed"`
	Search   *jsonSearch          `json:"search"`
	Conceded many[jsonConcession] `json:"concessions"`
	States   jsonStates           `json:"states"`
	Since    *jsonSince           `json:"since"`
	Account  many[jsonJudged]     `json:"account,omitempty"`
}

type jsonJudged struct {
	Rule     string `json:"rule"`
	Subjects int    `json:"subjects"`
	Applied  int    `json:"applied"`
	Found    int    `json:"found"`
	Why      string `json:"why"`
}

type jsonFigures struct {
	Height   number  `json:"height"`
	Mass     *number `json:"mass"`
	Volume   number  `json:"volume"`
	PlanArea number  `json:"plan_area"`
	Class    number  `json:"class"`
	Force    *number `json:"force"`
}

type jsonRules struct {
	Applied       int `json:"applied"`
	NotApplicable int `json:"not_applicable"`
}

type jsonFinding struct {
	ID       string             `json:"id"`
	Rule     string             `json:"rule"`
	Stage    string             `json:"stage"`
	Grade    string             `json:"grade"`
	Since    string             `json:"since"`
	Pack     string             `json:"pack"`
	Subject  jsonSubject        `json:"subject"`
	Features []string           `json:"features"`
	Count    int                `json:"count"`
	Places   many[jsonPlace]    `json:"places"`
	At       jsonAt             `json:"at"`
	Related  many[jsonRelated]  `json:"related"`
	Says     string             `json:"says"`
	Because  string             `json:"because"`
	Change   string             `json:"change"`
	Compared many[jsonCompared] `json:"compared"`
	More     int                `json:"more"`
	Sources  many[jsonSource]   `json:"sources"`
	Changes  many[jsonChange]   `json:"changes"`
	Conceded *jsonConcession    `json:"concession"`
}

type jsonSubject struct {
	Kind string `json:"kind"`
	Name string `json:"name"`
}

type jsonPlace struct {
	X number    `json:"x"`
	Y number    `json:"y"`
	Z [2]number `json:"z"`
}

type jsonAt struct {
	Line   int    `json:"line"`
	Column int    `json:"column"`
	Path   string `json:"path"`
	jsonPlace
}

type jsonRelated struct {
	Line int    `json:"line"`
	Path string `json:"path"`
}

type jsonCompared struct {
	Measure  string  `json:"measure"`
	Value    any     `json:"value"`
	Needs    string  `json:"needs"`
	Limit    any     `json:"limit"`
	From     string  `json:"from"`
	Unit     string  `json:"unit"`
	MissesBy *number `json:"misses_by"`
	AnyOf    int     `json:"any_of,omitempty"`
	Together int     `json:"together,omitempty"`
}

type jsonSource struct {
	Key   string `json:"key"`
	Basis string `json:"basis"`
}

type jsonNote struct {
	Says    string      `json:"says"`
	Subject jsonSubject `json:"subject"`
	At      struct {
		Line int `json:"line"`
	} `json:"at"`
}

type jsonAssumed struct {
	What  string `json:"what"`
	Value number `json:"value"`
	Unit  string `json:"unit"`
	Basis string `json:"basis"`
	From  string `json:"from"`
}

// assumedJSON lists the figures that a layout stands on and the drawing does not state.
func assumedJSON(l *tooling.Layout) []jsonAssumed {
	all := []jsonAssumed{}
	for _, a := range l.Assumed {
		all = append(all, jsonAssumed{a.What, number(a.Value), a.Unit, string(a.Basis), a.From})
	}
	return all
}

type jsonUnread struct {
	File    string `json:"file"`
	Line    int    `json:"line"`
	Column  int    `json:"column"`
	Message string `json:"message"`
}

// inForceJSON tells what a review stands on.
func inForceJSON(r *checker.Review) jsonInForce {
	j := jsonInForce{jsonForce: forceJSON(r.Packs, r.Shop), NotInForce: append([]string{}, r.NotInForce...), StatusAt: string(r.StatusAt)}
	if r.Concede != nil {
		j.Concessions, j.ConcessionsSHA256 = &r.Concede.File, &r.Concede.SHA256
	}
	return j
}

func indented(w io.Writer, v any) error {
	b, err := json.MarshalIndent(v, "", "  ")
	if err != nil {
		return err
	}
	_, err = io.WriteString(w, visible(string(b))+"\n")
	return err
}

// visible writes characters that nobody sees, or that show others in another order, as JSON's escapes.
func visible(s string) string {
	unseen := func(r rune) bool { return unicode.Is(unicode.Cf, r) || unicode.IsControl(r) && r != '\n' }
	if strings.IndexFunc(s, unseen) < 0 {
		return s
	}
	var b strings.Builder
	for _, r := range s {
		switch {
		case !unseen(r):
			b.WriteRune(r)
		case r > 0xffff:
			hi, lo := utf16.EncodeRune(r)
			fmt.Fprintf(&b, `\u%04x\u%04x`, hi, lo)
		default:
			fmt.Fprintf(&b, `\u%04x`, r)
		}
	}
	return b.String()
}

func partJSON(p *checker.PartReview, a *checker.Against) jsonPart {
	s := p.Subject
	j := jsonPart{
		File: p.File, Part: p.Part.Name, Drawing: p.Part.Drawing, Revision: p.Part.Revision, Grade: gradeWord(p.Grade),
		Figures:  jsonFigures{Height: number(s.Height), Mass: optional(s.Mass), Volume: number(s.Volume), PlanArea: number(s.PlanArea), Class: number(s.Class), Force: optional(s.Force)},
		Rules:    jsonRules{p.Applied, p.NotApplicable},
		Findings: []jsonFinding{}, Notes: []jsonNote{}, Assumed: assumedJSON(p.Layout), Search: searchJSON(p.Search), Conceded: concessionsJSON(p), States: statesJSON(checker.StatesOf(p.Part)), Since: sinceJSON(p, a),
	}
	for _, f := range p.Findings {
		j.Findings = append(j.Findings, findingJSON(f))
	}
	for _, n := range p.Notes {
		k := jsonNote{Says: n.Says, Subject: jsonSubject{n.Kind, n.Name}}
		k.At.Line = n.At.Line
		j.Notes = append(j.Notes, k)
	}
	for _, a := range p.Account {
		j.Account = append(j.Account, jsonJudged{a.Rule.Name, a.Subjects, a.Applied, a.Found, a.Why})
	}
	return j
}

func gradeWord(g rules.Grade) string { return cmp.Or(string(g), "clear") }

func findingJSON(f *checker.Finding) jsonFinding {
	c := f.Subject.Place()
	j := jsonFinding{
		ID: f.ID, Rule: f.Rule.Name, Stage: f.Rule.Stage, Grade: string(f.Grade), Since: string(f.Since), Pack: f.Rule.From.Name,
		Subject: jsonSubject{f.Subject.Kind().Name, c.Name}, Features: c.Features, Count: max(1, len(f.Places)), Places: []jsonPlace{},
		At:      jsonAt{f.At.Line, f.At.Column, f.At.Path, placeJSON(subject.Point{X: c.X, Y: c.Y, ZLow: c.ZLow, ZHigh: c.ZHigh})},
		Related: []jsonRelated{}, Says: f.Says, Because: f.Rule.Because, Change: f.Rule.Change,
		Compared: []jsonCompared{}, More: f.More, Sources: []jsonSource{}, Changes: changesJSON(f), Conceded: concessionJSON(f.Concession),
	}
	for _, p := range f.Places {
		j.Places = append(j.Places, placeJSON(p))
	}
	for _, r := range f.Related {
		j.Related = append(j.Related, jsonRelated{r.Line, r.Path})
	}
	for _, x := range f.Compared {
		k := jsonCompared{Measure: x.Measure, Value: anyJSON(x.Value), Needs: x.Needs, Limit: anyJSON(x.Limit), From: x.From, Unit: x.Unit, AnyOf: x.AnyOf, Together: x.Together}
		if x.MissesBy != nil {
			v := number(*x.MissesBy)
			k.MissesBy = &v
		}
		j.Compared = append(j.Compared, k)
	}
	for _, s := range f.Sources {
		j.Sources = append(j.Sources, jsonSource{s.Key, string(s.Basis)})
	}
	return j
}

func placeJSON(p subject.Point) jsonPlace {
	return jsonPlace{number(subject.Snap(p.X)), number(subject.Snap(p.Y)), [2]number{number(subject.Snap(p.ZLow)), number(subject.Snap(p.ZHigh))}}
}

// anyJSON gives numbers their 12 digits; text and booleans stay.
func anyJSON(v any) any {
	if f, ok := v.(float64); ok {
		return number(f)
	}
	return v
}

// Measures writes every subject and measure of a part, by the names that rules use; absent measures are left out. What was
// in force for it stands at the end.
func Measures(w io.Writer, p *subject.Part, packs []*rules.Pack, shop *rules.Shop) error {
	var b bytes.Buffer
	b.WriteString("{\n  \"part\": ")
	if err := subjectJSON(&b, p); err != nil {
		return err
	}
	for _, k := range subject.Kinds()[1:] {
		b.WriteString(",\n  \"" + k.List + "\": [")
		for i, s := range subject.Of(p, k) {
			if i > 0 {
				b.WriteByte(',')
			}
			b.WriteString("\n    ")
			if err := subjectJSON(&b, s); err != nil {
				return err
			}
		}
		if len(subject.Of(p, k)) > 0 {
			b.WriteString("\n  ")
		}
		b.WriteByte(']')
	}
	force, err := json.Marshal(forceJSON(packs, shop))
	if err != nil {
		return err
	}
	b.WriteString(",\n  \"in_force\": ")
	b.Write(force)
	b.WriteString("\n}\n")
	_, err = w.Write(b.Bytes())
	return err
}

// subjectJSON writes one subject's measures in the order of their declaration.
func subjectJSON(b *bytes.Buffer, s subject.Subject) error {
	b.WriteByte('{')
	write := func(key string, v any) error {
		text, err := json.Marshal(v)
		if err != nil {
			return err
		}
		if b.Bytes()[b.Len()-1] != '{' {
			b.WriteString(", ")
		}
		b.WriteString("\"" + key + "\": ")
		b.Write(text)
		return nil
	}
	for i := range s.Kind().Fields {
		f := &s.Kind().Fields[i]
		var v any
		switch f.Type {
		case subject.Number:
			n, known := f.Number(s)
			if !known {
				continue
			}
			v = number(n)
		case subject.Text:
			v = f.Text(s)
		case subject.Boolean:
			v = f.Boolean(s)
		case subject.Texts:
			v = append([]string{}, f.Texts(s)...)
		default:
			continue
		}
		if err := write(f.Name, v); err != nil {
			return err
		}
	}
	if ps := s.Place().Places; len(ps) > 0 {
		var all []jsonPlace
		for _, p := range ps {
			all = append(all, placeJSON(p))
		}
		if err := write("places", all); err != nil {
			return err
		}
	}
	b.WriteByte('}')
	return nil
}
