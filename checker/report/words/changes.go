package words

import (
	"fmt"
	"strconv"
	"strings"

	"corerod/checker"
	"corerod/parts/source"
)

// Change says what a change does to the drawing.
func Change(c *checker.Change) string {
	says := ""
	if c.Says != "" {
		says = source.Plain(c.Says) + ": "
	}
	return says + Sets(c) + "."
}

// Sets says what a change sets; past a few values of one it counts them.
func Sets(c *checker.Change) string {
	const most = 4
	var all []string
	for _, s := range c.Sets[:min(most, len(c.Sets))] {
		all = append(all, setText(s))
	}
	if more := len(c.Sets) - most; more > 0 {
		all = append(all, Plural(more, "more value"))
	}
	return strings.Join(all, ", and ")
}

func setText(s checker.Set) string {
	unit := ""
	if s.Unit != "" {
		unit = " " + s.Unit
	}
	at := fmt.Sprintf("%s, line %d, ", source.Plain(s.Path), s.Line)
	switch {
	case s.Remove:
		return at + "left out"
	case s.Key != "":
		return at + "becomes " + s.Key + ": " + source.Plain(s.To)
	case s.From == "":
		return at + "added as " + source.Plain(s.To) + unit
	}
	return at + "from " + source.Plain(s.From) + " to " + source.Plain(s.To) + unit
}

// Effect says what a change does to this finding and to others.
func Effect(c *checker.Change, numbers map[string]int) string {
	text := "Clears it"
	if !c.Clears {
		text = "Makes it milder"
	}
	var too []string
	for _, id := range c.ClearsToo {
		too = append(too, strconv.Itoa(numbers[id]))
	}
	if len(too) > 0 {
		text += ", and " + strings.Join(too, ", ") + " too"
	}
	for _, b := range c.Brings {
		text += fmt.Sprintf("; brings %s: %s, %s", b.Grade, Rule(b.Rule), source.Plain(b.Name))
	}
	for _, b := range c.Worsens {
		text += fmt.Sprintf("; makes worse %s: %s, %s", b.Grade, Rule(b.Rule), source.Plain(b.Name))
	}
	return text + "."
}
