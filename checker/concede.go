package checker

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"
	"time"

	"corerod/parts/source"
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

// Concede adds a record for a finding to the bytes of a concessions file, which may be empty. Its layout stays.
func Concede(file string, b []byte, r *PartReview, f *Finding, a Agreement) ([]byte, error) {
	if f.Concession != nil {
		return nil, fmt.Errorf("it has a concession in line %d of %s already; change it there", f.Concession.Line, source.Plain(file))
	}
	record := record(r, f, a)
	if strings.TrimSpace(string(b)) == "" {
		b = []byte("# Concessions: findings that are agreed to for a time. See corerod concede.\n")
	}
	if onlyComments(b) {
		b = append(bytes.TrimRight(b, "\r\n"), "\nchanged_revision: ends\n"...)
	}
	doc, ps := source.Open(file, b)
	if len(ps) > 0 {
		return nil, ps
	}
	out, err := doc.Append("concessions", record)
	if err == nil && !strings.HasSuffix(string(out), "\n") {
		out = append(out, '\n')
	}
	return out, err
}

// record is a finding's record, with the values that were measured.
func record(r *PartReview, f *Finding, a Agreement) []source.Pair {
	c := f.Subject.Place()
	all := []source.Pair{{Key: "part", Text: r.Part.Name}}
	add := func(key, text string) { all = append(all, source.Pair{Key: key, Text: text}) }
	if r.Part.Drawing != "" {
		add("drawing", source.Written(r.Part.Drawing))
	}
	if r.Part.Revision != "" {
		add("revision", source.Written(r.Part.Revision))
	}
	add("rule", f.Rule.Name)
	add("subject", fmt.Sprintf("{kind: %s, name: %s}", f.Subject.Kind().Name, source.Written(c.Name)))
	var values []string
	for _, x := range f.Compared {
		values = append(values, source.Written(x.Measure)+": "+valueText(x.Value))
	}
	if len(values) > 0 {
		add("accepted", "{"+strings.Join(values, ", ")+"}")
	}
	if len(f.Places) > 1 {
		add("places", strconv.Itoa(len(f.Places)))
	}
	add("reason", source.Written(a.Reason))
	add("by", source.Written(a.By))
	add("until", a.Until)
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
