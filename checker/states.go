package checker

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"corerod/parts"
	"corerod/parts/form"
	"corerod/parts/subject"
	"corerod/rules"
)

// States are what a part file declares that rules take as given, and what it draws, by digests.
type States struct {
	Title    string       // "" for none
	Customer string       // "" for none
	Material string       // its name; "" for none
	Density  float64      // g/cm3, 0 for none
	Quantity float64      // 0 for none
	Pressing string       //
	Sized    bool         //
	Seats    []string     //
	Hold     []string     //
	Punch    []string     // features whose punch is declared, such as "hub: own"
	Shape    string       // digest of all that is drawn
	Drawn    []form.Drawn // features, edges, marks and dimensions
}

// StatesOf gives what a part declares. The part must still have what its file draws.
func StatesOf(p *parts.Part) States {
	s := States{Title: p.Title, Customer: p.Customer, Material: p.Material.Name, Density: p.Material.Density, Quantity: p.Quantity, Pressing: p.Pressing, Sized: p.Sized,
		Seats: []string{}, Hold: append([]string{}, p.Hold...), Punch: []string{}, Drawn: form.DrawnBy(p)}
	for _, x := range p.Seats {
		s.Seats = append(s.Seats, x.Feature+"."+x.Face.Face)
	}
	for _, f := range p.Features() {
		if f.Punch != "none" {
			s.Punch = append(s.Punch, f.Name+": "+f.Punch)
		}
	}
	s.Shape = form.ShapeOf(s.Drawn)
	slices.Sort(s.Hold)
	slices.Sort(s.Punch)
	return s
}

// later are the features that are made after pressing: most rules pass over them.
func (s *States) later() (all []*form.Drawn) {
	for i := range s.Drawn {
		if s.Drawn[i].MadeBy != "pressing" {
			all = append(all, &s.Drawn[i])
		}
	}
	return all
}

// Restated is a statement of a part file that is another than before. One that counts takes something out of the rules' sight.
type Restated struct {
	What, From, To string
	Counts         bool
	Concession     *Conceded // the record that a person agreed to it; nil for none

	feature *form.Drawn // that is made after pressing
}

// restated lists what two versions of a part declare differently; some features were renamed.
func restated(was, is *States, names map[string]string, all []*rules.Rule) (out []Restated) {
	out = declared(was, is, names)
	for _, x := range []struct{ what, was, is string }{{"title", was.Title, is.Title}, {"customer", was.Customer, is.Customer}} {
		if x.was != x.is {
			rule := readerOf(all, subject.PartKind.Name, x.what)
			out = append(out, Restated{What: x.what + by(rule), From: cmp.Or(x.was, "none"), To: cmp.Or(x.is, "none"), Counts: rule != ""})
		}
	}
	gone := vanished(was.Drawn, is.Drawn)
	if len(gone) == 0 {
		return out
	}
	if rule := readerOf(all, "", "name", "features", "between"); rule != "" {
		out = append(out, Restated{What: "the names of features" + by(rule), From: strings.Join(gone, ", "), To: "others or none", Counts: true})
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
func declared(was, is *States, names map[string]string) (all []Restated) {
	say := func(what string, a, b any) {
		if x, y := fmt.Sprint(a), fmt.Sprint(b); x != y {
			all = append(all, Restated{What: what, From: x, To: y})
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
	for _, x := range is.later() {
		i := slices.IndexFunc(was.later(), func(y *form.Drawn) bool {
			return y.MadeBy == x.MadeBy && y.Section == x.Section && form.Reference(y.Name, names) == x.Name
		})
		switch made := x.MadeBy + " " + x.Name; {
		case i < 0:
			all = append(all, Restated{What: "made after pressing", To: made, Counts: true, feature: x})
		case !x.Like(was.later()[i], names):
			all = append(all, Restated{What: "the shape of what is made after pressing", To: made, Counts: true, feature: x})
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
func comparable(was, is *States) bool {
	if len(is.later()) == 0 {
		return true
	}
	for _, d := range was.Drawn {
		if !strings.HasPrefix(d.Shape, form.ShapeVersion) {
			return false
		}
	}
	return true
}
