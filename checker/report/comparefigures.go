package report

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"corerod/checker/compare"
	"corerod/checker/report/words"
	"corerod/parts/source"
	"corerod/parts/subject"
	"corerod/parts/tooling"
)

// figuresSection holds the figures and tool members that differ against each other, and names those that do not.
func figuresSection(c *compare.Comparison) section {
	s := section{title: "Figures"}
	rows := [][]string{{"", "before", "now", "by"}}
	var same []string
	for i := range c.Figures {
		f := &c.Figures[i]
		was, is := figureWords(f, unitFor(c))
		switch {
		case f.Differs():
			rows = append(rows, []string{figureNames[f.Name], was, is, by(f.Old, f.New, f.Name)})
		case f.New.Known:
			same = append(same, figureNames[f.Name]+" "+is)
		}
	}
	for i := range c.Members {
		m := &c.Members[i]
		switch {
		case m.Differs:
			rows = append(rows, []string{memberWord(m), membersWords(m.Old), membersWords(m.New), ""})
		case m.Kind != tooling.Die:
			same = append(same, words.Plural(compare.Rods(m.New), kinds[m.Kind]))
		}
	}
	if was, is := pressWords(c.Old.Layout), pressWords(c.New.Layout); was != is {
		rows = append(rows, []string{"press", was, is, ""})
	}
	if len(rows) > 1 {
		s.table = rows
	}
	if len(same) > 0 && !c.Nothing() {
		s.notes = []string{"the same: " + strings.Join(same, ", ")}
	}
	return s
}

// figureNames are the figures of a comparison as people read them.
var figureNames = map[string]string{"height": "height", "across": "across", "plan_area": "plan", "volume": "volume", "mass": "mass",
	"density": "density", "class": "class", "force": "force to press", "ejection": "force to eject"}

func figureWords(f *compare.Figure, own string) (was, is string) {
	old, new := f.Old, f.New
	if !old.Known && !new.Known {
		return "not known", "not known"
	}
	was, is = figureWord(f, old, own), figureWord(f, new, own)
	switch {
	case was != is || !f.Differs():
		return was, is
	case f.Name == "volume":
		return words.Twelve(old.Value/1000) + " cm3", words.Twelve(new.Value/1000) + " cm3"
	}
	return words.Exact(old.Value, f.Unit, own), words.Exact(new.Value, f.Unit, own)
}

func figureWord(f *compare.Figure, v subject.Optional, own string) string {
	switch {
	case !v.Known:
		return "not known"
	case f.Name == "class":
		return words.Class(v.Value)
	case f.Name == "volume":
		return words.Digits(v.Value/1000) + " cm3"
	}
	return words.Value(v.Value, f.Unit, own)
}

// by is by how much a figure moved, as a share of what it was; "" where that says nothing.
func by(old, new subject.Optional, name string) string {
	if name == "class" || !old.Known || !new.Known || old.Value == 0 {
		return ""
	}
	return percent((new.Value - old.Value) / math.Abs(old.Value))
}

// percent writes a share with its sign and two significant digits, or to the whole where it has more.
func percent(share float64) string {
	v := 100 * share
	if math.Abs(v) >= 100 {
		v = math.Round(v)
	} else if r, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 2, 64), 64); err == nil {
		v = r
	}
	text := strconv.FormatFloat(v, 'f', -1, 64)
	if len(text) > 8 {
		text = strconv.FormatFloat(v, 'g', 2, 64)
	}
	if v > 0 {
		text = "+" + text
	}
	return text + " %"
}

func memberWord(m *compare.MembersOf) string {
	_, many, _ := strings.Cut(words.Plural(2, kinds[m.Kind]), " ")
	return many
}

// membersWords count members and name them.
func membersWords(ms []*tooling.Member) string {
	const most = 4
	if len(ms) == 0 {
		return "none"
	}
	var names []string
	for _, m := range ms {
		names = append(names, source.Plain(m.Name))
	}
	slices.Sort(names)
	return fmt.Sprintf("%d (%s)", compare.Rods(ms), fewer(names, most, "name"))
}

func pressWords(l *tooling.Layout) string {
	switch {
	case l.Press.Press == nil:
		return "not known"
	case !l.Press.Serves:
		return "none serves, " + source.Plain(l.Press.Press.Name) + " comes nearest"
	}
	return source.Plain(l.Press.Press.Name)
}
