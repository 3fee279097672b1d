package tooling

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"corerod/parts/stock"
	"corerod/parts/subject"
)

// Choice is the press for a part.
type Choice struct {
	Capacity, Fill, Ejection, Stroke subject.Optional // what a press must offer: kN, mm, kN, mm
	Upper, Lower                     int
	Listed                           bool     // there is a list
	Press                            *Press   // the smallest that serves, else the one that comes nearest; nil without a list
	Serves                           bool     // it offers all of it
	Load, FillShare                  float64  // of that press
	Why                              []string // by press: why it does not serve
}

// choosePress takes the smallest press of the list that serves.
func (l *Layout) choosePress() {
	c := &Choice{Fill: l.Fill, Ejection: l.Ejection, Stroke: subject.Some(l.measured.Subject.Height), Upper: l.Upper, Lower: l.Lower,
		Listed: len(l.data.Presses) > 0}
	l.Press = c
	if !l.Force.Known {
		return
	}
	most, ok := l.figure(stock.PressLoad, "the press is")
	if !ok {
		return
	}
	c.Capacity = subject.Some(l.Force.Value / most)
	if !c.Fill.Known || !c.Ejection.Known {
		return
	}
	all := slices.Clone(l.data.Presses)
	slices.SortFunc(all, func(a, b Press) int {
		return cmp.Or(cmp.Compare(a.Capacity, b.Capacity), cmp.Compare(a.Fill, b.Fill), cmp.Compare(a.Name, b.Name))
	})
	least := math.Inf(1)
	for i := range all {
		p := &all[i]
		lacks, over := c.lacks(p)
		switch {
		case lacks == "":
			c.Press, c.Serves, c.Why = p, true, nil
		case over < least-sameLack:
			c.Press, least = p, over
		}
		if c.Serves {
			break
		}
		c.Why = append(c.Why, p.Name+" "+lacks)
	}
	if c.Press != nil {
		c.Load, c.FillShare = l.Force.Value/c.Press.Capacity, l.Fill.Value/c.Press.Fill
	}
}

// lacks is what a press does not offer, in words, and the greatest ratio of need to offer.
func (c *Choice) lacks(p *Press) (says string, over float64) {
	for _, x := range []struct {
		what, unit  string
		need, offer float64
	}{
		{"capacity", " kN", c.Capacity.Value, p.Capacity}, {"fill", " mm", c.Fill.Value, p.Fill},
		{"ejection", " kN", c.Ejection.Value, p.Eject}, {"ejection stroke", " mm", c.Stroke.Value, p.EjectionStroke},
		{"upper punches", "", float64(c.Upper), p.Upper}, {"lower punches", "", float64(c.Lower), p.Lower},
	} {
		over = math.Max(over, x.need/x.offer)
		if x.need > x.offer+atOffer*math.Max(1, x.offer) && says == "" {
			says = fmt.Sprintf("has too little for the %s: %.4g%s of %.4g%s", x.what, x.offer, x.unit, x.need, x.unit)
		}
	}
	return says, over
}
