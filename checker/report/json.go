package report

import (
	"bytes"
	"cmp"
	"encoding/json"
	"fmt"
	"io"
	"strconv"
	"strings"
	"unicode/utf16"

	"corerod/checker"
	"corerod/parts/subject"
	"corerod/parts/tooling"
	"corerod/rules"
)

// Version of the program, and of the machine format.
const (
	Version = "0.1.0"
	Format  = 2
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
	Corerod jsonVersion      `json:"corerod" doc:"The program and the version of this format."`
	InForce jsonInForce      `json:"in_force" doc:"What the parts were judged by."`
	Parts   many[jsonPart]   `json:"parts" doc:"One entry for each part that was read, in the order of the arguments and, within a folder, of the names."`
	Unread  many[jsonUnread] `json:"unread" doc:"Problems of files and packs."`
	Passed  many[jsonPassed] `json:"passed_over" doc:"Folders and files that were not reviewed though a part may be in them."`
	Faults  many[string]     `json:"faults,omitempty" doc:"Faults of corerod itself, each with its part file; left out where there is none."`
	Earlier *jsonAgainst     `json:"earlier" doc:"The earlier review that this one is compared with; null for none."`
	Lot     *jsonLot         `json:"lot,omitempty" doc:"The share of the set that was reviewed; left out where it is the whole set."`
	Status  int              `json:"status" doc:"The exit status."`
}

// jsonLot is the share of a set that was reviewed.
type jsonLot struct {
	Lot  int `json:"lot" doc:"Which lot, from 1."`
	Lots int `json:"lots" doc:"How many lots the set has."`
}

type jsonVersion struct {
	Version string `json:"version" doc:"Version of the program."`
	Format  int    `json:"format" doc:"Version of this format; it rises when a reader must change."`
}

// jsonForce is what a result stands on.
type jsonForce struct {
	Packs      many[jsonPack]     `json:"packs" doc:"The packs, with those they build on."`
	ShopFile   *string            `json:"shop_file" doc:"The shop file; null for none."`
	ShopSHA256 *string            `json:"shop_sha256" doc:"Digest of the shop file."`
	LeftOut    many[jsonLeftOut]  `json:"left_out" doc:"Rules that packs leave out."`
	Regraded   many[jsonRegraded] `json:"regraded" doc:"Rules whose grade packs bound."`
}

type jsonInForce struct {
	jsonForce
	Concessions       *string              `json:"concessions" doc:"The file of concessions; null for none."`
	ConcessionsSHA256 *string              `json:"concessions_sha256" doc:"Digest of that file."`
	NotInForce        []string             `json:"not_in_force" doc:"Shop files, packs and concessions that the tree has otherwise than the folder of --rules-from; they do not hold."`
	StatusAt          string               `json:"status_at" doc:"The grade from which findings set status 1."`
	Others            many[jsonOtherForce] `json:"others,omitempty" doc:"What holds for parts under further shop files; left out where one holds for all."`
}

type jsonOtherForce struct {
	jsonForce
	Concessions       *string `json:"concessions" doc:"The file of concessions; null for none."`
	ConcessionsSHA256 *string `json:"concessions_sha256" doc:"Digest of that file."`
	StatusAt          string  `json:"status_at" doc:"The grade from which findings set status 1."`
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
	Rule   string `json:"rule" doc:"Name of the rule."`
	Reason string `json:"reason" doc:"Why it does not hold."`
	Pack   string `json:"pack" doc:"The pack that leaves it out."`
}

type jsonRegraded struct {
	Rule  string `json:"rule" doc:"Name of the rule."`
	Grade string `json:"grade" doc:"The worst grade of its findings."`
	Pack  string `json:"pack" doc:"The pack that says so."`
}

type jsonPack struct {
	Pack    string `json:"pack" doc:"Name of the pack."`
	Version string `json:"version" doc:"Its version."`
	SHA256  string `json:"sha256" doc:"Digest of its files."`
}

type jsonPart struct {
	File     string               `json:"file" doc:"The part file, as it was named."`
	Part     string               `json:"part" doc:"Name of the part."`
	Drawing  string               `json:"drawing" doc:"Number of the drawing, empty for none."`
	Revision string               `json:"revision" doc:"Revision of the drawing, empty for none."`
	Shop     *string              `json:"shop_file,omitempty" doc:"The shop file that holds for it; left out where one holds for all parts, empty for none."`
	Grade    string               `json:"grade" doc:"clear, or the worst grade of the findings."`
	Figures  jsonFigures          `json:"figures" doc:"Figures of the part."`
	Rules    jsonRules            `json:"rules" doc:"How many rules applied."`
	Findings many[jsonFinding]    `json:"findings" doc:"What was found, by place and rule."`
	Notes    many[jsonNote]       `json:"notes" doc:"Remarks without a grade."`
	Assumed  many[jsonAssumed]    `json:"assumed" doc:"Figures that force, green density and fill stand on and the drawing does not state."`
	Search   *jsonSearch          `json:"search" doc:"How changes were sought; null where none were."`
	Conceded many[jsonConcession] `json:"concessions" doc:"Records of concessions for the part, in the order of their file."`
	States   jsonStates           `json:"states" doc:"What the part file states of material and making, to compare later reviews with."`
	Since    *jsonSince           `json:"since" doc:"What became of the part since the earlier review; null without one."`
	Account  many[jsonJudged]     `json:"account,omitempty" doc:"Of every rule, by name, whether it applied; under --account only."`
}

type jsonJudged struct {
	Rule     string `json:"rule" doc:"Name of the rule."`
	Subjects int    `json:"subjects" doc:"How many subjects it was held against."`
	Applied  int    `json:"applied" doc:"To how many of them it applied."`
	Found    int    `json:"found" doc:"How many findings it made."`
	Why      string `json:"why" doc:"Why it did not apply, empty where it did."`
}

type jsonFigures struct {
	Height   number  `json:"height" doc:"Overall height along the pressing axis."`
	Mass     *number `json:"mass" doc:"Mass as sintered; null where no density is known."`
	Volume   number  `json:"volume" doc:"Volume as pressed, to the drawn sizes."`
	PlanArea number  `json:"plan_area" doc:"Area seen along the pressing axis, through-holes out."`
	Class    number  `json:"class" doc:"Class of the part, 1 to 4."`
	Force    *number `json:"force" doc:"Force to press, kN; null where it is not known."`
}

type jsonRules struct {
	Applied       int `json:"applied" doc:"Rules that applied to the part."`
	NotApplicable int `json:"not_applicable" doc:"Rules that did not."`
}

type jsonFinding struct {
	ID       string             `json:"id" doc:"The same finding keeps it when lines move."`
	Rule     string             `json:"rule" doc:"Name of the rule."`
	Stage    string             `json:"stage" doc:"When a part meets the rule: fill, press, eject, handle, sinter, size or tool."`
	Grade    string             `json:"grade" doc:"stop, change or ask."`
	Since    string             `json:"since" doc:"new, worsened or unchanged since the earlier review, empty without one."`
	Pack     string             `json:"pack" doc:"The pack of the rule."`
	Subject  jsonSubject        `json:"subject" doc:"What was found."`
	Over     *jsonOver          `json:"over" doc:"What the rule was judged on, where the finding is of elements of a list; null where it is the subject."`
	Features []string           `json:"features" doc:"The features of the part file that make the subject."`
	Count    int                `json:"count" doc:"At how many places the same stands."`
	Places   many[jsonPlace]    `json:"places" doc:"Every place where count is above 1, else empty."`
	At       jsonAt             `json:"at" doc:"Where it lies, in the file and on the part."`
	Related  many[jsonRelated]  `json:"related" doc:"Places of the other features."`
	Says     string             `json:"says" doc:"What is there."`
	Because  string             `json:"because" doc:"What happens in the die."`
	Change   string             `json:"change" doc:"What to draw instead."`
	Compared many[jsonCompared] `json:"compared" doc:"Each comparison that failed; of a list each element that fails."`
	Sources  many[jsonSource]   `json:"sources" doc:"What the finding stands on."`
	Changes  many[jsonChange]   `json:"changes" doc:"What clears it, checked by reviewing the changed part, best first."`
	Conceded *jsonConcession    `json:"concession" doc:"The record for it; null for none."`
}

type jsonSubject struct {
	Kind string `json:"kind" doc:"Kind of subject, such as wall."`
	Name string `json:"name" doc:"Its name."`
}

// jsonOver is what a rule was judged on.
type jsonOver struct {
	jsonSubject
	Features []string        `json:"features" doc:"The features that make it."`
	Places   many[jsonPlace] `json:"places" doc:"Where it stands, one place at least."`
}

type jsonPlace struct {
	X number    `json:"x" doc:"In the plan."`
	Y number    `json:"y" doc:"In the plan."`
	Z [2]number `json:"z" doc:"Along the pressing axis, from low to high."`
}

type jsonAt struct {
	Line   int    `json:"line" doc:"Line in the part file."`
	Column int    `json:"column" doc:"Column in the part file, in code points."`
	Path   string `json:"path" doc:"Path in the part file."`
	jsonPlace
}

type jsonRelated struct {
	Line int    `json:"line" doc:"Line in the part file."`
	Path string `json:"path" doc:"Path in the part file."`
}

type jsonCompared struct {
	Measure  string  `json:"measure" doc:"What was measured, as rules name it."`
	Value    any     `json:"value" doc:"Its value."`
	Needs    string  `json:"needs" doc:"How it must stand to the limit: <, <=, >, >=, ==, !=, in, not in, contains or not contains."`
	Limit    any     `json:"limit" doc:"What it was compared with."`
	From     string  `json:"from" doc:"The limit as the rule writes it, such as limits.wall_least; empty for a plain number."`
	Unit     string  `json:"unit" doc:"Unit of both, empty for none."`
	MissesBy *number `json:"misses_by" doc:"How far the value is from what is needed; null where it is no number."`
	AnyOf    int     `json:"any_of,omitempty" doc:"One of so many comparisons would do."`
	Together int     `json:"together,omitempty" doc:"Those with the same number are only together one of any_of."`
	Of       *jsonOf `json:"of,omitempty" doc:"The element of a list that was compared; left out where the list or the subject was."`
	To       *jsonOf `json:"to,omitempty" doc:"The other element, where two were compared; else left out."`
}

// jsonOf is one element of a list.
type jsonOf struct {
	jsonSubject
	Features []string `json:"features" doc:"The features that make it."`
	jsonPlace
}

type jsonSource struct {
	Key   string `json:"key" doc:"Key of the source in the pack, empty for none."`
	Basis string `json:"basis" doc:"published, practice, memory, derived or shop."`
}

type jsonNote struct {
	Says    string      `json:"says" doc:"The remark."`
	Subject jsonSubject `json:"subject" doc:"What it is of."`
	At      struct {
		Line int `json:"line" doc:"Line in the part file."`
	} `json:"at" doc:"Where that stands."`
}

type jsonAssumed struct {
	What  string `json:"what" doc:"The figure, in words."`
	Value number `json:"value" doc:"Its value."`
	Unit  string `json:"unit" doc:"Its unit."`
	Basis string `json:"basis" doc:"published, practice, memory, derived or shop."`
	From  string `json:"from" doc:"Where a shop puts its own."`
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
	File    string `json:"file" doc:"The file with the problem."`
	Line    int    `json:"line" doc:"Its line; 0 where the whole file is meant."`
	Column  int    `json:"column" doc:"Its column; 0 where the whole file is meant."`
	Message string `json:"message" doc:"What is wrong and what would be right."`
}

type jsonPassed struct {
	File   string `json:"file" doc:"The folder or file."`
	Why    string `json:"why" doc:"Why it was not reviewed."`
	SHA256 string `json:"sha256" doc:"Digest of the file, or of where a link leads; empty for a folder."`
}

func passedJSON(all []checker.PassedOver) []jsonPassed {
	js := []jsonPassed{}
	for _, x := range all {
		js = append(js, jsonPassed(x))
	}
	return js
}

// inForceJSON tells what a review stands on.
func inForceJSON(r *checker.Review) jsonInForce {
	j := jsonInForce{NotInForce: append([]string{}, r.NotInForce...)}
	for i, f := range r.Forces {
		x := jsonOtherForce{jsonForce: forceJSON(f.Book.Packs, f.Shop), StatusAt: string(f.StatusAt)}
		if f.Concede != nil {
			x.Concessions, x.ConcessionsSHA256 = &f.Concede.File, &f.Concede.SHA256
		}
		if i == 0 {
			j.jsonForce, j.Concessions, j.ConcessionsSHA256, j.StatusAt = x.jsonForce, x.Concessions, x.ConcessionsSHA256, x.StatusAt
		} else {
			j.Others = append(j.Others, x)
		}
	}
	return j
}

// shopOf names the shop file of a part where several hold.
func shopOf(p *checker.PartReview, h *checker.Head) *string {
	switch {
	case len(h.Forces) < 2:
		return nil
	case p.Force.Shop == nil:
		return new(string)
	}
	return &p.Force.Shop.File
}

// indented writes one value as a document.
func indented(w io.Writer, v any) error {
	j := jsonWriter{w: w}
	j.value(v)
	j.write("\n")
	return j.err
}

// visible writes characters that nobody sees, blanks that are none, and what shows others in another order, as JSON's escapes:
// those that source.Plain escapes for a terminal.
func visible(s string) string {
	unseen := func(r rune) bool { return !strconv.IsPrint(r) && r != '\n' }
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

func partJSON(p *checker.PartReview, r *checker.Review) jsonPart {
	s := p.Subject
	j := jsonPart{
		File: p.File, Part: p.Part.Name, Drawing: p.Part.Drawing, Revision: p.Part.Revision, Shop: shopOf(p, &r.Head), Grade: gradeWord(p.Grade),
		Figures:  jsonFigures{Height: number(s.Height), Mass: optional(s.Mass), Volume: number(s.Volume), PlanArea: number(s.PlanArea), Class: number(s.Class), Force: optional(s.Force)},
		Rules:    jsonRules{p.Applied, p.NotApplicable},
		Findings: []jsonFinding{}, Notes: []jsonNote{}, Assumed: assumedJSON(p.Layout), Search: searchJSON(p.Search), Conceded: concessionsJSON(p), States: statesJSON(&p.States), Since: sinceJSON(p, r.Against),
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
		Compared: []jsonCompared{}, Over: overJSON(f), Sources: []jsonSource{}, Changes: changesJSON(f), Conceded: concessionJSON(f.Concession),
	}
	for _, p := range f.Places {
		j.Places = append(j.Places, placeJSON(p))
	}
	for _, r := range f.Related {
		j.Related = append(j.Related, jsonRelated{r.Line, r.Path})
	}
	for _, x := range f.Entries() {
		k := jsonCompared{Measure: x.Measure, Value: anyJSON(x.Value), Needs: x.Needs, Limit: anyJSON(x.Limit), From: x.From, Unit: x.Unit, AnyOf: x.AnyOf, Together: x.Together}
		if x.MissesBy != nil {
			v := number(*x.MissesBy)
			k.MissesBy = &v
		}
		k.Of, k.To = ofJSON(x.Of), ofJSON(x.To)
		j.Compared = append(j.Compared, k)
	}
	for _, s := range f.Sources {
		j.Sources = append(j.Sources, jsonSource{s.Key, string(s.Basis)})
	}
	return j
}

// ofJSON is an element; nil for none.
func ofJSON(s *subject.Spot) *jsonOf {
	if s == nil {
		return nil
	}
	return &jsonOf{jsonSubject{s.Kind, s.Name}, append([]string{}, s.Features...), placeJSON(s.Point)}
}

// overJSON is what a rule was judged on, where that is not what was found.
func overJSON(f *checker.Finding) *jsonOver {
	if f.Over == f.Subject {
		return nil
	}
	c := f.Over.Place()
	j := &jsonOver{jsonSubject{f.Over.Kind().Name, c.Name}, append([]string{}, c.Features...), []jsonPlace{}}
	for _, s := range subject.SpotsOf(f.Over) {
		j.Places = append(j.Places, placeJSON(s.Point))
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
	j := jsonWriter{w: w}
	j.open('{')
	one := func(s subject.Subject) {
		var b bytes.Buffer
		if err := subjectJSON(&b, s); err != nil && j.err == nil {
			j.err = err
		}
		j.line(b.Bytes())
	}
	j.key("part")
	one(p)
	for _, k := range subject.Kinds()[1:] {
		j.key(k.List)
		j.open('[')
		for _, s := range subject.Of(p, k) {
			one(s)
		}
		j.close()
	}
	force, err := json.Marshal(forceJSON(packs, shop))
	if err != nil {
		return err
	}
	j.key("in_force")
	j.line(force)
	j.close()
	return j.err
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
		b.WriteString("\"" + key + "\": " + visible(string(text)))
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
