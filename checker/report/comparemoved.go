package report

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"corerod/checker/compare"
	"corerod/checker/report/words"
	"corerod/parts/source"
	"corerod/parts/subject"
)

// mostSubjects is how many subjects are shown to people, those that moved most.
const mostSubjects = 12

// movedSection tells which measures moved by more than 1 %, and which subjects came and went.
func movedSection(c *compare.Comparison) section {
	s := section{title: "Measures that moved by more than 1 %"}
	w := movedWriter{unit: unitFor(c), mates: map[subject.Subject]int{}}
	for _, p := range c.Moved {
		w.mates[p.New]++
	}
	var all []movedLine
	for i := range c.Moved {
		if l := w.subject(&c.Moved[i]); l.text != "" {
			all = append(all, l)
		}
	}
	hidden := 0
	if len(all) > mostSubjects {
		least := slices.SortedStableFunc(slices.Values(all),
			func(a, b movedLine) int { return cmp.Compare(b.share, a.share) })[mostSubjects-1].share
		kept := slices.DeleteFunc(slices.Clone(all), func(l movedLine) bool { return l.share < least })
		kept = kept[:min(len(kept), mostSubjects)]
		hidden, all = len(all)-len(kept), kept
	}
	for _, l := range all {
		s.entries = append(s.entries, entry{head: l.text})
	}
	if hidden > 0 {
		s.entries = append(s.entries, entry{head: "and " + words.Plural(hidden, "more subject") + "; the JSON has all"})
	}
	if text := loneWords(c.Came); text != "" {
		s.entries = append(s.entries, entry{head: "new: " + text})
	}
	if text := loneWords(c.Went); text != "" {
		s.entries = append(s.entries, entry{head: "gone: " + text})
	}
	if text := w.unshown(); text != "" {
		s.notes = []string{text}
	}
	return s
}

// movedWriter words measures that moved.
type movedWriter struct {
	unit           string
	mates          map[subject.Subject]int // old subjects that are one new one, by the new one
	small, located int                     // measures that are not shown
}

type movedLine struct {
	text  string
	share float64 // the greatest of what is shown
}

// inFigures are measures of the part that stand among its figures.
var inFigures = []string{"height", "outside", "plan_area", "volume", "mass", "density", "class", "force"}

// subject words the measures of one subject; an empty line where none is shown.
func (w *movedWriter) subject(p *compare.MovedSubject) (l movedLine) {
	var all []string
	for i := range p.Measures {
		m := &p.Measures[i]
		switch {
		case p.New.Kind() == subject.PartKind && slices.Contains(inFigures, m.Field.Name):
		case m.Whereabouts():
			w.located++
		case m.Share() <= leastShare:
			w.small++
		default:
			all = append(all, w.measure(m))
			l.share = max(l.share, m.Share())
		}
	}
	if len(all) > 0 {
		name := source.Plain(p.New.Place().Name)
		if w.mates[p.New] > 1 {
			name += ", before " + source.Plain(p.Old.Place().Name)
		}
		l.text = fmt.Sprintf("%s, %s: %s", p.New.Kind().Name, name, strings.Join(all, "; "))
	}
	return l
}

func (w *movedWriter) measure(m *compare.MovedMeasure) string {
	name := strings.ReplaceAll(m.Field.Name, "_", " ")
	switch {
	case m.Field.Type != subject.Number:
		return fmt.Sprintf("%s %s to %s", name, source.Plain(m.OldWord), source.Plain(m.NewWord))
	case !m.Old.Known:
		return fmt.Sprintf("%s now %s, not known before", name, words.Value(m.New.Value, m.Field.Unit, w.unit))
	case !m.New.Known:
		return fmt.Sprintf("%s no longer known, before %s", name, words.Value(m.Old.Value, m.Field.Unit, w.unit))
	}
	was, is := twoValues(m.Old.Value, m.New.Value, m.Field.Unit, w.unit)
	if word, unit, ok := strings.Cut(is, " "); ok && strings.HasSuffix(was, " "+unit) {
		was, is = strings.TrimSuffix(was, " "+unit), word+" "+unit
	}
	return fmt.Sprintf("%s %s to %s", name, was, is)
}

// unshown counts what is not shown.
func (w *movedWriter) unshown() string {
	var all []string
	if w.small > 0 {
		all = append(all, words.Plural(w.small, "smaller move"))
	}
	if w.located > 0 {
		all = append(all, words.Plural(w.located, "moved coordinate"))
	}
	if len(all) == 0 {
		return ""
	}
	return "not shown: " + strings.Join(all, " and ") + "; the JSON has them"
}

// loneWords name subjects by kind.
func loneWords(all []compare.Lone) string {
	const most = 6
	var kinds []string
	for _, k := range subject.Kinds() {
		var names []string
		for _, l := range all {
			if l.Subject.Kind() != k {
				continue
			}
			name := source.Plain(l.Subject.Place().Name)
			if l.Places > 1 {
				name += fmt.Sprintf(" at %d places", l.Places)
			}
			names = append(names, name)
		}
		if len(names) > 0 {
			kinds = append(kinds, k.Name+" "+strings.ReplaceAll(fewer(names, most, "name"), "; ", ", "))
		}
	}
	return strings.Join(kinds, "; ")
}
