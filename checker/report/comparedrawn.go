package report

import (
	"fmt"
	"math"
	"strings"

	"corerod/checker/compare"
	"corerod/checker/report/words"
	"corerod/parts/form"
	"corerod/parts/source"
)

// drawnSection tells what the part file says otherwise.
func drawnSection(c *compare.Comparison) section {
	s := section{title: "Drawn otherwise"}
	d := drawnWriter{}
	for _, v := range c.Drawn {
		if text := d.value(v, ""); text != "" {
			s.entries = append(s.entries, entry{head: fmt.Sprintf("%s, %s", text, lineOf(v.Old, v.New))})
		}
	}
	for i := range c.Features {
		if text := d.feature(&c.Features[i]); text != "" {
			s.entries = append(s.entries, entry{head: text})
		}
	}
	if d.rounded > 0 {
		s.notes = []string{fmt.Sprintf("%s by no more than %s mm, as rounding to another unit does; the JSON has them.", differ(d.rounded),
			words.Twelve(roundedBy))}
	}
	return s
}

func differ(n int) string {
	if n == 1 {
		return "1 length differs"
	}
	return fmt.Sprintf("%d lengths differ", n)
}

// lineOf says where a value or feature stands, in the new file where it is there.
func lineOf(old, new *form.Value) string {
	if new == nil {
		return fmt.Sprintf("line %d of the old file", old.Line)
	}
	return fmt.Sprintf("line %d", new.Line)
}

// drawnWriter words differences of part files.
type drawnWriter struct {
	rounded int // lengths that differ by rounding to another unit alone, which are not shown
}

// feature words one feature; "" where nothing of it is shown.
func (d *drawnWriter) feature(f *compare.RedrawnFeature) string {
	name := func(v *form.Value) string { return f.Section + "." + v.Key }
	switch f.How {
	case compare.Added:
		return fmt.Sprintf("added: %s, %s: %s", name(f.New), lineOf(nil, f.New), described(f.New))
	case compare.Removed:
		return fmt.Sprintf("removed: %s, %s: %s", name(f.Old), lineOf(f.Old, nil), described(f.Old))
	}
	values := d.values(f)
	if f.How == compare.Renamed {
		text := fmt.Sprintf("renamed: %s to %s, %s", name(f.Old), f.New.Key, lineOf(f.Old, f.New))
		if values != "" {
			text += ": " + values
		}
		return text
	}
	if values == "" {
		return ""
	}
	return fmt.Sprintf("changed: %s, %s: %s", name(f.New), lineOf(f.Old, f.New), values)
}

// mostValues is the number of values of one feature that are shown.
const mostValues = 8

// values words the values of a feature that differ.
func (d *drawnWriter) values(f *compare.RedrawnFeature) string {
	var all []string
	if old, new := f.Forms(); old != new && old != "" && new != "" {
		all = append(all, fmt.Sprintf("%s becomes %s", old, new))
	}
	for i := 0; i < len(f.Values); i++ {
		v := f.Values[i]
		text := d.value(v, f.Section+".")
		if i+1 < len(f.Values) && isPoint(v, f.Values[i+1]) {
			text = d.point(v, f.Values[i+1], f.Section+".")
			i++
		}
		if text != "" {
			all = append(all, text)
		}
	}
	return fewer(all, mostValues, "value")
}

// isPoint tells whether two values are the two numbers of a point that only one of the files has.
func isPoint(x, y compare.Redrawn) bool {
	pair := func(a, b *form.Value) bool {
		before, ok := strings.CutSuffix(a.Path, "[0]")
		return ok && b.Path == before+"[1]" && a.Numeric && b.Numeric && !strings.HasSuffix(before, "corner")
	}
	return x.Old == nil && y.Old == nil && pair(x.New, y.New) || x.New == nil && y.New == nil && pair(x.Old, y.Old)
}

// point words a point that only one of the files has.
func (d *drawnWriter) point(x, y compare.Redrawn, section string) string {
	one := func(a, b *form.Value) (path, text string) {
		return strings.TrimSuffix(pathBelow(a, section), "[0]"), listed(&form.Value{In: []*form.Value{a, b}})
	}
	if x.Old == nil {
		path, text := one(x.New, y.New)
		return path + " added as " + text
	}
	path, text := one(x.Old, y.Old)
	return path + " " + text + " left out"
}

// fewer joins texts, and counts those past a number.
func fewer(all []string, most int, what string) string {
	if len(all) > most {
		all = append(all[:most:most], "and "+words.Plural(len(all)-most, "more "+what))
	}
	return strings.Join(all, "; ")
}

// value words one value that differs, by its path below the feature that a section leads to; "" where it is not shown.
func (d *drawnWriter) value(v compare.Redrawn, section string) string {
	switch {
	case v.Old == nil && ofSet(v.New):
		return pathBelow(v.New, section) + " " + written(v.New) + " added"
	case v.Old == nil:
		return pathBelow(v.New, section) + " added as " + written(v.New)
	case v.New == nil:
		return pathBelow(v.Old, section) + " " + written(v.Old) + " left out"
	case v.Old.Numeric && v.New.Numeric && v.Old.Unit != v.New.Unit:
		if math.Abs(v.Old.MM()-v.New.MM()) <= roundedBy {
			d.rounded++
			return ""
		}
		return fmt.Sprintf("%s from %s to %s (%s to %s mm)", pathBelow(v.New, section), written(v.Old), written(v.New),
			words.Coordinate(v.Old.MM(), "mm"), words.Coordinate(v.New.MM(), "mm"))
	}
	from := written(v.Old)
	if v.New.Numeric && v.New.Unit != "" {
		from = strings.TrimSuffix(from, " "+v.Old.Unit)
	}
	return fmt.Sprintf("%s from %s to %s", pathBelow(v.New, section), from, written(v.New))
}

// ofSet tells an item of a list whose order says nothing, which is named without its index.
func ofSet(v *form.Value) bool { return setItem().MatchString(v.Path) }

var setItem = source.Pattern(`(^|\.)(seats|hold|of)\[\d+\]$`)

// pathBelow is the path of a value below its section and feature; from and to, which are words of a sentence too, stand
// in quotes.
func pathBelow(v *form.Value, section string) string {
	path := v.Path
	if section != "" {
		_, path, _ = strings.Cut(strings.TrimPrefix(path, section), ".")
	}
	switch {
	case path == "from", path == "to":
		return "`" + path + "`"
	case ofSet(v):
		return path[:strings.LastIndexByte(path, '[')]
	}
	return path
}

// plainWord is a text that needs no quotes to be told from the words round it.
var plainWord = source.Pattern(`^[A-Za-z0-9][A-Za-z0-9.-]{0,63}$`)

// mostDigits is the length at which a number that is written at greater length is cut.
const mostDigits = 24

// written is a value as the file has it, with its unit.
func written(v *form.Value) string {
	switch {
	case v.Numeric && v.Unit != "":
		return words.Short(v.Text, mostDigits) + " " + v.Unit
	case v.Numeric:
		return words.Short(v.Text, mostDigits)
	case plainWord().MatchString(v.Text):
		return v.Text
	}
	return source.Quote(v.Text)
}

// described words a whole feature.
func described(v *form.Value) string {
	return fewer(descriptions(v, ""), mostValues, "value")
}

func descriptions(v *form.Value, path string) (all []string) {
	for _, in := range v.In {
		below := in.Key
		if path != "" {
			below = path + "." + below
		}
		switch in.Shape {
		case source.Map:
			all = append(all, descriptions(in, below)...)
		case source.Sequence:
			all = append(all, below+" "+listed(in))
		default:
			all = append(all, below+" "+written(in))
		}
	}
	return all
}

// listed writes a list of values, or counts its items where they are many or have keys.
func listed(v *form.Value) string {
	const most = 4
	items, unit := make([]string, 0, len(v.In)), ""
	for _, in := range v.In {
		if in.Shape != source.Scalar || len(v.In) > most {
			return "of " + words.Plural(len(v.In), "item")
		}
		unit = in.Unit
		items = append(items, strings.TrimSuffix(written(in), " "+in.Unit))
	}
	return strings.TrimSpace("[" + strings.Join(items, ", ") + "] " + unit)
}
