package concession

import (
	"context"
	"fmt"
	"strings"
	"testing"
	"time"

	"corerod/checker"
	"corerod/checker/internal/samples"
	"corerod/rules"
)

func day(t *testing.T, s string) time.Time {
	t.Helper()
	d, err := time.Parse(time.RFC3339, s)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// thinWall is a record for it, with some lines replaced.
func thinWall(lines ...string) string {
	text := `concessions:
  - part: plate
    drawing: HM-0170
    revision: A
    rule: wall-thickness
    subject: {kind: wall, name: eye to plate 2}
    accepted: {wall.thickness: 0.7}
    reason: trial lot
    by: tooling engineer
    until: 2027-03-31
`
	for i := 0; i+1 < len(lines); i += 2 {
		text = strings.Replace(text, lines[i], lines[i+1], 1)
	}
	return text
}

// TestConcessions: the laws of a concession, one a line.
func TestConcessions(t *testing.T) {
	const noon = "2026-11-25T12:00:00Z"
	for _, c := range []struct {
		name  string
		wall  float64
		rev   string
		file  string
		now   string
		state checker.State
		says  string
	}{
		{"as accepted", 0.7, "A", thinWall(), noon, checker.Covering, ""},
		{"in lines that end with a return", 0.7, "A", "# of the plate\r" + strings.ReplaceAll(thinWall(), "\n", "\r"), noon, checker.Covering, ""},
		{"better than accepted", 0.75, "A", thinWall(), noon, checker.Covering, ""},
		{"worse by a thousandth", 0.699, "A", thinWall(), noon, checker.Exceeded, "wall.thickness is 0.699, accepted was 0.7"},
		{"worse by less than counts", 0.7, "A", thinWall("0.7}", "0.7000000005}"), noon, checker.Covering, ""},
		{"worse by just what counts", 0.7, "A", thinWall("0.7}", "0.70000001}"), noon, checker.Exceeded, "wall.thickness is 0.7"},
		{"milder grade", 1.2, "A", thinWall(), noon, checker.Covering, ""},
		{"nothing accepted", 0.7, "A", thinWall("    accepted: {wall.thickness: 0.7}\n", ""), noon, checker.Exceeded, "no value of wall.thickness was accepted"},
		{"another measure accepted", 0.7, "A", thinWall("wall.thickness: 0.7", "wall.ratio: 0.7"), noon, checker.Exceeded, "no value of wall.thickness"},
		{"a word accepted", 0.7, "A", thinWall("0.7}", "thin}"), noon, checker.Exceeded, "accepted was thin"},
		{"the last day", 0.7, "A", thinWall(), "2027-03-31T23:59:59Z", checker.Covering, ""},
		{"the day after", 0.7, "A", thinWall(), "2027-04-01T00:00:00Z", checker.Expired, "it ended on 2027-03-31"},
		{"the last day in the clock's own zone", 0.7, "A", thinWall(), "2027-03-31T23:30:00-08:00", checker.Covering, ""},
		{"the day after in the clock's own zone", 0.7, "A", thinWall(), "2027-04-01T00:30:00+09:00", checker.Expired, "it ended"},
		{"another revision", 0.7, "B", thinWall(), noon, checker.Revised, "it is for revision A"},
		{"another revision that may be", 0.7, "B", "changed_revision: keeps\n" + thinWall(), noon, checker.Covering, ""},
		{"another revision that ends it", 0.7, "B", "changed_revision: ends\n" + thinWall(), noon, checker.Revised, "it is for revision A"},
		{"a record without a revision", 0.7, "B", thinWall("    revision: A\n", ""), noon, checker.Covering, ""},
		{"another drawing", 0.7, "A", thinWall("HM-0170", "HM-0171"), noon, checker.Revised, "it is for drawing HM-0171"},
		{"a record without a drawing", 0.7, "A", thinWall("    drawing: HM-0170\n", ""), noon, checker.Covering, ""},
		{"the finding is gone", 2, "A", thinWall(), noon, checker.Unused, "the part has no such finding"},
		{"another subject", 0.7, "A", thinWall("plate 2", "plate 9"), noon, checker.Unused, "the part has no such finding"},
		{"another kind", 0.7, "A", thinWall("kind: wall", "kind: gap"), noon, checker.Unused, "the part has no such finding"},
		{"expired and revised", 0.7, "B", thinWall(), "2027-04-01T00:00:00Z", checker.Expired, "it ended"},
		{"at more places than were accepted counts one", 0.7, "A", thinWall("    reason", "    places: 3\n    reason"), noon, checker.Covering, ""},
	} {
		all, ps := Read("c.yaml", []byte(c.file), day(t, c.now))
		if len(ps) > 0 {
			t.Errorf("%s: %v", c.name, ps)
			continue
		}
		r := checker.Run(context.Background(), []checker.File{fileOf("plate.yaml", []byte(samples.ThinEye(c.wall, c.rev)))},
			samples.StandardBook(t), checker.Options{StatusAt: rules.Ask, Concede: all, Steps: []checker.Step{Cover}})
		p := r.Parts[0]
		if len(p.Concessions) != 1 {
			t.Errorf("%s: %d records", c.name, len(p.Concessions))
			continue
		}
		k := p.Concessions[0]
		if k.State != c.state || !strings.Contains(k.Says, c.says) || (c.says == "") != (k.Says == "") {
			t.Errorf("%s: %s, %q; want %s, %q", c.name, k.State, k.Says, c.state, c.says)
		}
		if covered := c.state == checker.Covering; covered != (p.Grade == "") && c.state != checker.Unused ||
			covered && r.Status != checker.Clear {
			t.Errorf("%s: grade %q, status %d", c.name, p.Grade, r.Status)
		}
		if len(p.Findings) == 0 && c.state != checker.Unused {
			t.Errorf("%s: the finding is gone", c.name)
		}
	}
}

// TestConcessionsOtherParts: a record for a part that is not reviewed is not told of, nor does it cover another part.
func TestConcessionsOtherParts(t *testing.T) {
	all, ps := Read("c.yaml", []byte(thinWall("part: plate", "part: other")), day(t, "2026-11-25T12:00:00Z"))
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	p := checker.Run(context.Background(), []checker.File{fileOf("plate.yaml", []byte(samples.ThinEye(0.7, "A")))}, samples.StandardBook(t),
		checker.Options{StatusAt: rules.Change, Concede: all, Steps: []checker.Step{Cover}}).Parts[0]
	if len(p.Concessions) > 0 || p.Grade != rules.Change {
		t.Errorf("%v, grade %q", p.Concessions, p.Grade)
	}
}

// TestConcessionsNeeds: worse is further from the need in its own direction.
func TestConcessionsNeeds(t *testing.T) {
	x := &checker.Concession{Accepted: []checker.Accepted{{Measure: "m", Value: 5.0}, {Measure: "word", Value: "steel"},
		{Measure: "yes", Value: true}}}
	for _, c := range []struct {
		measure string
		value   any
		needs   string
		limit   any
		worse   bool
	}{
		{"m", 4.9, ">=", 6.0, true}, {"m", 5.1, ">=", 6.0, false}, {"m", 4.9, ">", 6.0, true}, {"m", 5.1, ">", 6.0, false},
		{"m", 5.1, "<=", 4.0, true}, {"m", 4.9, "<=", 4.0, false}, {"m", 5.1, "<", 4.0, true}, {"m", 4.9, "<", 4.0, false},
		{"m", 5.1, "==", 4.0, true}, {"m", 4.5, "==", 4.0, false}, {"m", 3.5, "==", 4.0, false}, {"m", 2.9, "==", 4.0, true},
		{"m", 5.0, "!=", 5.0, false}, {"m", 5.1, "!=", 5.1, true},
		{"word", "steel", "==", "iron", false}, {"word", "brass", "==", "iron", true},
		{"yes", true, "==", false, false}, {"yes", false, "==", true, true},
	} {
		f := rules.Compared{Measure: c.measure, Value: c.value, Needs: c.needs, Limit: c.limit}
		if worse := exceeds([]*rules.Compared{&f}, values(x, "", "", f.Measure, nil)) != ""; worse != c.worse {
			t.Errorf("%v: %t", f, worse)
		}
	}
}

// TestConcessionsRefused: each fault of a file is named where it stands, all together.
func TestConcessionsRefused(t *testing.T) {
	now := day(t, "2026-11-25T12:00:00Z")
	for _, c := range []struct{ name, file, want string }{
		{"no list", "concessions: x\n", "line 1, column 14: `concessions` needs a list"},
		{"no map", "concessions: [x]\n", "needs keys with values"},
		{"unknown key", thinWall("reason:", "reasons:"), "unknown key `reasons`"},
		{"no reason", thinWall("    reason: trial lot\n", ""), "needs `reason`"},
		{"empty reason", thinWall("trial lot", `"  "`), "`reason` is empty"},
		{"no role", thinWall("    by: tooling engineer\n", ""), "needs `by`"},
		{"no subject", thinWall("    subject: {kind: wall, name: eye to plate 2}\n", ""), "needs `subject`"},
		{"no kind", thinWall("kind: wall, ", ""), "needs `kind`"},
		{"no end", thinWall("    until: 2027-03-31\n", ""), "needs `until`"},
		{"a month", thinWall("2027-03-31", "2027-03"), "`until` is `2027-03`; write a day as 2027-03-31"},
		{"no such day", thinWall("2027-03-31", "2027-02-30"), "write a day"},
		{"another order", thinWall("2027-03-31", "31.3.2027"), "write a day"},
		{"the last day that may be", thinWall("2027-03-31", "2028-11-25"), ""},
		{"a day past 24 months", thinWall("2027-03-31", "2028-11-26"), "within 24 months: by 2028-11-25"},
		{"twice", thinWall() + strings.TrimPrefix(thinWall("0.7}", "0.6}"), "concessions:\n"), "line 11, column 5: the concession of `wall-thickness` for `plate`, `eye to plate 2` is given in line 2 already"},
		{"accepted as a list", thinWall("{wall.thickness: 0.7}", "[0.7]"), "`accepted` needs a list of what was measured"},
		{"half a place", thinWall("    reason", "    places: 1.5\n    reason"), "a whole number from 1 on"},
		{"a wrong word", "changed_revision: maybe\n" + thinWall(), "`ends`, `keeps`"},
		{"an anchor", "concessions: &a []\n", "anchors"},
	} {
		_, ps := Read("c.yaml", []byte(c.file), now)
		if c.want == "" && len(ps) > 0 || c.want != "" && !strings.Contains(fmt.Sprint(ps), c.want) &&
			!strings.Contains(ps.Error(), c.want) {
			t.Errorf("%s: %v, want %q", c.name, ps, c.want)
		}
	}
	all, _ := Read("c.yaml", []byte(thinWall("wall-thickness", "wall-thicknes")), now)
	if ps := Unknown(all, samples.StandardBook(t)); len(ps) != 1 ||
		!strings.Contains(ps[0].Message, "there is no rule `wall-thicknes` in force; did you mean `wall-thickness`?") {
		t.Error(ps)
	}
	for _, empty := range []string{"", "\n", "concessions: []\n", "concessions:\n"} {
		if all, ps := Read("c.yaml", []byte(empty), now); len(ps) > 0 || len(all.Records) > 0 {
			t.Errorf("%q: %v", empty, ps)
		}
	}
}

// TestConcede: the record that is written covers its finding, in every layout of the file, and the rest of it stays.
func TestConcede(t *testing.T) {
	now := day(t, "2026-11-25T12:00:00Z")
	agree := Agreement{Reason: "it's: \"fine\" # {really}", By: "shop's engineer", Until: "2027-03-31"}
	if says := agree.Wrong(now); says != "" {
		t.Fatal(says)
	}
	for _, before := range []string{
		"", "# nothing yet\n", "concessions:\n", "concessions: []\n", "changed_revision: ends\n", "{changed_revision: ends}\n",
		strings.Replace(thinWall("part: plate", "part: other"), "until: 2027-03-31", "until: 2027-03-31 # soon", 1) + "# the end\n",
		strings.ReplaceAll(thinWall("part: plate", "part: other"), "\n", "\r\n"),
		"concessions: [{part: other, rule: wall-thickness, subject: {kind: wall, name: x}, reason: y, by: z, until: 2027-01-01}]\n",
		"concessions:\n- part: other\n  rule: wall-thickness\n  subject: {kind: wall, name: x}\n  reason: y\n  by: z\n  until: 2027-01-01\nchanged_revision: keeps\n",
	} {
		all, ps := Read("c.yaml", []byte(before), now)
		if len(ps) > 0 {
			t.Fatal(before, ps)
		}
		p := checker.Run(context.Background(), []checker.File{fileOf("plate.yaml", []byte(samples.ThinEye(0.7, "A")))},
			samples.StandardBook(t), checker.Options{StatusAt: rules.Change, Concede: all, Steps: []checker.Step{Cover}}).Parts[0]
		after, err := Add(all, []byte(before), p, p.Findings[0], agree)
		if err != nil {
			t.Errorf("%q: %v", before, err)
			continue
		}
		again, ps := Read("c.yaml", after, now)
		if len(ps) > 0 || len(again.Records) != len(all.Records)+1 {
			t.Errorf("%q becomes %q: %v", before, after, ps)
			continue
		}
		p = checker.Run(context.Background(), []checker.File{fileOf("plate.yaml", []byte(samples.ThinEye(0.7, "A")))},
			samples.StandardBook(t), checker.Options{StatusAt: rules.Change, Concede: again, Steps: []checker.Step{Cover}}).Parts[0]
		k := p.Findings[0].Concession
		if k == nil || k.State != checker.Covering || k.Reason != agree.Reason || k.By != agree.By {
			t.Errorf("%q becomes %q: %+v", before, after, k)
		}
		for _, line := range strings.Split(strings.TrimSpace(before), "\n") {
			if line != "concessions: []" && !strings.HasPrefix(line, "{") && !strings.HasPrefix(line, "concessions: [{") &&
				!strings.Contains(string(after), line) {
				t.Errorf("%q is gone: %q", line, after)
			}
		}
		if _, err := Add(again, after, p, p.Findings[0], agree); err == nil {
			t.Error("a second record is written")
		}
	}
	for _, a := range []Agreement{{"x", "y", "2026-11-24"}, {"x", "y", "2028-11-26"}, {"x", "y", "soon"}, {" ", "y", "2027-01-01"},
		{"x", "", "2027-01-01"}} {
		if a.Wrong(now) == "" {
			t.Errorf("%v is taken", a)
		}
	}
}
