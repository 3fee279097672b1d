package checker

import (
	"slices"

	"corerod/parts"
	"corerod/parts/form"
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
	s := States{Title: p.Title, Customer: p.Customer, Material: p.Material.Name, Density: p.Material.Density, Quantity: p.Quantity,
		Pressing: p.Pressing, Sized: p.Sized,
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

// Later are the features that are made after pressing: most rules pass over them.
func (s *States) Later() (all []*form.Drawn) {
	for i := range s.Drawn {
		if s.Drawn[i].MadeBy != "pressing" {
			all = append(all, &s.Drawn[i])
		}
	}
	return all
}
