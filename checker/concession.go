package checker

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"corerod/parts/source"
	"corerod/parts/subject"
	"corerod/rules"
)

// Concessions are the records of one file: findings that somebody has agreed to live with for a time.
type Concessions struct {
	File    string
	SHA256  string
	Keeps   bool // a record goes on when the drawing's revision changes
	Records []*Concession
	today   string
}

// Concession is one record.
type Concession struct {
	Part              string
	Drawing, Revision string // "" where the record names none
	Rule, Kind, Name  string // of the finding and its subject
	Accepted          []Accepted
	Places            int // at which it was agreed to, at least 1
	Reason, By        string
	Until             string // the last day, as 2006-01-02
	Line              int
}

// Accepted is one measured value that was agreed to.
type Accepted struct {
	Measure string
	Value   any // float64, string or bool
}

// State is what became of a record.
type State string

// States of a record for a reviewed part.
const (
	Covering State = "used"     // it covers its finding
	Unused   State = "unused"   // the part has no such finding
	Exceeded State = "worsened" // the finding is further from the need than was accepted
	Expired  State = "expired"  // its last day has passed
	Revised  State = "revised"  // the drawing or its revision is another
)

// Conceded is a record with what became of it.
type Conceded struct {
	*Concession
	State State
	Says  string // why it does not cover its finding, "" where it does
}

// dateForm is how days are written.
const dateForm = time.DateOnly

// mostMonths is how far ahead the last day of a concession may lie.
const mostMonths = 24

// ReadConcessions reads a file of concessions on a day, by the clock that is passed in. An empty file has none.
func ReadConcessions(file string, b []byte, now time.Time) (*Concessions, source.Problems) {
	sum := sha256.Sum256(b)
	c := &Concessions{File: file, SHA256: hex.EncodeToString(sum[:]), today: now.Format(dateForm)}
	if onlyComments(b) {
		return c, nil
	}
	root, ps := source.Parse(file, b)
	r := &concessionReader{Reader: source.Reader{File: file, Problems: ps}, latest: now.AddDate(0, mostMonths, 0).Format(dateForm)}
	if root != nil && r.Map(root, "a concessions file", concessionsForm.Known()...) {
		if n := root.At("changed_revision"); n != nil {
			w, _ := r.Word(n, "`changed_revision`", "ends", "keeps")
			c.Keeps = w == "keeps"
		}
		r.records(c, root.At("concessions"))
	}
	if len(r.Problems) > 0 {
		return nil, r.Problems.Sorted()
	}
	return c, nil
}

// onlyComments tells whether a file says nothing.
func onlyComments(b []byte) bool {
	for line := range strings.FieldsFuncSeq(string(b), func(r rune) bool { return r == '\n' || r == '\r' }) {
		if line = strings.TrimSpace(line); line != "" && !strings.HasPrefix(line, "#") {
			return false
		}
	}
	return true
}

type concessionReader struct {
	source.Reader
	latest string
}

func (r *concessionReader) records(c *Concessions, n *source.Node) {
	if n == nil || n.Null {
		return
	}
	items, _ := r.List(n, "`concessions`")
	for _, it := range items {
		x := r.record(it)
		if x == nil {
			continue
		}
		if i := slices.IndexFunc(c.Records, x.same); i >= 0 {
			r.Report(it, "the concession of %s for %s, %s is given in line %d already; change it there", source.Quote(x.Rule), source.Quote(x.Part), source.Quote(x.Name), c.Records[i].Line)
			continue
		}
		c.Records = append(c.Records, x)
	}
}

// same tells whether two records are for one finding.
func (x *Concession) same(y *Concession) bool {
	return x.Part == y.Part && x.Rule == y.Rule && x.Kind == y.Kind && x.Name == y.Name
}

func (r *concessionReader) record(n *source.Node) *Concession {
	const what = "a concession"
	if !r.Map(n, what, concessionForm.Known()...) {
		return nil
	}
	before := len(r.Problems)
	x := &Concession{Line: n.Line}
	text := func(key string, to *string, needed bool) {
		v := n.At(key)
		if v == nil && needed {
			r.Require(n, what, key)
		}
		if v == nil {
			return
		}
		if *to, _ = r.Text(v, "`"+key+"`"); strings.TrimSpace(*to) == "" && len(r.Problems) == before {
			r.Report(v, "`%s` is empty", key)
		}
	}
	text("part", &x.Part, true)
	text("drawing", &x.Drawing, false)
	text("revision", &x.Revision, false)
	text("rule", &x.Rule, true)
	text("reason", &x.Reason, true)
	text("by", &x.By, true)
	if v := r.Require(n, what, "subject"); v != nil && r.Map(v, "`subject`", "kind", "name") {
		if k := r.Require(v, "`subject`", "kind"); k != nil {
			x.Kind, _ = r.Text(k, "`kind`")
		}
		if k := r.Require(v, "`subject`", "name"); k != nil {
			x.Name, _ = r.Text(k, "`name`")
		}
	}
	r.accepted(x, n.At("accepted"))
	x.Places = 1
	if v := n.At("places"); v != nil {
		f, ok := r.Number(v, "`places`")
		if x.Places = int(f); ok && (f != float64(x.Places) || f < 1) {
			r.Report(v, "`places` is %s; it must be a whole number from 1 on", source.Quote(v.Value))
		}
	}
	r.until(x, r.Require(n, what, "until"))
	if len(r.Problems) > before {
		return nil
	}
	return x
}

// accepted reads the measured values that were agreed to.
func (r *concessionReader) accepted(x *Concession, n *source.Node) {
	if n == nil {
		return
	}
	if n.Shape != source.Map {
		r.Report(n, "`accepted` needs measures with their values, such as {wall.thickness: 0.7}")
		return
	}
	for i, k := range n.Keys {
		v := n.Items[i]
		a := Accepted{Measure: k.Value}
		switch {
		case v.Shape != source.Scalar || v.Null:
			r.Report(v, "the accepted value of %s needs a number, a word, true or false", source.Quote(k.Value))
			continue
		case v.Quoted:
			a.Value = v.Value
		case v.Value == "true" || v.Value == "false":
			a.Value = v.Value == "true"
		default:
			if f, ok := (&source.Reader{}).Number(v, ""); ok {
				a.Value = f
			} else {
				a.Value = v.Value
			}
		}
		x.Accepted = append(x.Accepted, a)
	}
}

// until reads the last day.
func (r *concessionReader) until(x *Concession, n *source.Node) {
	if n == nil {
		return
	}
	day, ok := r.Text(n, "`until`")
	if !ok {
		return
	}
	if wrong := dayWrong(day, r.latest); wrong != "" {
		r.Report(n, "`until` is %s; %s", source.Quote(day), wrong)
	}
	x.Until = day
}

// dayWrong says what is wrong with a last day.
func dayWrong(day, latest string) string {
	if t, err := time.Parse(dateForm, day); err != nil || t.Format(dateForm) != day {
		return "write a day as 2027-03-31"
	}
	if day > latest {
		return fmt.Sprintf("a concession ends within %d months: by %s", mostMonths, latest)
	}
	return ""
}

// Unknown reports records of rules that are not in force.
func (c *Concessions) Unknown(book *rules.Book) (ps source.Problems) {
	for _, x := range c.Records {
		if !slices.ContainsFunc(book.Rules, func(r *rules.Rule) bool { return r.Name == x.Rule }) {
			var names []string
			for _, r := range book.Rules {
				names = append(names, r.Name)
			}
			says := fmt.Sprintf("there is no rule %s in force", source.Quote(x.Rule))
			if near := source.Nearest(x.Rule, names); near != "" {
				says += fmt.Sprintf("; did you mean `%s`?", near)
			}
			ps = append(ps, source.Problem{File: c.File, Line: x.Line, Column: 1, Message: says})
		}
	}
	return ps
}

// cover marks the findings of a part that a record is for, and finds the part's grade anew: conceded findings do not count.
func (c *Concessions) cover(r *PartReview) {
	if c == nil {
		return
	}
	for _, x := range c.Records {
		if x.Part != r.Part.Name {
			continue
		}
		i := slices.IndexFunc(r.Findings, x.isFor)
		if i < 0 {
			r.Concessions = append(r.Concessions, &Conceded{x, Unused, "the part has no such finding"})
			continue
		}
		k := c.of(x, r, r.Findings[i])
		r.Findings[i].Concession = k
		r.Concessions = append(r.Concessions, k)
	}
	r.Grade = ""
	for _, f := range r.Findings {
		if !f.Conceded() && (r.Grade == "" || f.Grade.Worse(r.Grade)) {
			r.Grade = f.Grade
		}
	}
}

// Conceded tells whether a concession covers the finding, so that it does not count.
func (f *Finding) Conceded() bool { return f.Concession != nil && f.Concession.State == Covering }

// isFor tells whether a record is for a finding, or for one of those that it stands for.
func (x *Concession) isFor(f *Finding) bool {
	is := func(s subject.Subject) bool { return s.Kind().Name == x.Kind && s.Place().Name == x.Name }
	return f.Rule.Name == x.Rule && (is(f.Subject) || slices.ContainsFunc(f.Alike, func(g *rules.Finding) bool { return is(g.Subject) }))
}

// of says what became of the record for a finding.
func (c *Concessions) of(x *Concession, r *PartReview, f *Finding) *Conceded {
	p := r.Part
	switch {
	case x.Until < c.today:
		return &Conceded{x, Expired, "it ended on " + x.Until}
	case !c.Keeps && x.Drawing != "" && x.Drawing != p.Drawing:
		return &Conceded{x, Revised, fmt.Sprintf("it is for drawing %s", x.Drawing)}
	case !c.Keeps && x.Revision != "" && x.Revision != p.Revision:
		return &Conceded{x, Revised, fmt.Sprintf("it is for revision %s", x.Revision)}
	}
	if n := len(f.Places); n > x.Places {
		return &Conceded{x, Exceeded, fmt.Sprintf("it stands at %d places, accepted were %d", n, x.Places)}
	}
	for i := range f.Compared {
		if says := x.exceeds(&f.Compared[i]); says != "" {
			return &Conceded{x, Exceeded, says}
		}
	}
	return &Conceded{x, Covering, ""}
}

// exceeds says how a measured value is further from its need than was accepted, in the need's own direction; "" where it is
// not.
func (x *Concession) exceeds(c *rules.Compared) string {
	i := slices.IndexFunc(x.Accepted, func(a Accepted) bool { return a.Measure == c.Measure })
	if i < 0 {
		return fmt.Sprintf("no value of %s was accepted", c.Measure)
	}
	a := x.Accepted[i].Value
	says := fmt.Sprintf("%s is %v, accepted was %v", c.Measure, c.Value, a)
	v, number := c.Value.(float64)
	w, other := a.(float64)
	if !number || !other {
		if fmt.Sprint(c.Value) == fmt.Sprint(a) {
			return ""
		}
		return says
	}
	further := math.Abs(v - w)
	switch limit, ok := c.Limit.(float64); {
	case c.Needs == ">=" || c.Needs == ">":
		further = w - v
	case c.Needs == "<=" || c.Needs == "<":
		further = v - w
	case c.Needs == "==" && ok:
		further = math.Abs(v-limit) - math.Abs(w-limit)
	}
	if further > 1e-9 {
		return says
	}
	return ""
}
