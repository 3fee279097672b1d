package concession

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"corerod/checker"
	"corerod/parts/source"
	"corerod/parts/subject"
	"corerod/rules"
)

// Agreement is what a concession says beyond the finding.
type Agreement struct {
	Reason, By, Until string
}

// Wrong says what is wrong with an agreement on a day, "" for nothing.
func (a Agreement) Wrong(now time.Time) string {
	latest := now.AddDate(0, mostMonths, 0).Format(dateForm)
	switch says := dayWrong(a.Until, latest); {
	case says != "":
		return fmt.Sprintf("--until is %q; %s", a.Until, says)
	case a.Until < now.Format(dateForm):
		return fmt.Sprintf("--until is %s, which has passed", a.Until)
	case strings.TrimSpace(a.Reason) == "":
		return "--reason is empty; say why the finding is agreed to"
	case strings.TrimSpace(a.By) == "":
		return "--by is empty; name the role that agreed"
	}
	return ""
}

// Add adds a record for a finding to the bytes of a concessions file, which may be empty. Its layout stays.
func Add(c *checker.Concessions, b []byte, r *checker.PartReview, f *checker.Finding, a Agreement) ([]byte, error) {
	if f.Concession != nil {
		return nil, fmt.Errorf("it has a concession in line %d of %s already; change it there", f.Concession.Line, source.Plain(c.File))
	}
	x := newRecord(c, r.Part.Name, r.Part.Drawing, r.Part.Revision, r.File, a)
	x.Rule, x.Kind, x.Name = f.Rule.Name, judged(f).Kind().Name, judged(f).Place().Name
	x.Accepted, x.Listed, x.Places = acceptedOf(f), true, max(1, len(f.Places))
	return add(c, b, x)
}

// AddGone adds a record that a part may go, as it is drawn now.
func AddGone(c *checker.Concessions, b []byte, r *checker.PartReview, a Agreement) ([]byte, error) {
	x := newRecord(c, r.Part.Name, r.Part.Drawing, r.Part.Revision, r.File, a)
	x.Rule, x.Shape = checker.PartGone, r.States.Shape
	return add(c, b, x)
}

// AddMachined adds a record that a feature of a part may be made after pressing, as it is drawn now.
func AddMachined(c *checker.Concessions, b []byte, r *checker.PartReview, feature string, a Agreement) ([]byte, error) {
	later := r.States.Later()
	var names []string
	for _, d := range later {
		if names = append(names, d.Name); d.Name == feature {
			x := newRecord(c, r.Part.Name, r.Part.Drawing, r.Part.Revision, r.File, a)
			x.Rule, x.Kind, x.Name, x.Shape = checker.NewlyMachined, laterKinds[d.Section], d.Name, d.Digest()
			return add(c, b, x)
		}
	}
	const how = "; draw it first as the change will have it, with `made_by: machining` or `made_by: sizing`"
	if _, drawn := r.Part.PlaceOf(feature); drawn {
		return nil, fmt.Errorf("%s of %s is made by pressing%s", source.Quote(feature), source.Plain(r.File), how)
	}
	if len(names) == 0 {
		return nil, fmt.Errorf("%s has no feature %s, and nothing that is made after pressing%s", source.Plain(r.File),
			source.Quote(feature), how)
	}
	return nil, fmt.Errorf("%s has no feature %s; made after pressing are %s%s", source.Plain(r.File), source.Quote(feature),
		strings.Join(names, ", "), source.Meant(feature, names))
}

// laterKinds are the words for what can be made after pressing, by section.
var laterKinds = map[string]string{"cuts": "cut", "sides": "crossing", "marks": "mark"}

// newRecord is a record for a part.
func newRecord(c *checker.Concessions, part, drawing, revision, file string, a Agreement) *checker.Concession {
	return &checker.Concession{Part: part, Drawing: drawing, Revision: revision, File: pathOf(c, file), Reason: a.Reason, By: a.By,
		Until: a.Until, Places: 1}
}

// judged is what a record is for: of elements of a list what the rule was judged on, which stays when one of them is mended.
func judged(f *checker.Finding) subject.Subject {
	if slices.ContainsFunc(f.Compared, func(c rules.Compared) bool { return c.Of != nil }) {
		return f.Over
	}
	return f.Subject
}

// acceptedOf are the measured values of a finding, each with what it is of.
func acceptedOf(f *checker.Finding) (all []checker.Accepted) {
	for _, c := range f.Entries() {
		a := checker.Accepted{Of: f.Subject.Place().Name, Measure: c.Measure, Value: c.Value}
		if c.Of != nil {
			a.Of = c.Of.Name
		}
		if c.To != nil {
			a.To = c.To.Name
		}
		all = append(all, a)
	}
	if s, ok := f.Subject.(*subject.Crossing); ok {
		all = append(all, checker.Accepted{Of: s.Name, Measure: "crossing.kind", Value: s.Form})
		for _, name := range crossMeasures {
			if v, known := subject.CrossingKind.Field(name).Number(s); known {
				all = append(all, checker.Accepted{Of: s.Name, Measure: "crossing." + name, Value: v})
			}
		}
	}
	return all
}

// add adds a record to the bytes of the file, and reads the outcome as a review would: a file that cannot be read is never written.
func add(c *checker.Concessions, b []byte, x *checker.Concession) ([]byte, error) {
	for _, y := range c.Records {
		if same(y, x) {
			return nil, fmt.Errorf("there is such a record in line %d of %s already; change it there", y.Line, source.Plain(c.File))
		}
	}
	if strings.TrimSpace(string(b)) == "" {
		b = []byte("# Concessions: findings that are agreed to for a time. See corerod concede.\n")
	}
	if onlyComments(b) {
		b = append(bytes.TrimRight(b, "\r\n"), "\nchanged_revision: ends\n"...)
	}
	doc, ps := source.Open(c.File, b)
	if len(ps) > 0 {
		return nil, ps
	}
	out, err := doc.Append("concessions", pairs(x))
	if err != nil {
		return nil, err
	}
	if !strings.HasSuffix(string(out), "\n") {
		out = append(out, '\n')
	}
	latest, err := time.Parse(dateForm, c.Today)
	if err != nil {
		return nil, err
	}
	again, ps := Read(c.File, out, latest)
	if len(ps) > 0 {
		return nil, fmt.Errorf("the record cannot be written so that it is read again: %w", ps)
	}
	if n := len(again.Records); n != len(c.Records)+1 || !same(again.Records[n-1], x) {
		return nil, errors.New("the record would be read as another")
	}
	return out, nil
}

// Lines are the record as it stands in a file.
func Lines(x *checker.Concession) (lines []string) {
	for i, p := range pairs(x) {
		lead := "    "
		if i == 0 {
			lead = "  - "
		}
		lines = append(lines, lead+p.Key+": "+p.Text)
	}
	return lines
}

// pairs are the keys and values of a record.
func pairs(x *checker.Concession) (all []source.Pair) {
	add := func(key, text string) {
		if text != "" {
			all = append(all, source.Pair{Key: key, Text: text})
		}
	}
	written := func(text string) string {
		if text == "" {
			return ""
		}
		return source.Written(text)
	}
	add("part", x.Part)
	add("drawing", written(x.Drawing))
	add("revision", written(x.Revision))
	add("file", written(x.File))
	add("rule", x.Rule)
	if x.Kind != "" {
		add("subject", fmt.Sprintf("{kind: %s, name: %s}", x.Kind, source.Written(x.Name)))
	}
	add("shape", written(x.Shape))
	if len(x.Accepted) > 0 {
		add("accepted", "["+strings.Join(acceptedTexts(x), ", ")+"]")
	}
	if x.Places > 1 {
		add("places", strconv.Itoa(x.Places))
	}
	add("reason", source.Written(x.Reason))
	add("by", source.Written(x.By))
	add("until", x.Until)
	return all
}

// acceptedTexts are the accepted values, those of one thing together where each measure stands once.
func acceptedTexts(x *checker.Concession) (all []string) {
	var of, to string
	var texts []string
	seen := map[string]bool{}
	end := func() {
		if len(texts) > 0 {
			names := "{of: " + source.Written(of)
			if to != "" {
				names += ", to: " + source.Written(to)
			}
			all = append(all, names+", "+strings.Join(texts, ", ")+"}")
		}
		texts, seen = nil, map[string]bool{}
	}
	for i, a := range x.Accepted {
		if i > 0 && (a.Of != of || a.To != to || seen[a.Measure]) {
			end()
		}
		of, to, seen[a.Measure] = a.Of, a.To, true
		texts = append(texts, source.Written(a.Measure)+": "+valueText(a.Value))
	}
	end()
	return all
}

// valueText writes a measured value to every digit that counts.
func valueText(v any) string {
	switch v := v.(type) {
	case float64:
		return strconv.FormatFloat(v, 'f', -1, 64)
	case string:
		return source.Written(v)
	}
	return fmt.Sprint(v)
}
