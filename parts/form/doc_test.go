package form

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"corerod/parts/source"
)

const (
	keysPage  = "../../docs/part-keys.md"
	partPage  = "../../docs/part-file.md"
	tableHead = "<!-- profiles: written by COREROD_UPDATE=1 go test ./parts/form -->\n"
	tableEnd  = "<!-- end of profiles -->\n"
)

// TestDocs: the page of keys, and the table of profiles in the page of the part file, are what the declaration says. COREROD_UPDATE=1
// writes them.
func TestDocs(t *testing.T) {
	b, err := os.ReadFile(partPage)
	if err != nil {
		t.Fatal(err)
	}
	before, rest, found := strings.Cut(string(b), tableHead)
	_, after, ended := strings.Cut(rest, tableEnd)
	if !found || !ended {
		t.Fatalf("%s has no place for the table of profiles", partPage)
	}
	for file, want := range map[string]string{keysPage: pageOfKeys(), partPage: before + tableHead + tableOfProfiles() + tableEnd + after} {
		if os.Getenv("COREROD_UPDATE") != "" {
			if err := os.WriteFile(file, []byte(want), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		if got, err := os.ReadFile(file); err != nil || string(got) != want {
			t.Errorf("%s is stale (%v); run COREROD_UPDATE=1 go test ./parts/form", file, err)
		}
	}
}

// tableOfProfiles lists the profiles with their keys.
func tableOfProfiles() string {
	var b strings.Builder
	b.WriteString("\n| profile | what it is | keys |\n|---|---|---|\n")
	for _, p := range profiles() {
		f, _ := p.declare()
		fmt.Fprintf(&b, "| `%s` | %s | `%s` |\n", p.key, sentence(f.Doc), strings.Join(f.known(), "`, `"))
	}
	return b.String() + "\n"
}

// sentence is one without its full stop.
func sentence(doc string) string { return strings.TrimSuffix(doc, ".") }

// pageOfKeys is the page of every key, one table for each place where keys stand.
func pageOfKeys() string {
	var b strings.Builder
	b.WriteString(`# Every key of the part file

Every key with its value and its default, generated from the code that reads part files. Lengths are in the file's unit; the bounds
below are in mm. A length is 0 or at least 0.000001 mm. [The part file](part-file.md) explains the keys with examples.
`)
	told := map[string]bool{}
	tablesOf(&b, forms(), "The file", told)
	return b.String()
}

// tablesOf writes the table of a map and of the maps below it, each once.
func tablesOf(b *strings.Builder, f *Form, title string, told map[string]bool) {
	if told[title] {
		return
	}
	told[title] = true
	doc := ""
	if f.Doc != "" {
		doc = f.Doc + "\n\n"
	}
	fmt.Fprintf(b, "\n## %s\n\n%s| key | what it is | value | default |\n|---|---|---|---|\n", title, doc)
	for _, k := range f.Keys {
		form := k.Form()
		if g := f.among(k.Name); g != nil && g.Kind == "profile" {
			if k.Name == g.Keys[0] {
				fmt.Fprintf(b, "| one of `%s` | Its profile | keys | required |\n", strings.Join(g.Keys, "`, `"))
			}
			continue
		}
		fmt.Fprintf(b, "| `%s` | %s | %s | %s |\n", k.Name, sentence(form.Doc), strings.ReplaceAll(valueOf(form), "|", `\|`),
			without(f, &k, form))
	}
	for _, k := range f.Keys {
		for _, in := range mapsIn(k.Form()) {
			title := "`" + k.Name + "`"
			if k.Form().Type == source.FormNamed {
				title = "An entry of `" + k.Name + "`"
			}
			if in.called != "" && k.Form().Type == source.FormList {
				title = strings.ToUpper(in.called[:1]) + in.called[1:]
			} else if strings.HasPrefix(in.called, "a ") && in.Doc != "" && in.called != "a pattern" {
				title += " of a side feature"
			}
			tablesOf(b, in, title, told)
		}
	}
}

// mapsIn are the maps with keys that a value can be.
func mapsIn(f *Form) (all []*Form) {
	switch {
	case f.Type == source.FormMap:
		return []*Form{f}
	case f.Type == source.FormEither:
		for _, e := range f.Either {
			all = append(all, mapsIn(e)...)
		}
	case f.Each != nil:
		return mapsIn(f.Each())
	}
	return all
}

// without says what holds where a key is not there.
func without(in *Form, k *Key, f *Form) string {
	switch {
	case k.Required:
		return "required"
	case in.among(k.Name) != nil:
		return "give one of `" + strings.Join(in.among(k.Name).Keys, "`, `") + "`"
	case f.Default != "":
		return f.Default
	}
	return ""
}

// valueOf says what a value is.
func valueOf(f *Form) string {
	switch f.Type {
	case source.FormNumber:
		return numberOf(f)
	case source.FormBoolean:
		return "true or false"
	case source.FormWord:
		return "`" + strings.Join(f.Words, "`, `") + "`"
	case source.FormMap:
		return "keys"
	case source.FormNamed:
		return "names, each with keys"
	case source.FormEither:
		var all []string
		for _, e := range f.Either {
			all = append(all, valueOf(e))
		}
		return strings.Join(slices.Compact(all), ", or ")
	case source.FormList:
		return listOf(f)
	}
	switch {
	case f.Refers == ToFeature:
		return "name of a body or cut"
	case f.Refers == ToFace:
		return "NAME.top or NAME.bottom"
	case f.Refers == ToNumber && f.Pattern == "":
		return "name of a number"
	case f.Pattern == namePattern || f.Pattern == drawPattern:
		return "a name"
	}
	return "text"
}

func numberOf(f *Form) string {
	unit := f.unit("mm")
	bounds := fmt.Sprintf("%s to %s", decimal(f.Bounds[0]), decimal(f.Bounds[1]))
	switch {
	case f.Bounds == [2]float64{-MostLength, MostLength}:
		return "a length or coordinate"
	case f.Bounds == [2]float64{0, MostLength} && f.Open:
		return "a length above 0"
	case f.Bounds == [2]float64{0, MostLength}:
		return "a length, 0 or more"
	case f.Open:
		bounds = "above " + decimal(f.Bounds[0]) + ", at most " + decimal(f.Bounds[1])
	case f.Bounds[0] == f.Bounds[1]:
		bounds = decimal(f.Bounds[0])
	}
	if f.Quantity == Count && f.Bounds[0] != f.Bounds[1] {
		bounds = "whole, " + bounds
	}
	return strings.TrimSpace(bounds + " " + map[string]string{"deg": "degrees"}[unit] +
		map[bool]string{true: unit}[unit != "deg" && unit != "mm"])
}

func listOf(f *Form) string {
	if f.Tuple != nil {
		if f.Quantity == Length && len(f.Tuple) == 2 && f.Tuple[0].Type == source.FormNumber && f.Doc != "Least and greatest size." {
			return "[x, y]"
		}
		return fmt.Sprintf("a list of %d: %s", len(f.Tuple), valueOf(f.Tuple[0]))
	}
	return "a list: " + valueOf(f.Each())
}
