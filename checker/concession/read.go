// Package concession keeps records that a finding is agreed to for a time: it reads a file of them (Read), covers the findings of a
// reviewed part (Cover, a step of a review), lets records go on where a part was renamed or moved (Follow, after the comparison
// with an earlier review), and writes a new one (Add, AddGone, AddMachined). A record holds the values that were accepted; a
// finding that is further from its need than these is not covered. The day comes from outside.
package concession

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"path"
	"regexp"
	"slices"
	"strings"
	"sync"
	"time"

	"corerod/checker"
	"corerod/parts"
	"corerod/parts/form"
	"corerod/parts/source"
	"corerod/parts/subject"
	"corerod/rules"
)

// dateForm is how days are written.
const dateForm = time.DateOnly

// mostMonths is how far ahead the last day of a concession may lie.
const mostMonths = 24

// Read reads a file of concessions on a day, by the clock that is passed in. An empty file has none.
func Read(file string, b []byte, now time.Time) (*checker.Concessions, source.Problems) {
	sum := sha256.Sum256(b)
	c := &checker.Concessions{File: file, SHA256: hex.EncodeToString(sum[:]), Today: now.Format(dateForm)}
	if onlyComments(b) {
		return c, nil
	}
	root, ps := source.Parse(file, b)
	r := &concessionReader{Reader: source.Reader{File: file, Problems: ps}, latest: now.AddDate(0, mostMonths, 0).Format(dateForm)}
	if root != nil && r.Map(root, "a concessions file", Form.Known()...) {
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

func (r *concessionReader) records(c *checker.Concessions, n *source.Node) {
	if n == nil || n.Null {
		return
	}
	items, _ := r.List(n, "`concessions`")
	for _, it := range items {
		x := r.record(it)
		if x == nil {
			continue
		}
		if i := slices.IndexFunc(c.Records, func(y *checker.Concession) bool { return same(x, y) }); i >= 0 {
			r.Report(it, "the concession of %s for %s, %s is given in line %d already; change it there", source.Quote(x.Rule),
				source.Quote(x.Part), source.Quote(x.Name), c.Records[i].Line)
			continue
		}
		c.Records = append(c.Records, x)
	}
}

// same tells whether two records are for one finding.
func same(x, y *checker.Concession) bool {
	return x.Part == y.Part && x.File == y.File && x.Rule == y.Rule && x.Kind == y.Kind && x.Name == y.Name && x.Shape == y.Shape
}

// aConcession names a record in problems.
const aConcession = "a concession"

// record reads one record; nil where it has problems.
func (r *concessionReader) record(n *source.Node) *checker.Concession {
	if !r.Map(n, aConcession, concessionForm.Known()...) {
		return nil
	}
	before := len(r.Problems)
	x := &checker.Concession{Line: n.Line}
	text := func(key string, to *string, needed bool) {
		v := n.At(key)
		if v == nil && needed {
			r.Require(n, aConcession, key)
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
	if text("file", &x.File, false); x.File != "" {
		if clean := path.Clean(x.File); clean != x.File || path.IsAbs(x.File) || strings.Contains(x.File, "\\") {
			r.Report(n.At("file"), "`file` is %s; write the path from the folder of this file, such as %s", source.Quote(x.File),
				source.Quote(strings.TrimPrefix(strings.ReplaceAll(clean, "\\", "/"), "/")))
		}
	}
	text("rule", &x.Rule, true)
	if v := n.At("rule"); v != nil {
		x.RuleAt = parts.Place{Line: v.Line, Column: v.Column}
	}
	text("shape", &x.Shape, false)
	text("reason", &x.Reason, true)
	text("by", &x.By, true)
	r.shape(x, n)
	r.subject(x, n)
	r.accepted(x, n.At("accepted"))
	r.places(x, n.At("places"))
	r.until(x, r.Require(n, aConcession, "until"))
	if len(r.Problems) > before {
		return nil
	}
	return x
}

// subject reads what the finding is of; a part that is gone has none.
func (r *concessionReader) subject(x *checker.Concession, n *source.Node) {
	v := n.At("subject")
	if v == nil && x.Rule != checker.PartGone {
		r.Require(n, aConcession, "subject")
	}
	if v == nil || !r.Map(v, "`subject`", "kind", "name") {
		return
	}
	if k := r.Require(v, "`subject`", "kind"); k != nil {
		if x.Kind, _ = r.Text(k, "`kind`"); !isKind(x.Kind) {
			r.Report(k, "there is no kind of subject %s%s", source.Quote(x.Kind), source.Meant(x.Kind, subjectKinds()))
		}
	}
	if k := r.Require(v, "`subject`", "name"); k != nil {
		x.Name, _ = r.Text(k, "`name`")
	}
}

// places reads at how many places the finding is; one where nothing is said.
func (r *concessionReader) places(x *checker.Concession, v *source.Node) {
	x.Places = 1
	if v == nil {
		return
	}
	f, ok := r.Number(v, "`places`")
	if x.Places = int(f); ok && (f != float64(x.Places) || f < 1) {
		r.Report(v, "`places` is %s; it must be a whole number from 1 on", source.Quote(v.Value))
	}
}

// shape checks that what is no finding has a digest, and a finding none.
func (r *concessionReader) shape(x *checker.Concession, n *source.Node) {
	v := n.At("shape")
	switch {
	case x.Rule == "":
	case v != nil && source.Meant(x.Rule, rules.Reserved) != "" && x.OfFinding():
		r.Report(n.At("rule"), "there is no rule %s%s", source.Quote(x.Rule), source.Meant(x.Rule, rules.Reserved))
	case v != nil && !x.OfFinding() && !shapeDigest().MatchString(x.Shape):
		r.Report(v, "`shape` is %s; it is a digest such as %s0123456789abcdef, as `corerod concede` writes it", source.Quote(x.Shape),
			form.ShapeVersion)
	case v == nil && !x.OfFinding():
		r.Report(n, "a record of `%s` needs `shape`, the digest that `corerod concede` writes", x.Rule)
	case v != nil && x.OfFinding():
		r.Report(v, "`shape` belongs to records of `%s` and `%s`; leave it out", checker.PartGone, checker.NewlyMachined)
	case v != nil && n.At("accepted") != nil:
		r.Report(n.At("accepted"), "`accepted` belongs to records of findings; leave it out")
	}
}

// accepted reads the measured values that were agreed to: a list of what was measured with its values, or, as in format 1, the
// values alone.
func (r *concessionReader) accepted(x *checker.Concession, n *source.Node) {
	const wanted = "`accepted` needs a list of what was measured with its values, such as [{of: eye to plate, wall.thickness: 0.7}]"
	switch {
	case n == nil:
	case n.Shape == source.Map:
		r.values(x, n)
	case n.Shape == source.Sequence:
		x.Listed = true
		for _, it := range n.Items {
			if it.Shape != source.Map {
				r.Report(it, wanted)
				continue
			}
			r.values(x, it)
		}
	default:
		r.Report(n, wanted)
	}
}

// values reads the values of one thing that was measured.
func (r *concessionReader) values(x *checker.Concession, n *source.Node) {
	names := map[string]string{}
	for _, key := range []string{"of", "to"} {
		if v := n.At(key); v != nil && x.Listed {
			names[key], _ = r.Text(v, "`"+key+"`")
		}
	}
	for i, k := range n.Keys {
		v := n.Items[i]
		if (k.Value == "of" || k.Value == "to") && x.Listed {
			continue
		}
		if v.Shape != source.Scalar || v.Null {
			r.Report(v, "the accepted value of %s needs a number, a word, true or false; a measure with a comma needs quotes, as in "+
				"\"distance(h, g)\": 3", source.Quote(k.Value))
			continue
		}
		x.Accepted = append(x.Accepted, checker.Accepted{Of: names["of"], To: names["to"], Measure: k.Value, Value: acceptedValue(v)})
	}
}

// acceptedValue is a number, yes or no where it is written as one without quotes, else text.
func acceptedValue(v *source.Node) any {
	if v.Quoted {
		return v.Value
	}
	if v.Value == "true" || v.Value == "false" {
		return v.Value == "true"
	}
	if f, ok := (&source.Reader{}).Number(v, ""); ok {
		return f
	}
	return v.Value
}

// until reads the last day.
func (r *concessionReader) until(x *checker.Concession, n *source.Node) {
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
func Unknown(c *checker.Concessions, book *rules.Book) (ps source.Problems) {
	for _, x := range c.Records {
		if x.OfFinding() && !slices.ContainsFunc(book.Rules, func(r *rules.Rule) bool { return r.Name == x.Rule }) {
			var names []string
			for _, r := range book.Rules {
				names = append(names, r.Name)
			}
			says := fmt.Sprintf("there is no rule %s in force%s", source.Quote(x.Rule),
				source.Meant(x.Rule, append(names, rules.Reserved...)))
			ps = append(ps, source.Problem{File: c.File, Line: x.RuleAt.Line, Column: x.RuleAt.Column, Message: says})
		}
	}
	return ps
}

// shapeDigest is how a digest of a shape is written.
var shapeDigest = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile("^" + form.ShapeVersion + "[0-9a-f]{16}$") })

// subjectKinds are the words for what a record can be of.
func subjectKinds() (all []string) {
	for _, k := range subject.Kinds() {
		all = append(all, k.Name)
	}
	return append(all, "cut")
}

func isKind(name string) bool { return slices.Contains(subjectKinds(), name) }
