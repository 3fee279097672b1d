package report

import (
	"fmt"
	"strconv"
	"strings"

	"corerod/checker"
	"corerod/checker/report/words"
	"corerod/parts/source"
	"corerod/parts/subject"
	"corerod/rules"
)

// partPage is the review of one part in words.
type partPage struct {
	heading
	verdict     verdict
	figures     string
	wayUp       string // how it lies in the die; "" where that is one
	findings    []finding
	since       sincePart
	search      string   // where the search for changes ended, "" where it looked at everything
	unused      []string // concessions that have no finding to cover
	concessions []string // all that the part has, with what became of each
	notes       []note
	notJudged   []string
	narrowest   []string // limits that were met
	account     []string // of every rule
}

// note is a remark without a grade, at a line of the part file.
type note struct {
	line int
	says string
}

// pageOfPart words the review of a part.
func pageOfPart(p *checker.PartReview) *partPage {
	out := &partPage{heading: headingOf(p.Part), verdict: verdictOf(p), figures: figures(p), since: sinceOf(p), search: searchOf(p),
		unused: unused(p), account: account(p)}
	if w := &p.Layout.WayUp; w.Why != nil || w.Pinned {
		out.wayUp = wayUp(w, p.Part.Unit)
	}
	all := words.ByGrade(p.Findings)
	numbers := map[string]int{}
	for i, f := range all {
		numbers[f.ID] = i + 1
	}
	for i, f := range all {
		out.findings = append(out.findings, findingOf(p, f, i+1, numbers, words.MostCompared))
	}
	for _, k := range p.Concessions {
		out.concessions = append(out.concessions, fmt.Sprintf("%s, %s: %s.", words.Rule(source.Plain(k.Rule)), source.Plain(k.Name),
			words.Concession(k)))
	}
	for _, n := range p.Notes {
		out.notes = append(out.notes, note{n.At.Line, source.Plain(n.Says)})
	}
	for _, n := range p.NotJudged {
		out.notJudged = append(out.notJudged, fmt.Sprintf("line %d, %s: %s.", n.At.Line, source.Plain(n.What), source.Plain(n.Why)))
	}
	for _, m := range p.Narrowest {
		out.narrowest = append(out.narrowest, margin(m, p.Part.Unit))
	}
	return out
}

// verdictOf states the part's grade and how many findings of each there are.
func verdictOf(p *checker.PartReview) verdict {
	v := verdict{after: fmt.Sprintf(": %s applied, %d not applicable", words.Plural(p.Applied, "rule"), p.NotApplicable)}
	conceded := 0
	for _, f := range p.Findings {
		if f.Conceded() {
			conceded++
		}
	}
	if p.Grade == "" {
		v.counts = append(v.counts, count{0, words.Grade("")})
	}
	for _, g := range []rules.Grade{rules.Stop, rules.Change, rules.Ask} {
		if n := graded(p, g); n > 0 {
			v.counts = append(v.counts, count{n, string(g)})
		}
	}
	if conceded > 0 {
		v.counts = append(v.counts, count{conceded, "conceded"})
	}
	return v
}

// graded counts the findings of a part that have a grade and are not conceded.
func graded(p *checker.PartReview, g rules.Grade) (n int) {
	for _, f := range p.Findings {
		if f.Grade == g && !f.Conceded() {
			n++
		}
	}
	return n
}

// words are a verdict on one line, each word of a grade as show gives it.
func (v *verdict) words(show func(grade string) string) string {
	var all []string
	for _, c := range v.counts {
		text := show(c.grade)
		if c.number > 0 {
			text = strconv.Itoa(c.number) + " " + text
		}
		all = append(all, text)
	}
	return v.before + strings.Join(all, ", ") + v.after
}

func (v verdict) String() string { return v.words(func(grade string) string { return grade }) }

// figures states the part's main sizes.
func figures(p *checker.PartReview) string {
	s, u := p.Subject, p.Part.Unit
	parts := []string{
		fmt.Sprintf("%s high, %s across", words.Value(s.Height, subject.MM, u), words.Value(s.Outside, subject.MM, u)),
		fmt.Sprintf("plan %s, volume %s", words.Area(s.PlanArea, u), words.Volume(s.Volume, u)),
	}
	if s.Mass.Known {
		parts = append(parts, words.Digits(s.Mass.Value)+" g at "+words.Digits(s.Density.Value)+" g/cm3")
	}
	if len(s.Finished) > 0 {
		f, finished := s.Finished[0], "finished "
		if f.Mass.Known {
			finished += words.Digits(f.Mass.Value) + " g"
		} else {
			finished += words.Volume(f.Volume, u)
		}
		parts = append(parts, finished)
	}
	parts = append(parts, fmt.Sprintf("%s on top, %s below, class %s",
		words.Plural(int(s.LevelsTop), "level"), words.Plural(int(s.LevelsBottom), "level"), words.Class(s.Class)))
	if s.Force.Known {
		parts = append(parts, words.Digits(s.Force.Value)+" kN to press")
	}
	return strings.Join(parts, "; ")
}

// margin words a limit that was met.
func margin(m rules.Margin, unit string) string {
	return fmt.Sprintf("%s, %s: %s, needed %s", words.Rule(m.Rule.Name), source.Plain(m.Subject.Place().Name),
		words.Value(m.Compared.Value, m.Compared.Unit, unit), words.Needed(&m.Compared, unit))
}

// account tells of every rule whether it applied, and why not.
func account(p *checker.PartReview) (lines []string) {
	for _, a := range p.Account {
		rule := words.Rule(a.Rule.Name)
		if a.Why != "" {
			lines = append(lines, fmt.Sprintf("%s: not applicable; %s", rule, source.Plain(a.Why)))
			continue
		}
		found := "no finding"
		if a.Found > 0 {
			found = words.Plural(a.Found, "finding")
		}
		lines = append(lines, fmt.Sprintf("%s: applied to %d of %s, %s", rule, a.Applied, words.Plural(a.Subjects, a.Rule.Over), found))
	}
	return lines
}

// searchOf says where the search for changes ended; "" where it looked at everything.
func searchOf(p *checker.PartReview) string {
	if p.Search == nil || !p.Search.Stopped {
		return ""
	}
	return fmt.Sprintf("The search for changes ended after %d changed parts; further changes may exist.", p.Search.Tried)
}

// unused are the records for the part that have no finding to cover.
func unused(p *checker.PartReview) (lines []string) {
	for _, k := range p.Concessions {
		if k.State == checker.Unused {
			lines = append(lines, fmt.Sprintf("Concession not used: %s, %s; line %d, until %s: %s.",
				words.Rule(source.Plain(k.Rule)), source.Plain(k.Name), k.Line, k.Until, source.Plain(k.Says)))
		}
	}
	return lines
}
