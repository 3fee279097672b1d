package measure

import (
	"cmp"
	"math"
	"slices"
	"strconv"

	"corerod/parts/subject"
)

// Tidy makes one subject of those that are alike, numbers those that share a name, and puts all in their total
// order: by name, then z, x and y.
func Tidy[S subject.Subject](all []S) []S {
	slices.SortStableFunc(all, func(a, b S) int {
		p, q := a.Place(), b.Place()
		return cmp.Or(cmp.Compare(p.Name, q.Name), nearly(p.ZLow, q.ZLow), nearly(p.ZHigh, q.ZHigh), nearly(p.X, q.X), nearly(p.Y, q.Y))
	})
	var out []S
	for i := range all {
		p := all[i].Place()
		j := slices.IndexFunc(out, func(o S) bool { return o.Place().Name == p.Name && alike(o, all[i]) })
		if j < 0 {
			out = append(out, all[i])
			continue
		}
		first := out[j].Place()
		if len(first.Places) == 0 {
			first.Places = []subject.Point{pointOf(first)}
		}
		first.Places = append(first.Places, pointOf(p))
		first.Footprints = append(first.Footprints, p.Footprints...)
	}
	number(out)
	return out
}

func pointOf(c *subject.Common) subject.Point {
	return subject.Point{X: c.X, Y: c.Y, ZLow: c.ZLow, ZHigh: c.ZHigh}
}

// nearly orders coordinates, those within a nanometre as equal, so that rounding does not decide.
func nearly(a, b float64) int {
	if math.Abs(a-b) <= sameCoordinate {
		return 0
	}
	return cmp.Compare(a, b)
}

// number adds an ordinal to names that several subjects share.
func number[S subject.Subject](all []S) {
	count, next := map[string]int{}, map[string]int{}
	for _, x := range all {
		count[x.Place().Name]++
	}
	for _, x := range all {
		p := x.Place()
		if name := p.Name; count[name] > 1 {
			next[name]++
			p.Name = name + " " + strconv.Itoa(next[name])
		}
	}
}

// alike tells whether two subjects of one kind have the same features and measures; where they lie in plan may differ.
func alike(a, b subject.Subject) bool {
	for i := range a.Kind().Fields {
		f := &a.Kind().Fields[i]
		switch {
		case f.Name == "name" || f.Placing && f.Name != "z_low" && f.Name != "z_high":
		case f.Type == subject.Number:
			x, known := f.Number(a)
			y, other := f.Number(b)
			tolerance := sameMeasure * math.Max(1, math.Abs(x))
			if f.Unit == subject.Deg {
				tolerance = sameAngle
			}
			if known != other || math.Abs(x-y) > tolerance {
				return false
			}
		case f.Type == subject.Text && f.Text(a) != f.Text(b),
			f.Type == subject.Boolean && f.Boolean(a) != f.Boolean(b),
			f.Type == subject.Texts && !slices.Equal(f.Texts(a), f.Texts(b)):
			return false
		}
	}
	return true
}
