package data

import (
	"bytes"
	"context"
	"encoding/json"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"corerod/checker"
	"corerod/checker/change"
	"corerod/checker/compare"
	"corerod/checker/concession"
	"corerod/checker/report/reporttest"
	"corerod/parts/source"
	"corerod/rules"
)

// sarifLog is the whole of a document.
type sarifLog struct {
	Schema  string     `json:"$schema"`
	Version string     `json:"version"`
	Runs    []sarifRun `json:"runs"`
}

type sarifRun struct {
	Tool             sarifTool          `json:"tool"`
	Invocations      []sarifInvocation  `json:"invocations"`
	Artifacts        []sarifArtifact    `json:"artifacts"`
	ColumnKind       string             `json:"columnKind"`
	NewlineSequences []string           `json:"newlineSequences"`
	Results          []sarifResult      `json:"results"`
	Properties       sarifRunProperties `json:"properties"`
}

func sarifOf(t *testing.T, r *checker.Review) (*sarifLog, []byte) {
	t.Helper()
	var b bytes.Buffer
	if err := writeSARIF(&b, r); err != nil {
		t.Fatal(err)
	}
	var log sarifLog
	d := json.NewDecoder(bytes.NewReader(b.Bytes()))
	d.DisallowUnknownFields()
	if err := d.Decode(&log); err != nil {
		t.Fatal(err)
	}
	return &log, b.Bytes()
}

// sarifSchema is the schema that OASIS publishes.
func sarifSchema(t *testing.T) *jsonschema.Schema {
	t.Helper()
	c := jsonschema.NewCompiler()
	c.AssertFormat()
	s, err := c.Compile("../../../testdata/sarif/sarif-schema-2.1.0.json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// TestSarifSchema: what is written is valid by the published schema: the mill, with changes and with a file that cannot be
// read; nothing at all; our own faults; hostile texts.
func TestSarifSchema(t *testing.T) {
	schema := sarifSchema(t)
	withFault := reporttest.Mill(t)
	withFault.Faults, withFault.PassedOver, withFault.Status = []string{"pawl.yaml: index out of range"},
		[]checker.PassedOver{{File: "packs/own", Why: "holds a rule pack"}}, checker.OurFault
	var doc any
	for name, r := range map[string]*checker.Review{
		"mill": reporttest.Mill(t), "faults": withFault,
		"nothing": {Status: checker.Nothing},
		"hostile": reporttest.Reviewed(t, map[string]string{"<b>&\"'`|@x y%.yaml": reporttest.HostilePart}, change.Options{Changes: 3}),
		"link":    reporttest.Reviewed(t, map[string]string{"link.yaml": linkPart(t)}, change.Options{Changes: 3}),
	} {
		_, b := sarifOf(t, r)
		var err error
		if doc, err = jsonschema.UnmarshalJSON(bytes.NewReader(b)); err != nil {
			t.Fatal(err)
		}
		if err := schema.Validate(doc); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	run := doc.(map[string]any)["runs"].([]any)[0].(map[string]any)
	for key, bad := range map[string]any{"columnKind": "bytes", "results": []any{map[string]any{"level": "note"}},
		"invocations": []any{map[string]any{}}, "colour": 1} {
		before, had := run[key]
		run[key] = bad
		if schema.Validate(doc) == nil {
			t.Errorf("the schema lets %s: %v pass", key, bad)
		}
		if run[key] = before; !had {
			delete(run, key)
		}
	}
}

func linkPart(t *testing.T) string {
	t.Helper()
	b, err := os.ReadFile("../../../testdata/readme/link.yaml")
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// TestSarif: rules, levels, places and how the run ended.
func TestSarif(t *testing.T) {
	r := reporttest.Mill(t)
	log, _ := sarifOf(t, r)
	run := log.Runs[0]
	if n := len(run.Tool.Driver.Rules); n != len(r.Packs()[0].Rules) || n < 60 {
		t.Errorf("%d rules of %d", n, len(r.Packs()[0].Rules))
	}
	for _, x := range run.Tool.Driver.Rules {
		if !regexp.MustCompile("^[a-z]+(-[a-z]+)*$").MatchString(x.ID) || x.Name == "" || x.FullDescription.Text == "" ||
			!strings.Contains(x.Help.Text, " Ground: ") || strings.HasSuffix(x.Help.Text, ": .") ||
			!slices.Contains([]string{"error", "warning", "note"}, x.Default.Level) {
			t.Errorf("%+v", x)
		}
	}
	var grades []string
	k := 0
	for _, p := range r.Parts {
		for _, f := range p.Findings {
			x := run.Results[k]
			k++
			grades = append(grades, string(f.Grade)+" is "+x.Level)
			at := x.Locations[0]
			if x.RuleID != f.Rule.Name || run.Tool.Driver.Rules[x.RuleIndex].ID != x.RuleID ||
				x.Fingerprints["corerodFinding/v1"] != f.ID ||
				run.Artifacts[*at.Physical.File.Index].Location.URI != at.Physical.File.URI || at.Physical.Region.StartLine != f.At.Line ||
				at.Physical.Region.StartColumn != f.At.Column {
				t.Errorf("%s: %+v", f.Rule.Name, x)
			}
			if at.Logical[0].Name != p.Part.Name || f.At.Path != "part" &&
				at.Logical[len(at.Logical)-1].Qualified != p.Part.Name+"."+f.At.Path {
				t.Errorf("%s of %s: %+v", f.Rule.Name, f.At.Path, at.Logical)
			}
		}
	}
	slices.Sort(grades)
	if got := slices.Compact(grades); !slices.Equal(got, []string{"ask is note", "change is warning", "stop is error"}) ||
		k != len(run.Results) {
		t.Errorf("%v, %d of %d results", got, k, len(run.Results))
	}
	i := run.Invocations[0]
	if i.ExecutionSuccessful || i.ExitCode != 2 || i.Notifications[0].Level != "error" ||
		i.Notifications[0].Locations[0].Physical.File.URI != "bad.yaml" || i.Notifications[0].Locations[0].Physical.Region.StartLine != 1 {
		t.Errorf("%+v", i)
	}
	one := reporttest.Reviewed(t, map[string]string{"link.yaml": linkPart(t)}, change.Options{})
	one.Only, one.Status = []string{"wall-thickness"}, checker.Clear
	one.Parts[0].Findings = nil
	if log, b := sarifOf(t, one); len(log.Runs[0].Tool.Driver.Rules) != 1 || !log.Runs[0].Invocations[0].ExecutionSuccessful ||
		!bytes.Contains(b, []byte(`"results": []`)) {
		t.Errorf("judged by one rule and clear: %s", b)
	}
}

// lineEnds are those that the run states.
var lineEnds = regexp.MustCompile("\r\n|\n|\r")

// offset is a place of a text in bytes, by line and column as the run counts them.
func offset(text string, line, column int) int {
	at := len(text) - len(strings.TrimPrefix(text, "\ufeff"))
	if line > 1 {
		at = lineEnds.FindAllStringIndex(text, -1)[line-2][1]
	}
	for i := range text[at:] {
		if column--; column == 0 {
			return at + i
		}
	}
	return len(text)
}

// fixed is a text with a fix made, by its regions alone.
func fixed(text string, f *sarifFix) string {
	all := f.Changes[0].Replacements
	for i := len(all) - 1; i >= 0; i-- {
		x := all[i].Deleted
		text = text[:offset(text, x.StartLine, x.StartColumn)] + all[i].Inserted.Text + text[offset(text, x.EndLine, x.EndColumn):]
	}
	return text
}

// plantedFaults are parts whose changes set one number, two, a text, a key, add to a map in lines and in brackets, and add a
// section; with other line ends, a mark at the start, wide characters and comments before what is set.
var plantedFaults = map[string]string{
	"wide": "{part: wide, title: \"日本 𝄞 é\", units: mm, bodies: {plate: {rectangle: {length: 40, width: 20, corner: 2}, from: 0, to: " +
		"6}}, cuts: {a: {circle: {diameter: 6, at: [16.6, 0]}}}}\n",
	"two": "part: two\r\nunits: mm\r\nbodies:\r\n  arm: {slot: {length: 40, width: 16}, from: 0, to: 7} # 日本\r\ncuts:\r\n  shaft: " +
		"{circle: {diameter: 10, at: [12, 0]}}\r\n  pin:   {circle: {diameter: 6, at: [3.4, 0]}}\r\n",
	"crossing": "\ufeffpart: crossing\nunits: mm\nbodies: {bush: {circle: {diameter: 20}, from: 0, to: 12}}\ncuts: {bore: {circle: " +
		"{diameter: 10}}}\nsides:\n  oil-hole:\n    hole: {diameter: 2, toward: 90, z: 6} # é\n    in: bush\n",
	"mark": "part: mark\rmaterial: {density: 6.8}\runits: mm\rbodies: {disc: {circle: {diameter: 30}, from: 0, to: 8}}\rmarks: { " +
		"\"logo\": {on: disc.top, raised: 0.9, box: [-5, -2, 10, 4], text: \"日本\"} }\r",
	"trap": "part: trap\nunits: in\nbodies:\n  foot: {circle: {diameter: 1.5}, from: 0, to: 0.25}\n  neck: {circle: {diameter: 0.8}, " +
		"from: 0.25, to: 0.5}\n  head: {circle: {diameter: 1.5}, from: 0.5, to: 0.75}\n",
	"inches": "{part: inches, units: in, bodies: {a: {circle: {diameter: 1.2}, from: 0, to: 0.5}}, cuts: {b: {circle: {diameter: 0.5, at: " +
		"[0.33, 0]}}}}",
}

// TestSarifFixes: every fix of the demo parts and of planted faults, made in the file's text by its regions alone, gives the
// bytes that the change makes; reviewed again, the finding is gone, or milder where the change says so.
func TestSarifFixes(t *testing.T) {
	texts := reporttest.DemoParts(t)
	for name, text := range texts {
		if strings.Contains(name, "/solids/") {
			delete(texts, name)
		} else if strings.Contains(name, "/mill/") {
			texts[name+" with other line ends"] = strings.ReplaceAll(text, "\n", "\r\n")
		}
	}
	for name, text := range plantedFaults {
		texts[name] = text
	}
	kinds := map[string]int{}
	for name, text := range texts {
		r, ok := reviewedIfRead(t, name, text)
		if !ok {
			if _, ours := plantedFaults[name]; ours {
				t.Errorf("%s: %v", name, r.Unread)
			}
			continue
		}
		log, _ := sarifOf(t, r)
		fixes := 0
		for i, x := range log.Runs[0].Results {
			fixes += len(x.Fixes)
			f := r.Parts[0].Findings[i]
			if len(x.Fixes) != len(f.Changes) {
				t.Fatalf("%s: %d fixes of %d changes", name, len(x.Fixes), len(f.Changes))
			}
			for k := range x.Fixes {
				checkFix(t, name, text, f, f.Changes[k], &x.Fixes[k], kinds)
			}
		}
		if _, ours := plantedFaults[name]; ours && fixes == 0 {
			t.Errorf("%s: no fix", name)
		}
	}
	t.Log(kinds)
	for _, kind := range []string{"set", "several", "added in lines", "added in brackets", "key"} {
		if kinds[kind] == 0 {
			t.Errorf("no fix of the kind %s was tried: %v", kind, kinds)
		}
	}
}

// reviewedIfRead reviews a text with three changes for each finding.
func reviewedIfRead(t *testing.T, name, text string) (*checker.Review, bool) {
	t.Helper()
	r := change.Run(context.Background(), []checker.File{reporttest.File(name, text)}, reporttest.Book(t),
		change.Options{Changes: 3, Options: checker.Options{StatusAt: rules.Change}})
	return r, len(r.Parts) == 1
}

func checkFix(t *testing.T, name, text string, f *checker.Finding, c *checker.Change, fix *sarifFix, kinds map[string]int) {
	t.Helper()
	doc, ps := source.Open(name, []byte(text))
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	var edits []source.Edit
	for _, s := range c.Sets {
		edits = append(edits, source.Edit{Path: s.Path, Text: s.To, Key: s.Key, Remove: s.Remove})
		if s.Key != "" {
			kinds["key"]++
		}
	}
	want, err := doc.With(edits...)
	if err != nil {
		t.Fatal(err)
	}
	got := fixed(text, fix)
	if got != string(want) {
		t.Errorf("%s, %s: %v gives\n%q\nnot\n%q", name, f.Rule.Name, fix, got, want)
		return
	}
	for _, x := range fix.Changes[0].Replacements {
		switch ins := x.Inserted.Text; {
		case lineEnds.MatchString(ins):
			kinds["added in lines"]++
		case strings.HasPrefix(ins, ", "):
			kinds["added in brackets"]++
		default:
			kinds["set"]++
		}
	}
	if len(fix.Changes[0].Replacements) > 1 {
		kinds["several"]++
	}
	after := checker.Run(context.Background(), []checker.File{reporttest.File(name, got)}, reporttest.Book(t),
		checker.Options{StatusAt: rules.Change})
	if len(after.Parts) != 1 {
		t.Fatalf("%s: %v", name, after.Unread)
	}
	for _, g := range after.Parts[0].Findings {
		if g.ID == f.ID && (c.Clears || !f.Grade.Worse(g.Grade)) {
			t.Errorf("%s: %s, %s is there after %s", name, f.Rule.Name, f.Subject.Place().Name, fix.Description.Text)
		}
	}
}

// TestSarifConceded: a concession that covers a finding suppresses it, and only that one; one that does not is told beside its
// finding. Where none are in force nothing is said of them. What became of findings since an earlier review is their state.
func TestSarifConceded(t *testing.T) {
	const text = "part: plate\nunits: mm\nbodies: {plate: {rectangle: {length: 30, width: 20, corner: 3}, from: 0, to: 6}}\ncuts: {eye: " +
		"{circle: {diameter: 8, at: [10.6, 0]}}}\n"
	const record = "concessions:\n  - part: plate\n    rule: wall-thickness\n    subject: {kind: wall, name: eye to plate 2}\n    accepted: " +
		"{wall.thickness: 0.4}\n    reason: \"[trial](x)\"\n    by: shop\n    until: 2027-01-31\n"
	schema := sarifSchema(t)
	for _, c := range []struct{ until, level string }{{"2027-01-31", "suppressed"}, {"2026-11-24", "expired"}} {
		conceded, ps := concession.Read("agreed.yaml", []byte(strings.Replace(record, "2027-01-31", c.until, 1)),
			time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC))
		if len(ps) > 0 {
			t.Fatal(ps)
		}
		r := reporttest.Reviewed(t, map[string]string{"plate.yaml": text},
			change.Options{Options: checker.Options{Concede: conceded, Steps: []checker.Step{concession.Cover}}})
		compare.WithEarlier(r,
			compare.EarlierOf(reporttest.Reviewed(t, map[string]string{"plate.yaml": strings.Replace(text, "10.6", "10.4", 1)},
				change.Options{}), "before"))
		log, b := sarifOf(t, r)
		doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(b))
		if err != nil || schema.Validate(doc) != nil {
			t.Errorf("%v %v", err, schema.Validate(doc))
		}
		for _, x := range log.Runs[0].Results {
			is := x.RuleID == "wall-thickness" && c.level == "suppressed"
			if x.Suppressions == nil || len(*x.Suppressions) > 0 != is ||
				(x.Properties.Concession != nil) != (x.RuleID == "wall-thickness") {
				t.Errorf("%s, %s: %+v %+v", c.level, x.RuleID, x.Suppressions, x.Properties.Concession)
				continue
			}
			if is && ((*x.Suppressions)[0].Kind != "external" || (*x.Suppressions)[0].Location.Physical.Region.StartLine != 2 ||
				!strings.Contains((*x.Suppressions)[0].Justification, "[trial]\u2060(x)")) {
				t.Errorf("%+v", *x.Suppressions)
			}
			if !slices.Contains([]string{"new", "updated"}, x.Baseline) {
				t.Errorf("%s is %q", x.RuleID, x.Baseline)
			}
		}
	}
	if _, b := sarifOf(t, reporttest.Reviewed(t, map[string]string{"plate.yaml": text}, change.Options{})); bytes.Contains(b,
		[]byte("suppressions")) || bytes.Contains(b, []byte("baselineState")) {
		t.Error("concessions and an earlier review are told of where there are none")
	}
}

// TestSarifRestated: what a part file declares otherwise than before is told as a notice, a warning where it counts.
func TestSarifRestated(t *testing.T) {
	const text = "part: plate\nunits: mm\nbodies: {plate: {rectangle: {length: 30, width: 20, corner: 3}, from: 0, to: 6}}\ncuts: {eye: " +
		"{circle: {diameter: 8, at: [8, 0]}}}\n"
	now := strings.Replace(text, "at: [8, 0]}", "at: [8, 0]}, made_by: machining", 1) + "quantity: 900\n"
	r := reporttest.Reviewed(t, map[string]string{"plate.yaml": now}, change.Options{})
	compare.WithEarlier(r, compare.EarlierOf(reporttest.Reviewed(t, map[string]string{"plate.yaml": text}, change.Options{}), "before"))
	log, _ := sarifOf(t, r)
	var got []string
	for _, n := range log.Runs[0].Invocations[0].Notifications {
		if strings.HasPrefix(n.Message.Text, "Changed: ") {
			got = append(got, n.Level+", "+n.Message.Text)
		}
	}
	want := []string{"note, Changed: quantity from none to 900 a year.",
		"warning, Changed: made after pressing to machining eye; this counts as worsened, unless a person agrees to it with `corerod concede " +
			"--machined`."}
	if !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}
