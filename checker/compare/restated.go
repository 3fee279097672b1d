package compare

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"corerod/checker"
	"corerod/parts/form"
	"corerod/parts/subject"
	"corerod/rules"
)

// restated lists what two versions of a part declare differently; some features were renamed.
func restated(was, is *checker.States, names map[string]string, all []*rules.Rule) (out []checker.Restated) {
	out = declared(was, is, names)
	for _, x := range []struct{ what, was, is string }{{"title", was.Title, is.Title}, {"customer", was.Customer, is.Customer}} {
		if x.was != x.is {
			rule := readerOf(all, subject.PartKind.Name, x.what)
			out = append(out, checker.Restated{What: x.what + by(rule), From: cmp.Or(x.was, "none"), To: cmp.Or(x.is, "none"),
				Counts: rule != ""})
		}
	}
	gone := vanished(was.Drawn, is.Drawn)
	if len(gone) == 0 {
		return out
	}
	if rule := readerOf(all, "", "name", "features", "between"); rule != "" {
		out = append(out, checker.Restated{What: "the names of features" + by(rule), From: strings.Join(gone, ", "), To: "others or none",
			Counts: true})
	}
	return out
}

// vanished are the names of features that are there no more.
func vanished(was, is []form.Drawn) (gone []string) {
	there := map[string]bool{}
	for _, d := range is {
		there[d.Name] = true
	}
	for _, d := range was {
		if d.Section != "dimensions" && !there[d.Name] {
			gone = append(gone, d.Name)
		}
	}
	return gone
}

// readerOf is the first rule that reads a text by which it may pass over a part or a feature; "" for none.
func readerOf(all []*rules.Rule, kind string, names ...string) string {
	for _, r := range all {
		if r.ReadsText(kind, names...) {
			return r.Name
		}
	}
	return ""
}

// by says which rule reads what has changed.
func by(rule string) string {
	if rule == "" {
		return ""
	}
	return ", which the rule " + rule + " reads,"
}

// declared lists what two versions of a part declare differently.
func declared(was, is *checker.States, names map[string]string) (all []checker.Restated) {
	say := func(what string, a, b any) {
		if x, y := fmt.Sprint(a), fmt.Sprint(b); x != y {
			all = append(all, checker.Restated{What: what, From: x, To: y})
		}
	}
	now := func(texts []string) string {
		var all []string
		for _, t := range texts {
			feature, rest, _ := strings.Cut(t, ": ")
			if rest != "" {
				rest = ": " + rest
			}
			all = append(all, form.Reference(feature, names)+rest)
		}
		slices.Sort(all)
		return cmp.Or(strings.Join(all, ", "), "none")
	}
	say("material", cmp.Or(was.Material, "none"), cmp.Or(is.Material, "none"))
	say("density", orNone(was.Density, "g/cm3"), orNone(is.Density, "g/cm3"))
	say("quantity", orNone(was.Quantity, "a year"), orNone(is.Quantity, "a year"))
	say("pressing", was.Pressing, is.Pressing)
	say("sized", was.Sized, is.Sized)
	say("seats", now(was.Seats), strings.Join(orList(slices.Sorted(slices.Values(is.Seats))), ", "))
	say("hold", now(was.Hold), strings.Join(orList(is.Hold), ", "))
	say("punch", now(was.Punch), strings.Join(orList(is.Punch), ", "))
	for _, x := range is.Later() {
		i := slices.IndexFunc(was.Later(), func(y *form.Drawn) bool {
			return y.MadeBy == x.MadeBy && y.Section == x.Section && form.Reference(y.Name, names) == x.Name
		})
		switch made := x.MadeBy + " " + x.Name; {
		case i < 0:
			all = append(all, checker.Restated{What: "made after pressing", To: made, Counts: true, Feature: x})
		case !x.Like(was.Later()[i], names):
			all = append(all, checker.Restated{What: "the shape of what is made after pressing", To: made, Counts: true, Feature: x})
		}
	}
	return all
}

func orNone(v float64, unit string) string {
	if v == 0 {
		return "none"
	}
	return fmt.Sprintf("%g %s", v, unit)
}

func orList(names []string) []string {
	if len(names) == 0 {
		return []string{"none"}
	}
	return names
}

// comparable tells whether the digests of two versions of a part can be compared: where a feature is made after pressing they
// must be of one version.
func comparable(was, is *checker.States) bool {
	if len(is.Later()) == 0 {
		return true
	}
	for _, d := range was.Drawn {
		if !strings.HasPrefix(d.Shape, form.ShapeVersion) {
			return false
		}
	}
	return true
}
