package words

import (
	"fmt"
	"slices"

	"corerod/checker"
	"corerod/parts/source"
	"corerod/parts/subject"
	"corerod/rules"
)

// MostCompared is how many failed comparisons a report for people lists; the JSON has all.
const MostCompared = 8

// Comparisons writes the failed comparisons of a finding in words, at most so many; what is left is counted. Of a list the
// subject of each is named, and a pair stands once.
func Comparisons(f *checker.Finding, unit string, most int) (lines []string) {
	all := once(f.Shown())
	for i := range min(most, len(all)) {
		lines = append(lines, Element(all, i, unit)+Compared(&all[i], unit))
	}
	if more := len(all) - most; more > 0 {
		lines = append(lines, "and "+Plural(more, "more comparison"))
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

// Element leads a comparison to the element or the two that it is of, with their places where others have the same name.
func Element(all []rules.Compared, i int, unit string) string {
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
	return fmt.Sprintf("%s at x %s, y %s", source.Plain(s.Name), Coordinate(s.X, unit), Coordinate(s.Y, unit))
}

// Compared writes one failed comparison in words.
func Compared(c *rules.Compared, unit string) string {
	text := fmt.Sprintf("%s is %s, needed %s", source.Plain(c.Measure), Value(c.Value, c.Unit, unit), Needed(c, unit))
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
	case by == 0, unit != subject.MM, Coordinate(by, own) != "0":
		return Value(by, unit, own)
	case own == "in":
		return "less than 0.000001 in"
	}
	return "less than 0.0001 mm"
}

// Needed writes the other side of a comparison.
func Needed(c *rules.Compared, unit string) string {
	says := map[string]string{">=": "at least ", "<=": "at most ", ">": "more than ", "<": "less than ", "==": "", "!=": "other than ",
		"in": "one of ", "not in": "none of ", "contains": "to contain ", "not contains": "not to contain "}
	w, ok := says[c.Needs]
	if !ok {
		w = c.Needs + " "
	}
	text := w + Value(c.Limit, c.Unit, unit)
	if c.From != "" {
		text += " (" + source.Plain(c.From) + ")"
	}
	return text
}
