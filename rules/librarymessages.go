package rules

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"sync"
	"unicode"

	"corerod/parts/source"
	"corerod/parts/subject"

	"github.com/google/cel-go/cel"
)

// translate puts the expression library's complaints into the words of this package. Of the complaints about what
// cannot be read only the first is kept: the others follow from it.
func (x *expression) translate(errors []*cel.Error, unreadable bool) (faults []fault) {
	for _, e := range errors {
		if !unreadable && len(faults) > 0 && strings.Contains(e.Message, "!error!") {
			continue // it follows from another
		}
		at := x.rune(e.Location.Line(), e.Location.Column())
		if unreadable {
			if strings.HasPrefix(e.Message, needsName) {
				at = x.start(at)
			}
			faults = append(faults, fault{at, x.syntax(at, e.Message)})
		} else {
			faults = append(faults, x.clash(at, e.Message))
		}
	}
	slices.SortStableFunc(faults, func(a, b fault) int { return cmp.Compare(a.at, b.at) })
	if unreadable && len(faults) > 0 {
		faults = faults[:1]
		if f, ok := x.misread(faults[0].at); ok && !bounds().MatchString(faults[0].message) {
			faults[0] = f
		}
	}
	return slices.Compact(faults)
}

// rune turns a line, from 1, and a column, from 0, of the text into the number of a rune.
func (x *expression) rune(line, column int) int {
	at := 0
	for ; line > 1 && at < len(x.text); at++ {
		if x.text[at] == '\n' {
			line--
		}
	}
	return min(max(at+column, 0), len(x.text))
}

// syntax says why a text cannot be read, at the rune where reading stopped.
func (x *expression) syntax(at int, message string) string {
	switch {
	case strings.Contains(message, "code point size exceeds limit"):
		return fmt.Sprintf("the expression is longer than %d characters; split the rule", mostCharacters)
	case strings.Contains(message, "recursion limit exceeded"):
		return fmt.Sprintf("the expression is nested deeper than %d levels; write it more simply", mostDepth)
	case strings.Contains(message, "expression count exceeds limit"):
		return fmt.Sprintf("the expression has more than %d terms; split the rule", mostNodes)
	}
	if strings.Contains(message, "invalid argument to has()") {
		return "has() asks for one measure, as in `has(hole.bore)`"
	}
	if strings.Contains(message, "argument must be a simple name") || strings.Contains(message, "must be a simple name") {
		return "the first argument names each element, as in `all(w, w.web)`"
	}
	if strings.HasPrefix(message, needsName) {
		return message
	}
	if strings.Contains(message, "invalid double literal") || strings.Contains(message, "invalid int literal") {
		return "the number is out of range"
	}
	if strings.TrimSpace(string(x.text)) == "" {
		return "the expression is empty"
	}
	if strings.TrimSpace(string(x.text[at:])) == "" {
		return "the expression ends too early"
	}
	return fmt.Sprintf("the expression cannot be read from %s on", source.Quote(x.wordAt(at)))
}

// bounds are the messages of expressions that are not read at all, or whose parts could be read.
var bounds = lazy(
	`^(the expression (is longer|is nested|has more|is empty)|has\(\) asks|the first argument|the second argument|the number is)`)

// What the expression library says of types.
var (
	overload = lazy(`^found no matching overload for '([^']*)' applied to '([^']*)'`)
	expected = lazy(`^expected type '([^']*)' but found '([^']*)'`)
)

// start goes from the point of a chain of names, such as hole.bore, to the first letter of the chain.
func (x *expression) start(at int) int {
	if at >= len(x.text) || x.text[at] != '.' {
		return at
	}
	for at > 0 && (x.text[at-1] == '.' || x.text[at-1] == '_' || unicode.IsLetter(x.text[at-1]) || unicode.IsDigit(x.text[at-1])) {
		at--
	}
	return at
}

// clash says why the parts of a readable text do not fit each other.
func (x *expression) clash(at int, message string) fault {
	switch {
	case strings.Contains(message, "comprehension exceeds nesting limit"):
		return fault{at, fmt.Sprintf("comprehensions are nested deeper than %d", mostNesting)}
	case strings.Contains(message, "node count exceeds limit"):
		return fault{0, fmt.Sprintf("the expression has more than %d terms; split the rule", mostNodes)}
	}
	if strings.Contains(message, "cannot be range of a comprehension") {
		return fault{x.start(at), "a list is needed here, such as `part.holes`"}
	}
	if m := expected().FindStringSubmatch(message); m != nil {
		return fault{x.start(at), fmt.Sprintf("here stands %s, where %s is needed", typeWord(m[2]), typeWord(m[1]))}
	}
	m := overload().FindStringSubmatch(message)
	if m == nil {
		return fault{at, "the expression does not fit together here: " + source.Plain(message)}
	}
	if name, ok := strings.CutPrefix(m[1], "@"); ok && isOverList(name) {
		return fault{x.nameAt(at, name), mismatch(m[1], m[2])}
	}
	return fault{at, mismatch(m[1], m[2])}
}

// mismatch says which values an operator or function was given and which it takes.
func mismatch(function, arguments string) string {
	given := typeWords(arguments)
	op := strings.Trim(strings.ReplaceAll(function, "@", ""), "_")
	switch function {
	case "_<_", "_<=_", "_>_", "_>=_":
		if strings.HasPrefix(arguments, "(bool, double") {
			return fmt.Sprintf("`%s` compares two numbers, not %s; write a chain as `a <= b && b <= c`", op, given)
		}
		return fmt.Sprintf("`%s` compares two numbers, not %s", op, given)
	case "_==_", "_!=_":
		return fmt.Sprintf("`%s` compares two values of one type, not %s", op, given)
	case "@in":
		return fmt.Sprintf("`in` needs a value and a list of its type, not %s", given)
	case "_&&_", "_||_", "!_":
		return fmt.Sprintf("`%s` needs true or false, not %s", op, given)
	case "_?_:_":
		if !strings.HasPrefix(arguments, "(bool") {
			return "`?` needs true or false before it, as a comparison gives; found " + given
		}
		_, results, _ := strings.Cut(given, " and ")
		return "both results of `? :` must be of one type; found " + results
	case "_+_", "_-_", "_*_", "_/_":
		return calculates(op, given)
	case "-_":
		return "`-` needs a number, not " + given
	}
	if name, ok := strings.CutPrefix(function, "@"); ok && isOverList(name) {
		return fmt.Sprintf("`%s` takes a number of each element, not %s", name, strings.TrimPrefix(given, "a number and "))
	}
	takes, known := taken[function]
	switch {
	case !known && slices.Contains(printing, function):
		takes = "one number"
	case !known:
		return fmt.Sprintf("`%s` cannot take %s", op, given)
	}
	if isOverList(function) && strings.Contains(given, "a list") {
		takes += fmt.Sprintf(" (over a list, `%s(list, x, number of x)`)", function)
	} else if isOverList(function) && strings.Count(arguments, ",") > 1 {
		takes += fmt.Sprintf(" (for more, `%s(a, %s(b, c))`)", function, function)
	}
	return fmt.Sprintf("`%s` takes %s, not %s", op, takes, given)
}

// calculates says what an operator on numbers was given; a `+` of text is not how words and printed numbers are joined.
func calculates(op, given string) string {
	says := fmt.Sprintf("`%s` calculates with two numbers, not %s", op, given)
	if op == "+" && strings.Contains(given, "text") {
		says += "; words stand beside the braces, as in `is {length(x)} thick`"
	}
	return says
}

// taken says what functions take.
var taken = map[string]string{"abs": "one number", "from_inch": "one number", "grade_width": "two numbers", "least": "two numbers",
	"greatest": "two numbers", "round": "one number", "distance": "two subjects", "startsWith": "a text behind a text",
	"endsWith": "a text behind a text", "contains": "a text behind a text (for a list, `x in list`)", "size": "a list or a text",
	"table": "the name of a table and a number", "within": "the name of a table and a number"}

// typeWords puts the types of arguments into words, as in (double, string); of a function behind its target, as in
// string.(double), that of the target stands first.
func typeWords(arguments string) string {
	var words []string
	inside := strings.TrimPrefix(arguments, "(")
	if target, rest, ok := strings.Cut(arguments, ".("); ok {
		words, inside = []string{typeWord(target)}, rest
	}
	for _, t := range strings.Split(strings.TrimSuffix(inside, ")"), ", ") {
		if t != "" {
			words = append(words, typeWord(t))
		}
	}
	if len(words) == 0 {
		return "nothing"
	}
	return strings.Join(words, " and ")
}

// typeWord puts a type into words.
func typeWord(t string) string {
	switch t {
	case "double":
		return "a number"
	case "string":
		return "text"
	case "bool":
		return "true or false"
	case "Figure":
		return "printed text"
	}
	if of, ok := strings.CutPrefix(t, "list("); ok {
		switch of = strings.TrimSuffix(of, ")"); {
		case of == "double":
			return "a list of numbers"
		case of == "string":
			return "a list of text"
		case subject.KindNamed(strings.ToLower(of)) != nil:
			return "a list of " + subject.KindNamed(strings.ToLower(of)).List
		}
		return "a list"
	}
	return "the " + strings.ToLower(t)
}

// lazy compiles a pattern when it is first used: most runs never word a fault.
func lazy(pattern string) func() *regexp.Regexp {
	return sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(pattern) })
}
