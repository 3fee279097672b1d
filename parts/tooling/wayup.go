package tooling

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"corerod/parts/measure"
	"corerod/parts/subject"
)

// WayUp is how a part lies in the die. The drawing does not say which face the upper punch meets: the tool is laid out both ways, and the
// better one is taken.
type WayUp struct {
	Over   bool   // turned over: the upper punches form what is drawn below
	Pinned bool   // the part file says so
	Why    Reason // what the other way would have; nil where both serve alike or the part file says it
	Better Reason // the fault of this way, where the part file says it and the other has it not; else nil
}

// Reason words what one way up has that the other has not; length writes a length of mm.
type Reason func(length func(mm float64) string) string

// What a press drives that most shops have, from memory.
const (
	usualUpper = 2
	usualLower = 3
)

// usualRatio is the fill over the height that decides between the ways up where the powder is not known: that of iron.
const usualRatio = 2.3

// tie is the difference of the shares of powder that must move, below which two ways up move as much.
const tie = 0.02

// choose takes the better of the two ways up, or the one that the part file says: "best", "as-drawn" or "turned-over".
func choose(drawn, over *Layout, said string) *Layout {
	drawn.other, over.other = over, drawn
	best, why, fault := better(drawn, over)
	switch said {
	case "as-drawn", "turned-over":
		l := drawn
		if said == "turned-over" {
			l = over
		}
		l.WayUp.Pinned = true
		if best == l.other && fault(l) {
			l.WayUp.Better = why
		}
		return l
	}
	best.WayUp.Why = why
	return best
}

// better is the better of two layouts of one part, and why; as drawn, and nil, where none is. fault tells whether what the other has is a
// fault of it, and no mere disadvantage.
func better(drawn, over *Layout) (best *Layout, why Reason, fault func(*Layout) bool) {
	always, never := func(*Layout) bool { return true }, func(*Layout) bool { return false }
	for _, x := range []struct {
		by    func(l, other *Layout) (float64, Reason)
		fault func(*Layout) bool
	}{
		{byReverse, always}, {byStroke, always}, {byPunchesUsual, always}, {byMoved, (*Layout).movesMuch},
		{byBlind, never}, {byPunches, never}, {byUpper, never},
	} {
		a, why := x.by(drawn, over)
		b, whyOver := x.by(over, drawn)
		switch {
		case a < b:
			return drawn, whyOver, x.fault
		case b < a:
			return over, why, x.fault
		}
	}
	return drawn, nil, never
}

// movesMuch tells whether more of the powder must come to some column from beside than flows: 15 %, as for a step without a punch of its
// own.
func (l *Layout) movesMuch() bool {
	q := l.ratio()
	for _, m := range l.Members {
		for _, cs := range m.seats() {
			if len(cs) == 0 {
				continue
			}
			top, _ := powder(q, cs)
			if slices.ContainsFunc(cs, func(c *Column) bool { return c.lacks(q, top)*c.Area > measure.StepShare*q*c.Volume }) {
				return true
			}
		}
	}
	return false
}

// ratio is the fill over the height by which the ways up are compared: the powder's, else the usual one.
func (l *Layout) ratio() float64 {
	if l.Ratio.Known {
		return l.Ratio.Value
	}
	return usualRatio
}

// name is how the part lies, in words.
func (w *WayUp) name() string {
	if w.Over {
		return "turned over"
	}
	return "as drawn"
}

// Each of these counts what is bad of a layout, and says it in words.

func byReverse(l, _ *Layout) (float64, Reason) {
	var names []string
	for _, t := range l.measured.Subject.Tapers {
		if l.reverse(t) {
			names = append(names, t.Name)
		}
	}
	return float64(len(names)), func(func(float64) string) string {
		return fmt.Sprintf("%s %s would narrow the way the part is ejected", l.WayUp.name(), strings.Join(names, ", "))
	}
}

// reverse tells whether a taper holds the part when it is ejected.
func (l *Layout) reverse(t *subject.Taper) bool {
	if l.WayUp.Key() != l.measured.Subject.WayUp {
		return t.ReverseTurned
	}
	return t.Reverse
}

// Key is how the part lies, as the part file says it.
func (w *WayUp) Key() string {
	if w.Over {
		return "turned-over"
	}
	return "as-drawn"
}

func byStroke(l, _ *Layout) (float64, Reason) {
	var names []string
	for _, m := range l.Members {
		if m.Stroke.Known && m.Stroke.Value <= 0 {
			names = append(names, m.Name)
		}
	}
	return float64(len(names)), func(func(float64) string) string {
		return fmt.Sprintf("%s the punch for %s would not close on the powder", l.WayUp.name(), strings.Join(names, ", "))
	}
}

func byPunchesUsual(l, _ *Layout) (float64, Reason) {
	fits := l.Upper <= usualUpper && l.Lower <= usualLower
	if len(l.data.Presses) > 0 {
		fits = false
		for _, p := range l.data.Presses {
			fits = fits || float64(l.Upper) <= p.Upper && float64(l.Lower) <= p.Lower
		}
	}
	return map[bool]float64{true: 0, false: 1}[fits], func(func(float64) string) string {
		return fmt.Sprintf("%s it would take %d upper and %d lower punches", l.WayUp.name(), l.Upper, l.Lower)
	}
}

// byMoved holds the shares of powder that must move against each other; those within a tie are as little.
func byMoved(l, other *Layout) (float64, Reason) {
	q, all := l.ratio(), 0.0
	for _, c := range l.all {
		all += q * c.Volume
	}
	share, others := l.moved(q)/all, other.moved(q)/all
	if math.Abs(share-others) < tie {
		share = math.Min(share, others)
	}
	return share, func(length func(float64) string) string {
		deepest := func(l *Layout) (most float64) {
			for _, m := range l.Members {
				for _, cs := range m.seats() {
					if len(cs) > 0 {
						top, _ := powder(q, cs)
						for _, c := range cs {
							most = math.Max(most, c.lacks(q, top))
						}
					}
				}
			}
			return most
		}
		here := "no powder moved"
		if d := deepest(other); d > 0 {
			here = "up to " + length(d) + " of fill moved"
		}
		return fmt.Sprintf("%s, %s; %s %s of fill would have to move", punches(other.Lower, "lower"), here, l.WayUp.name(),
			length(deepest(l)))
	}
}

// punches counts them in words.
func punches(n int, kind string) string {
	if n == 1 {
		return "one " + kind + " punch"
	}
	return fmt.Sprintf("%d %s punches", n, kind)
}

func byBlind(l, _ *Layout) (float64, Reason) {
	n := 0
	for _, e := range l.measured.Ends {
		if e.Hole != nil && e.Side == l.side(UpperPunch) {
			n++
		}
	}
	return float64(n), func(func(float64) string) string {
		if n == 1 {
			return l.WayUp.name() + " the pin of a blind hole would dive into the powder"
		}
		return fmt.Sprintf("%s the pins of %d blind holes would dive into the powder", l.WayUp.name(), n)
	}
}

func byPunches(l, _ *Layout) (float64, Reason) {
	n := l.Upper + l.Lower
	return float64(n), func(func(float64) string) string {
		return fmt.Sprintf("%s it would take %d punches", l.WayUp.name(), n)
	}
}

func byUpper(l, _ *Layout) (float64, Reason) {
	return float64(l.Upper), func(func(float64) string) string {
		return fmt.Sprintf("%s it would take %s", l.WayUp.name(), punches(l.Upper, "upper"))
	}
}

// alone is the same without the layouts that the reasons come from.
func (w WayUp) alone() WayUp {
	w.Why, w.Better = w.Why.alone(), w.Better.alone()
	return w
}

func (r Reason) alone() Reason {
	if r == nil {
		return nil
	}
	const gap = "\x00"
	var lengths []float64
	says := strings.Split(r(func(mm float64) string {
		lengths = append(lengths, mm)
		return gap
	}), gap)
	return func(length func(float64) string) string {
		text := says[0]
		for i, mm := range lengths {
			text += length(mm) + says[i+1]
		}
		return text
	}
}
