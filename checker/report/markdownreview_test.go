package report

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"corerod/checker"
	"corerod/checker/change"
	"corerod/checker/compare"
	"corerod/checker/concession"
	"corerod/checker/report/reporttest"
	"corerod/checker/report/words"
	"corerod/parts/source"
	"corerod/rules"
)

func markdownOf(t *testing.T, r *checker.Review) string {
	t.Helper()
	var b bytes.Buffer
	if err := Markdown(&b, r); err != nil {
		t.Fatal(err)
	}
	if n := utf8.RuneCount(b.Bytes()); n >= mostMarkdown {
		t.Errorf("the page has %d characters", n)
	}
	if !strings.HasSuffix(b.String(), "\n"+markdown(words.Caution)+"\n") {
		t.Errorf("the page does not end with the caution")
	}
	return b.String()
}

// copies is a review of many parts, those of another again and again under names of their own.
func copies(r *checker.Review, n int, file string) *checker.Review {
	many := *r
	many.Parts, many.Graded = nil, map[rules.Grade]int{}
	for i := range n {
		p := *r.Parts[i%len(r.Parts)]
		p.File = fmt.Sprintf(file, i)
		many.Parts = append(many.Parts, &p)
		many.Graded[p.Grade]++
	}
	return &many
}

var (
	itemLine = regexp.MustCompile(`(?m)^(\d+)\. \*\*(stop|change|ask)(?:, [a-z]+)*\*\*: `)
	leftLine = regexp.MustCompile(`(?m)^(\d+) more findings? of (\d+) parts? left out here`)
	rowsLine = regexp.MustCompile(`(?m)^Left out of the table: (\d+) more parts? with findings\.$`)
	clearOne = regexp.MustCompile(`(?m)^(\d+) parts? (?:is|are) clear\.`)
)

// told is the first number of a line of the page, 0 where the line is not there.
func told(page string, line *regexp.Regexp) int {
	m := line.FindStringSubmatch(page)
	if m == nil {
		return 0
	}
	n, _ := strconv.Atoi(m[1])
	return n
}

// TestMarkdownBounds: whatever is reviewed, the page is short enough, the worst comes first, and what it shows and what it
// says to have left out make up all parts and findings.
func TestMarkdownBounds(t *testing.T) {
	mill := reporttest.Mill(t)
	hostileName := strings.Repeat("@<b>|`x![y](http://z.example/)é日𝄞", 200) + "-%d.yaml"
	long := reporttest.Reviewed(t, map[string]string{"long.yaml": strings.Replace(reporttest.HostilePart, "title: ",
		"title: \""+strings.Repeat("x<!--", 12000)+"\"\n#", 1)}, change.Options{Changes: 1})
	unread := *copies(mill, 120, "part-%d.yaml")
	for i := range 3000 {
		unread.Unread = append(unread.Unread, source.Problem{File: fmt.Sprintf("bad-%d.yaml", i), Line: 1, Column: 2,
			Message: strings.Repeat("@all ", 100)})
	}
	for name, r := range map[string]*checker.Review{
		"mill": mill, "100 parts": copies(mill, 100, "part-%d.yaml"), "1000 parts": copies(mill, 1000, "part-%d.yaml"),
		"hostile names": copies(mill, 300, hostileName), "long texts": copies(long, 40, hostileName), "unread": &unread,
	} {
		page := markdownOf(t, r)
		findings, clear, other := 0, 0, 0
		for _, p := range r.Parts {
			findings += len(p.Findings)
			if p.Grade == "" {
				clear++
			} else {
				other++
			}
		}
		items := itemLine.FindAllStringSubmatch(page, -1)
		if got := len(items) + told(page, leftLine); got != findings || len(items) == 0 {
			t.Errorf("%s: %d findings shown and %d told of, not %d", name, len(items), told(page, leftLine), findings)
		}
		if rows := strings.Count(page, "\n| ") - 1; rows+told(page, rowsLine) != other || rows > mostRows || rows == 0 ||
			told(page, clearOne) != clear {
			t.Errorf("%s: %d rows, %d more, %d clear of %d parts with findings and %d clear", name, rows, told(page, rowsLine),
				told(page, clearOne), other, clear)
		}
		order := []string{"stop", "change", "ask"}
		if !slices.IsSortedFunc(items, func(a, b []string) int { return slices.Index(order, a[2]) - slices.Index(order, b[2]) }) {
			t.Errorf("%s: not the worst first", name)
		}
		for i, x := range items {
			if x[1] != fmt.Sprint(i+1) {
				t.Errorf("%s: the finding %d has the number %s", name, i+1, x[1])
			}
		}
	}
}

// TestMarkdownLeftParts: the parts of the findings that are left out are counted each once.
func TestMarkdownLeftParts(t *testing.T) {
	r := copies(reporttest.Mill(t), 1000, "part-%d.yaml")
	page := markdownOf(t, r)
	shown := len(itemLine.FindAllString(page, -1))
	p := &reviewPage{parts: worstFirst(r.Parts)}
	all, _ := p.all()
	left := map[string]bool{}
	for _, x := range all[shown:] {
		left[x.part.File] = true
	}
	if m := leftLine.FindStringSubmatch(page); m == nil || m[2] != fmt.Sprint(len(left)) {
		t.Errorf("%v, but findings of %d parts are left out", m, len(left))
	}
}

// TestMarkdownKept: of very many parts a page keeps the worst, and is the page of all of them.
func TestMarkdownKept(t *testing.T) {
	mill := reporttest.Mill(t)
	many := copies(mill, 20*mostKept, "part-%d.yaml")
	random := rand.New(rand.NewPCG(5, 5))
	random.Shuffle(len(many.Parts), func(i, k int) { many.Parts[i], many.Parts[k] = many.Parts[k], many.Parts[i] })
	conceded := &checker.Conceded{Concession: &checker.Concession{}, State: checker.Covering}
	by := map[rules.Grade][]*checker.PartReview{}
	for _, x := range many.Parts {
		by[x.Grade] = append(by[x.Grade], x)
	}
	late := mostKept + mostKept/2 // where a few with a stop come, before the first are dropped
	many.Parts = slices.Concat(by[rules.Change][:late], by[rules.Stop][:50], by[rules.Change][late:], by[""])
	for i, x := range many.Parts { // few findings count among many that are conceded
		if i%300 == 0 {
			continue
		}
		x.Findings = slices.Clone(x.Findings)
		for k, f := range x.Findings {
			g := *f
			g.Concession = conceded
			x.Findings[k] = &g
		}
	}
	var pruned, whole bytes.Buffer
	for w, prune := range map[*bytes.Buffer]bool{&pruned: true, &whole: false} {
		page := &reviewPage{w: w}
		var all []*checker.PartReview
		for _, x := range many.Parts {
			if page.Part(x); len(x.Findings) > 0 {
				all = append(all, x)
			}
		}
		if len(page.parts) >= len(all) {
			t.Fatalf("%d of %d parts are kept", len(page.parts), len(all))
		}
		if !prune {
			page.parts = all
		}
		if err := page.End(many); err != nil {
			t.Fatal(err)
		}
	}
	if pruned.String() != whole.String() {
		t.Errorf("the page is\n%.3000s\nof all it is\n%.3000s", pruned.String(), whole.String())
	}
}

// TestMarkdownNewFirst: a part with a new finding is kept, and comes first in the table, before any number of parts that are worse
// and were so before.
func TestMarkdownNewFirst(t *testing.T) {
	mill := reporttest.Mill(t)
	since := func(p *checker.PartReview, s checker.Since) *checker.PartReview {
		x := *p
		x.Findings = nil
		for _, f := range p.Findings {
			g := *f
			g.Since = s
			x.Findings = append(x.Findings, &g)
		}
		return &x
	}
	var stop, change *checker.PartReview
	for _, p := range mill.Parts {
		switch p.Grade {
		case rules.Stop:
			stop = since(p, checker.SinceSame)
		case rules.Change:
			change = since(p, checker.SinceNew)
		}
	}
	change.File = "is-new.yaml"
	many := *mill
	many.Parts = append([]*checker.PartReview{change}, slices.Repeat([]*checker.PartReview{stop}, 2*mostKept)...)
	many.Graded = map[rules.Grade]int{rules.Stop: 2 * mostKept, rules.Change: 1}
	many.Against = &checker.Against{From: "old"}
	page := markdownOf(t, &many)
	if !strings.Contains(page, "\n1. **change, new**: ") {
		t.Error("the new finding is not the first")
	}
	if _, rows, _ := strings.Cut(page, "|---|\n"); !strings.Contains(rows[:strings.Index(rows, "\n")], "is-new") {
		t.Errorf("the first row is %.100s", rows)
	}
}

// TestMarkdownTableConceded: a part whose findings are all conceded is clear: it is counted as such, and has no row.
func TestMarkdownTableConceded(t *testing.T) {
	many := copies(reporttest.Mill(t), 210, "part-%d.yaml") // 60 stop, 30 change
	for _, x := range many.Parts {
		if x.Grade != rules.Change {
			continue
		}
		x.Findings = slices.Clone(x.Findings)
		for k, f := range x.Findings {
			g := *f
			g.Concession = &checker.Conceded{Concession: &checker.Concession{}, State: checker.Covering}
			x.Findings[k] = &g
		}
		x.Grade = ""
		many.Graded[rules.Change]--
		many.Graded[""]++
	}
	page := markdownOf(t, many)
	if strings.Contains(page, "\n| clear |") || strings.Count(page, "\n| stop |") != many.Graded[rules.Stop] || told(page, rowsLine) != 0 ||
		told(page, clearOne) != many.Graded[""] {
		t.Errorf("the table is\n%.9000s", page)
	}
}

// TestMarkdownWords: the verdict is the first line; what could not be read, was left aside and went wrong is told.
func TestMarkdownWords(t *testing.T) {
	mill := reporttest.Mill(t)
	page := markdownOf(t, mill)
	if head, _, _ := strings.Cut(page, "\n"); head != "### 7 parts reviewed: 2 stop, 1 change, 4 clear; problems in 1 file" {
		t.Errorf("the first line is %s", head)
	}
	for _, want := range []string{"\n#### Problems\n\n- `bad.yaml`, line 1, column 1: ",
		"\n#### Judged by\n\n- In force: press-and-sinter ",
		"Status 2: problems in files or packs"} {
		if !strings.Contains(page, want) {
			t.Errorf("%q is missing in\n%s", want, page)
		}
	}
	sound := reporttest.Reviewed(t, map[string]string{"s.yaml": "part: s\nunits: mm\nbodies: {a: {circle: {diameter: 20}, from: 0, to: " +
		"6}}\n"}, change.Options{})
	page = markdownOf(t, sound)
	if !strings.HasPrefix(page, "### s: clear: ") || strings.Contains(page, "Findings") || strings.Count(page, "\n| clear | s |") != 1 {
		t.Errorf("a clear part alone:\n%s", page)
	}
	sound.Only, sound.PassedOver, sound.Faults = []string{"wall-thickness"}, []checker.PassedOver{{File: "own-pack",
		Why: "holds a rule pack; name it to review its trial parts"}}, []string{"x.yaml: index out of range"}
	page = markdownOf(t, sound)
	for _, want := range []string{"; 1 fault of corerod itself\n", "Judged by these rules alone: wall-thickness.",
		"\n#### Passed over\n\n- own-pack holds a rule pack", "\n#### Problems\n\n- A fault of corerod itself; please report it"} {
		if !strings.Contains(page, want) {
			t.Errorf("%q is missing in\n%s", want, page)
		}
	}
	if page = markdownOf(t, &checker.Review{Head: checker.Head{Forces: []*checker.Force{{Book: &rules.Book{}, StatusAt: rules.Change}}},
		Status: checker.Nothing}); !strings.HasPrefix(page, "### Nothing was reviewed\n\nStatus 3: nothing was reviewed (`change`).\n") {
		t.Errorf("nothing:\n%s", page)
	}
}

// TestMarkdownConceded: a finding that is conceded says so, one whose concession has expired does not; all are shown.
func TestMarkdownConceded(t *testing.T) {
	const text = "part: plate\nunits: mm\nbodies: {plate: {rectangle: {length: 30, width: 20, corner: 3}, from: 0, to: 6}}\ncuts: {eye: " +
		"{circle: {diameter: 8, at: [10.6, 0]}}}\n"
	const record = "concessions:\n  - part: plate\n    rule: wall-thickness\n    subject: {kind: wall, name: eye to plate 2}\n    accepted: " +
		"{wall.thickness: 0.4}\n    reason: \"[trial](x)\"\n    by: shop\n    until: 2027-01-31\n"
	for until, covers := range map[string]bool{"2027-01-31": true, "2026-11-24": false} {
		conceded, ps := concession.Read("agreed.yaml", []byte(strings.Replace(record, "2027-01-31", until, 1)),
			time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC))
		if len(ps) > 0 {
			t.Fatal(ps)
		}
		r := reporttest.Reviewed(t, map[string]string{"plate.yaml": text},
			change.Options{Options: checker.Options{Concede: conceded, Steps: []checker.Step{concession.Cover}}})
		compare.WithEarlier(r,
			compare.EarlierOf(reporttest.Reviewed(t, map[string]string{"plate.yaml": strings.Replace(text, "10.6", "10.4", 1)},
				change.Options{}), "before"))
		page := markdownOf(t, r)
		if items := itemLine.FindAllString(page, -1); len(items) != len(r.Parts[0].Findings) {
			t.Errorf("%v in\n%s", items, page)
		}
		if is := strings.Contains(page, ". **change, "+string(r.Parts[0].Findings[1].Since)+", conceded**: wall thickness"); is != covers {
			t.Errorf("until %s:\n%s", until, page)
		}
		inertPage(t, page)
	}
}

// scaffold is what a line of the page has of its own before text.
var scaffold = regexp.MustCompile("^Status \\d: .*\\(`(?:stop|change|ask)`\\)\\.$|^ *(?:- |\\d+\\. |#{3,4} " +
	")*(?:\\*\\*(?:stop|change|ask)(?:, [a-z]+)*\\*\\*: )?")

// inertPage fails where a line of a page, without what the page has of its own, shows anything but text: see read and live.
// A row of a table has as many cells as every other.
func inertPage(t *testing.T, page string) {
	t.Helper()
	for line := range strings.Lines(page) {
		line = strings.TrimSuffix(line, "\n")
		texts := []string{strings.TrimPrefix(line, scaffold.FindString(line))}
		if strings.HasPrefix(line, "|") {
			if texts = strings.Split(strings.Trim(line, "|"), "|"); len(texts) != 11 {
				t.Fatalf("%d cells in %s", len(texts), line)
			}
		}
		for _, text := range texts {
			if _, prose := read(t, strings.TrimSpace(text)); live.MatchString(prose) {
				t.Fatalf("%q is live in %s", live.FindString(prose), line)
			}
			if strings.ContainsAny(text, "<>") {
				t.Fatalf("an element in %s", line)
			}
		}
	}
}
