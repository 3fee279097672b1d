// Package report writes the result of a review: pure functions from a review to text and machine formats. Text that
// comes from a file is escaped for where it goes, so that nothing in a part or pack can act on what shows it.
package report

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"corerod/checker"
	"corerod/parts"
	"corerod/parts/source"
	"corerod/parts/stock"
	"corerod/parts/subject"
	"corerod/rules"
)

// Caution ends every report for people.
const Caution = "This screens a drawing. It is no strength, press-safety or tool-strength calculation and no certificate: the shop, local codes and licensed practice decide."

// textWriter writes text for people. With apart its lines and tables are kept in blocks instead, for a medium that lays
// them out itself.
type textWriter struct {
	b      strings.Builder
	begun  bool // a line was written
	apart  bool
	blocks []block
	colour bool
	grades []gradeAt
}

// block is a titled stretch of a report.
type block struct {
	title string
	lines []string
	rows  [][]string
}

// most is the length of a line, in characters; longer ones go on below, set in by two more.
const most = 100

func (t *textWriter) line(format string, args ...any) {
	text := format
	if len(args) > 0 {
		text = fmt.Sprintf(format, args...)
	}
	if t.apart {
		if text = strings.TrimSpace(text); text != "" {
			last := &t.blocks[len(t.blocks)-1]
			last.lines = append(last.lines, text)
		}
		return
	}
	indent := text[:len(text)-len(strings.TrimLeft(text, " "))]
	if indent != "" {
		indent += "  "
	}
	t.wrapped(text, indent)
}

// wrapped writes text in lines, those after the first set in.
func (t *textWriter) wrapped(text, indent string) {
	for {
		cut := breakAt(text, len(indent))
		t.begun = true
		t.b.WriteString(text[:cut])
		t.b.WriteByte('\n')
		if cut == len(text) {
			return
		}
		text = indent + text[cut+1:]
	}
}

// breakAt is where a line is to end: at its last space before most, or whole where it has none.
func breakAt(text string, indent int) int {
	if utf8.RuneCountInString(text) <= most {
		return len(text)
	}
	end := len(string([]rune(text)[:most+1]))
	if cut := strings.LastIndexByte(text[:end], ' '); cut > indent {
		return cut
	}
	if cut := strings.IndexByte(text[end:], ' '); cut >= 0 {
		return end + cut
	}
	return len(text)
}

// head names a part as its drawing does, and its file.
func (t *textWriter) head(p *parts.Part) {
	head := []string{p.Name}
	if p.Title != "" {
		head = append(head, source.Plain(p.Title))
	}
	for _, d := range drawingOf(p) {
		head = append(head, source.Plain(d))
	}
	t.wrapped(strings.Join(head, ", "), "  ") // no line begins with text of the file
	t.line("  %s", source.Plain(p.File))
}

// drawingOf names a part's drawing and its revision; nothing where the file names none.
func drawingOf(p *parts.Part) []string {
	switch {
	case p.Drawing == "":
		return nil
	case p.Revision == "":
		return []string{"drawing " + p.Drawing}
	}
	return []string{"drawing " + p.Drawing + " revision " + p.Revision}
}

func (t *textWriter) part(p *checker.PartReview) {
	t.head(p.Part)
	t.graded(4, "  %s", verdict(p))
	t.line("  %s", figures(p))
	findings := byGrade(p.Findings)
	numbers := map[string]int{}
	for i, f := range findings {
		numbers[f.ID] = i + 1
	}
	for i, f := range findings {
		t.line("")
		t.finding(i+1, f, p.Part.Unit)
		t.changes(p, f, numbers)
		t.ground(f)
		t.conceded(f.Concession)
	}
	t.since(p)
	t.renewed(p)
	t.searched(p)
	t.concessions(p)
	if len(p.Notes) > 0 {
		t.line("")
		for _, n := range p.Notes {
			t.line("  Note, line %d: %s.", n.At.Line, source.Plain(n.Says))
		}
	}
	if len(p.Narrowest) > 0 {
		t.line("")
		t.line("  Met most narrowly:")
		for _, m := range p.Narrowest {
			t.line("    %s", margin(m, p.Part.Unit))
		}
	}
	t.account(p)
}

// byGrade are findings by grade, place and rule.
func byGrade(fs []*checker.Finding) []*checker.Finding {
	all := slices.Clone(fs)
	slices.SortStableFunc(all, checker.ByGrade)
	return all
}

// margin words a limit that was met.
func margin(m rules.Margin, unit string) string {
	return fmt.Sprintf("%s, %s: %s, needed %s", prose(m.Rule.Name), source.Plain(m.Subject.Place().Name), value(m.Compared.Value, m.Compared.Unit, unit), needed(&m.Compared, unit))
}

// account tells of every rule whether it applied, and why not.
func (t *textWriter) account(p *checker.PartReview) {
	if len(p.Account) == 0 {
		return
	}
	t.line("")
	t.line("  Account of the rules:")
	for _, a := range p.Account {
		switch {
		case a.Why != "":
			t.line("    %s: not applicable; %s", prose(a.Rule.Name), source.Plain(a.Why))
		case a.Found == 0:
			t.line("    %s: applied to %d of %s, no finding", prose(a.Rule.Name), a.Applied, plural(a.Subjects, a.Rule.Over))
		default:
			t.line("    %s: applied to %d of %s, %s", prose(a.Rule.Name), a.Applied, plural(a.Subjects, a.Rule.Over), plural(a.Found, "finding"))
		}
	}
}

// verdict states the part's grade and how many findings of each there are.
func verdict(p *checker.PartReview) string {
	judged := fmt.Sprintf("%s applied, %d not applicable", plural(p.Applied, "rule"), p.NotApplicable)
	conceded := 0
	for _, f := range p.Findings {
		if f.Conceded() {
			conceded++
		}
	}
	var counts []string
	if p.Grade == "" {
		counts = append(counts, "clear")
	}
	for _, g := range []rules.Grade{rules.Stop, rules.Change, rules.Ask} {
		n := 0
		for _, f := range p.Findings {
			if f.Grade == g && !f.Conceded() {
				n++
			}
		}
		if n > 0 {
			counts = append(counts, fmt.Sprintf("%d %s", n, g))
		}
	}
	if conceded > 0 {
		counts = append(counts, fmt.Sprintf("%d conceded", conceded))
	}
	return strings.Join(counts, ", ") + ": " + judged
}

// figures states the part's main sizes.
func figures(p *checker.PartReview) string {
	s, u := p.Subject, p.Part.Unit
	parts := []string{
		fmt.Sprintf("%s high, %s across", value(s.Height, subject.MM, u), value(s.Outside, subject.MM, u)),
		fmt.Sprintf("plan %s, volume %s", area(s.PlanArea, u), volume(s.Volume, u)),
	}
	if s.Mass.Known {
		parts = append(parts, digits(s.Mass.Value)+" g at "+digits(s.Density.Value)+" g/cm3")
	}
	parts = append(parts, fmt.Sprintf("%s on top, %s below, class %s", plural(int(s.LevelsTop), "level"), plural(int(s.LevelsBottom), "level"), classWord(s.Class)))
	if s.Force.Known {
		parts = append(parts, digits(s.Force.Value)+" kN to press")
	}
	return strings.Join(parts, "; ")
}

// classWord is a class of parts in Roman numerals.
func classWord(class float64) string { return [...]string{"I", "II", "III", "IV"}[int(class)-1] }

func plural(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	for one, many := range map[string]string{"punch": "punches", "shelf": "shelves"} {
		if rest, ok := strings.CutSuffix(what, one); ok {
			what = rest + many
			return fmt.Sprintf("%d %s", n, what)
		}
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// finding writes one finding: grade, rule and subject; place; measured, needed and missed; advice.
func (t *textWriter) finding(n int, f *checker.Finding, unit string) {
	t.graded(1, "  %d. %s: %s, %s", n, gradeText(f), prose(f.Rule.Name), source.Plain(foundOn(f)))
	t.line("     %s", where(f, unit))
	t.line("     %s.", source.Plain(f.Says))
	for _, l := range comparisons(f, unit, mostCompared) {
		t.line("     %s", l)
	}
	t.line("     Change: %s.", source.Plain(f.Rule.Change))
}

// foundOn names what a finding is of: what was judged and, where that is another, what was found beside it.
func foundOn(f *checker.Finding) string {
	name := f.Subject.Place().Name
	if f.Over == f.Subject || f.Over.Kind() == subject.PartKind {
		return name
	}
	return f.Over.Place().Name + " to " + name
}

// gradeText is the grade of a finding, what became of it since an earlier review, and whether it is conceded.
func gradeText(f *checker.Finding) string {
	text := string(f.Grade)
	if f.Since != "" {
		text += ", " + string(f.Since)
	}
	if f.Conceded() {
		text += ", conceded"
	}
	return text
}

// ground says why a finding matters, and what its limits stand on.
func (t *textWriter) ground(f *checker.Finding) {
	t.line("     In the die: %s", source.Plain(f.Rule.Because))
	if s := sources(f); s != "" {
		t.line("     Ground: %s.", s)
	}
}

// where says where a finding lies: line, and place on the part.
func where(f *checker.Finding, unit string) string {
	c := f.Subject.Place()
	line := fmt.Sprintf("line %d (%s)", f.At.Line, f.At.Path)
	for _, r := range f.Related {
		line += fmt.Sprintf(", line %d (%s)", r.Line, r.Path)
	}
	if f.Subject.Kind() == subject.PartKind {
		return line
	}
	at := fmt.Sprintf("at x %s, y %s, ", coordinate(c.X, unit), coordinate(c.Y, unit))
	if subject.Snap(c.ZLow) == subject.Snap(c.ZHigh) {
		at += "z " + value(c.ZLow, subject.MM, unit)
	} else {
		at += "z " + coordinate(c.ZLow, unit) + " to " + value(c.ZHigh, subject.MM, unit)
	}
	if len(f.Places) > 1 {
		at += fmt.Sprintf(", the first of %d places alike", len(f.Places))
	}
	return at + "; " + line
}

// mostCompared is how many failed comparisons a report for people lists; the JSON has all.
const mostCompared = 8

// comparisons writes the failed comparisons of a finding in words, at most so many; what is left is counted. Of a list the
// subject of each is named, and a pair stands once.
func comparisons(f *checker.Finding, unit string, most int) (lines []string) {
	all := once(f.Shown())
	for i := range min(most, len(all)) {
		lines = append(lines, elementOf(all, i, unit)+compared(&all[i], unit))
	}
	if more := len(all) - most; more > 0 {
		lines = append(lines, "and "+plural(more, "more comparison"))
	}
	return lines
}

// once leaves out comparisons of two elements that were compared the other way round with the same values.
func once(all []rules.Compared) []rules.Compared {
	type pair struct {
		of, to  subject.Point
		measure string
		value   any
	}
	seen := map[pair]bool{}
	return slices.DeleteFunc(slices.Clone(all), func(c rules.Compared) bool {
		if c.To == nil {
			return false
		}
		seen[pair{c.Of.Point, c.To.Point, c.Measure, c.Value}] = true
		return c.Of.Point != c.To.Point && seen[pair{c.To.Point, c.Of.Point, c.Measure, c.Value}]
	})
}

// elementOf leads a comparison to the element or the two that it is of, with their places where others have the same name.
func elementOf(all []rules.Compared, i int, unit string) string {
	switch c := &all[i]; {
	case c.Of == nil, len(all) < 2 && c.To == nil:
		return ""
	case c.To == nil:
		return spotText(all, c.Of, unit) + ": "
	default:
		return spotText(all, c.To, unit) + " to " + spotText(all, c.Of, unit) + ": "
	}
}

// spotText names an element; with its place where another of the same name is compared.
func spotText(all []rules.Compared, s *subject.Spot, unit string) string {
	other := func(o *subject.Spot) bool { return o != nil && o.Name == s.Name && o.Point != s.Point }
	if !slices.ContainsFunc(all, func(c rules.Compared) bool { return other(c.Of) || other(c.To) }) {
		return source.Plain(s.Name)
	}
	return fmt.Sprintf("%s at x %s, y %s", source.Plain(s.Name), coordinate(s.X, unit), coordinate(s.Y, unit))
}

// compared writes one failed comparison in words.
func compared(c *rules.Compared, unit string) string {
	text := fmt.Sprintf("%s is %s, needed %s", source.Plain(c.Measure), value(c.Value, c.Unit, unit), needed(c, unit))
	if c.MissesBy != nil {
		text += ", missed by " + missed(*c.MissesBy, c.Unit, unit)
	}
	if c.AnyOf > 1 {
		text += fmt.Sprintf(" (one of %d that would do", c.AnyOf)
		if c.Together > 0 {
			text += fmt.Sprintf(", with all of group %d", c.Together)
		}
		text += ")"
	}
	return text
}

// missed writes by how much a need is missed; less of a length than the last digit shown is not nothing.
func missed(by float64, unit, own string) string {
	switch {
	case by == 0, unit != subject.MM, coordinate(by, own) != "0":
		return value(by, unit, own)
	case own == "in":
		return "less than 0.000001 in"
	}
	return "less than 0.0001 mm"
}

// needed writes the other side of a comparison.
func needed(c *rules.Compared, unit string) string {
	words := map[string]string{">=": "at least ", "<=": "at most ", ">": "more than ", "<": "less than ", "==": "", "!=": "other than ", "in": "one of ",
		"not in": "none of ", "contains": "to contain ", "not contains": "not to contain "}
	w, ok := words[c.Needs]
	if !ok {
		w = c.Needs + " "
	}
	text := w + value(c.Limit, c.Unit, unit)
	if c.From != "" {
		text += " (" + source.Plain(c.From) + ")"
	}
	return text
}

// sources words what grounds a finding, each source once: one that a figure is taken from by memory or derived from is named
// as that.
func sources(f *checker.Finding) string {
	var all []string
	for i, s := range f.Sources {
		weaker := func(x rules.Cited) bool {
			return s.Key != "" && x.Key == s.Key && (x.Basis == stock.Memory || x.Basis == stock.Derived)
		}
		if !slices.ContainsFunc(f.Sources[i+1:], weaker) {
			all = append(all, ground(f, s))
		}
	}
	return strings.Join(all, "; ")
}

// ground words one source with its basis, as the reader must weigh it.
func ground(f *checker.Finding, c rules.Cited) string {
	return sourceWords(f.Rule.Pack, c.Key, c.Basis)
}

// sourceWords name a source of a pack with its basis.
func sourceWords(p *rules.Pack, key string, basis stock.Basis) string {
	title := source.Plain(key)
	if s, ok := p.Sources[key]; ok {
		title = source.Plain(s.Title)
		if s.By != "" {
			title = source.Plain(s.By) + ", " + title
		}
		if s.At != "" {
			title += ", " + source.Plain(s.At)
		}
	}
	switch basis {
	case stock.Practice:
		return "common practice, no source"
	case stock.Memory:
		if title == "" {
			return "from memory, unverified: shop to confirm"
		}
		return title + " (from memory, unverified: shop to confirm)"
	case stock.Derived:
		return title + " (derived from its figures)"
	}
	return title
}

func (t *textWriter) unread(r *checker.Review) {
	file := ""
	for i, u := range r.Unread {
		if i == 0 || u.File != file {
			if t.begun {
				t.line("")
			}
			t.line("Problems in %s:", source.Plain(u.File))
			file = u.File
		}
		at := ""
		if u.Line > 0 {
			at = fmt.Sprintf("line %d, column %d: ", u.Line, u.Column)
		}
		t.line("  %s%s", at, source.Plain(u.Message))
	}
	for _, f := range r.Faults {
		t.line("")
		t.line("A fault of corerod itself; please report it with the part file: %s", source.Plain(f))
	}
}

// tally counts the parts by grade.
func (t *textWriter) tally(r *checker.Review) {
	var all []string
	for _, g := range []rules.Grade{rules.Stop, rules.Change, rules.Ask, ""} {
		if n := r.Graded[g]; n > 0 {
			all = append(all, fmt.Sprintf("%d %s", n, gradeWord(g)))
		}
	}
	t.graded(4, "%s reviewed: %s.", plural(r.Reviewed(), "part"), strings.Join(all, ", "))
}

func (t *textWriter) inForce(r *checker.Review) {
	if len(r.Only) > 0 {
		t.line("Judged by these rules alone: %s.", strings.Join(r.Only, ", "))
	}
	for i, f := range r.Forces {
		if len(r.Forces) > 1 {
			t.line("%s of %d, from grade %s on:", []string{"Rules", "Other rules"}[min(i, 1)], len(r.Forces), f.StatusAt)
		}
		t.force(f.Book.Packs, f.Shop)
		if f.Concede != nil {
			t.line("Concessions: %s, %s, sha256 %.12s.", source.Plain(f.Concede.File), plural(len(f.Concede.Records), "record"), f.Concede.SHA256)
		}
	}
	for _, f := range r.NotInForce {
		t.line("Not in force: %s.", source.Plain(f))
	}
}

// force names the shop file and the packs in force, and what they leave out and change.
func (t *textWriter) force(packs []*rules.Pack, shop *rules.Shop) {
	for _, l := range forceLines(packs, shop) {
		t.line("%s", l)
	}
}

func forceLines(packs []*rules.Pack, shop *rules.Shop) (lines []string) {
	add := func(format string, args ...any) { lines = append(lines, fmt.Sprintf(format, args...)) }
	if shop != nil {
		add("Shop file: %s, sha256 %.12s.", source.Plain(shop.File), shop.SHA256)
	}
	for _, p := range rules.InForce(packs) {
		add("In force: %s %s, sha256 %.12s.", p.Name, source.Plain(p.Version), p.Digest)
	}
	for _, p := range packs {
		for _, x := range p.LeftOut {
			add("Left out by %s: %s; %s.", x.Pack, prose(x.Rule), source.Plain(x.Reason))
		}
		for _, x := range p.Regraded {
			add("Grade changed by %s: %s, to %s.", x.Pack, prose(x.Rule), x.Grade)
		}
	}
	return lines
}

// prose takes the hyphens out of a rule's name.
func prose(name string) string { return strings.ReplaceAll(name, "-", " ") }

// value writes a measure with its unit, a length in the part's own.
func value(v any, unit, own string) string {
	f, ok := v.(float64)
	if !ok {
		if s, text := v.(string); text {
			return source.Plain(s)
		}
		return fmt.Sprint(v)
	}
	switch unit {
	case subject.MM:
		return coordinate(f, own) + " " + own
	case subject.MM2:
		return area(f, own)
	case subject.MM3:
		if own == "in" {
			return volume(f, own)
		}
		return digits(f) + " mm3"
	case subject.Ratio, subject.Count, "":
		return digits(f)
	}
	return digits(f) + " " + unit
}

// area writes an area in the square of the part's own unit.
func area(v float64, own string) string {
	if own == "in" {
		return digits(v/25.4/25.4) + " in2"
	}
	return digits(v) + " mm2"
}

// volume writes a volume in cm3, or in in3 for a part in inches.
func volume(v float64, own string) string {
	if own == "in" {
		return digits(v/25.4/25.4/25.4) + " in3"
	}
	return digits(v/1000) + " cm3"
}

// coordinate writes a length in the part's own unit, without it.
func coordinate(v float64, own string) string {
	places := 4
	if own == "in" {
		v, places = v/25.4, 6
	}
	scale := math.Pow(10, float64(places))
	return strconv.FormatFloat(math.Round(v*scale)/scale+0, 'f', -1, 64)
}

// digits writes a figure with at most 4 significant digits, or to the whole where it has more.
func digits(v float64) string {
	if math.Abs(v) >= 10000 {
		return strconv.FormatFloat(math.Round(v), 'f', -1, 64)
	}
	r, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 4, 64), 64)
	if err != nil {
		return strconv.FormatFloat(v, 'g', 4, 64)
	}
	return strconv.FormatFloat(r, 'f', -1, 64)
}
