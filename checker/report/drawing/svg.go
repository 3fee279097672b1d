package drawing

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"

	"corerod/parts/plane"
)

// svg is a picture being written. Lengths are mm on paper, y downward, but for what a view draws.
type svg struct {
	b      strings.Builder
	prefix string // of ids, so that several pictures can stand in one page
}

func (c *svg) add(format string, args ...any) { fmt.Fprintf(&c.b, format, args...) }

// Inert writes text from a file so that it is only ever text in XML and HTML: controls and formatting characters that
// show it in another order come out as escapes.
func Inert(s string) string {
	var b strings.Builder
	for _, r := range s {
		switch {
		case r == '&':
			b.WriteString("&amp;")
		case r == '<':
			b.WriteString("&lt;")
		case r == '>':
			b.WriteString("&gt;")
		case r == '"':
			b.WriteString("&quot;")
		case r == '\'':
			b.WriteString("&#39;")
		case r == ' ' || unicode.IsPrint(r):
			b.WriteRune(r)
		default:
			q := strconv.QuoteRuneToASCII(r)
			b.WriteString(q[1 : len(q)-1])
		}
	}
	return b.String()
}

// mm writes a length on paper, to a thousandth.
func mm(v float64) string { return strconv.FormatFloat(math.Round(v*1e3)/1e3+0, 'f', -1, 64) }

// fine writes a coordinate of the part, to 1e-8 mm: the area read again from a thin ring is then right to a millionth too.
func fine(v float64) string { return strconv.FormatFloat(math.Round(v*1e8)/1e8+0, 'f', -1, 64) }

// text writes text of a height, ISO 3098: 2.5 mm for figures, 3.5 mm for titles.
func (c *svg) text(x, y, height float64, anchor, s string) {
	c.add(`<text x="%s" y="%s" font-size="%s" text-anchor="%s">%s</text>`+"\n", mm(x), mm(y), mm(height*1.4), anchor, Inert(s))
}

func (c *svg) line(x1, y1, x2, y2 float64, attributes string) {
	c.add(`<line x1="%s" y1="%s" x2="%s" y2="%s"%s/>`+"\n", mm(x1), mm(y1), mm(x2), mm(y2), attributes)
}

// curvesData is path data of curves: of a closed outline, or of chains, each begun anew where it does not go on.
func curvesData(curves []plane.Curve, closed bool) string {
	var b strings.Builder
	var at plane.Point
	for i := range curves {
		c := &curves[i]
		if i == 0 || !closed && at.Distance(c.A) > goesOn {
			b.WriteString("M" + fine(c.A.X) + " " + fine(c.A.Y))
		}
		if !c.IsArc() {
			b.WriteString("L" + fine(c.B.X) + " " + fine(c.B.Y))
		} else {
			b.WriteString(arcData(c))
		}
		at = c.B
	}
	if closed {
		b.WriteString("Z")
	}
	return b.String()
}

// arcData is path data of an arc, in pieces of a third of a circle at most: near half a circle its middle would hang on the
// last digit of its ends.
func arcData(c *plane.Curve) string {
	n := math.Ceil(math.Abs(c.Sweep)/(2*math.Pi/3) - wholeThird)
	var ends []plane.Point
	for k := 1.0; k < n; k++ {
		ends = append(ends, c.At(k/n))
	}
	ends = append(ends, c.B)
	sweep, data := 0, ""
	if c.Sweep > 0 {
		sweep = 1
	}
	for _, p := range ends {
		data += fmt.Sprintf("A%s %s 0 0 %d %s %s", fine(c.R), fine(c.R), sweep, fine(p.X), fine(p.Y))
	}
	return data
}

func loopsData(loops []plane.Loop) string {
	var b strings.Builder
	for _, l := range loops {
		b.WriteString(curvesData(l, true))
	}
	return b.String()
}

// chained puts curves in an order in which they follow each other, turned round where that helps.
func chained(curves []plane.Curve) (out []plane.Curve) {
	key := func(p plane.Point) [2]int64 {
		return [2]int64{int64(math.Round(p.X * (1 / chainStep))), int64(math.Round(p.Y * (1 / chainStep)))}
	}
	ends := map[[2]int64][]int{}
	for i, c := range curves {
		ends[key(c.A)] = append(ends[key(c.A)], i)
		ends[key(c.B)] = append(ends[key(c.B)], i)
	}
	used := make([]bool, len(curves))
	for i := range curves {
		for at, c := i, curves[i]; at >= 0 && !used[at]; {
			used[at] = true
			out = append(out, c)
			at, c = next(curves, used, ends[key(c.B)], c.B)
		}
	}
	return out
}

// next is an unused curve that begins or ends at a point, begun there; -1 for none.
func next(curves []plane.Curve, used []bool, at []int, p plane.Point) (int, plane.Curve) {
	for _, i := range at {
		if used[i] {
			continue
		}
		if c := curves[i]; c.A.Distance(p) < goesOn {
			return i, c
		} else {
			return i, c.Reversed()
		}
	}
	return -1, plane.Curve{}
}

// arrow draws a dimension's arrow head with its tip at a point, coming from a direction in radians.
func (c *svg) arrow(x, y, from float64) {
	const long, half = 2.5, 0.18
	a, b := from-half, from+half
	c.add(`<path d="M%s %sL%s %sL%s %sZ" fill="currentColor" stroke="none"/>`+"\n", mm(x), mm(y), mm(x+long*math.Cos(a)),
		mm(y+long*math.Sin(a)), mm(x+long*math.Cos(b)), mm(y+long*math.Sin(b)))
}

// hatch defines a hatching for what is drawn at a scale: lines at an angle, some mm apart on paper.
func (c *svg) hatch(name string, scale, angle, apart float64) {
	d := apart / scale
	c.add(`<pattern id="%s%s" width="%s" height="%s" patternUnits="userSpaceOnUse" patternTransform="rotate(%s)"><path d="M0 %sH%s" `+
		`stroke="currentColor" stroke-width="%s"/></pattern>`+"\n",
		c.prefix, name, fine(d), fine(d), mm(angle), fine(d/2), fine(d), fine(0.18/scale))
}
