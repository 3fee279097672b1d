package partstest

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// Drawing is a part of bodies and cuts in values, so that the same part can be written in other ways.
type Drawing struct{ Bodies, Cuts []Feature }

// Feature is one body or cut. Its profile is symmetric about its own x axis.
type Feature struct {
	Name    string
	Profile string // circle, rectangle, slot, hexagon, gear, turned or ball
	Lengths []Length
	Section [][2]float64 // of a turned one: radius, z
	Other   string       // keys of the profile that are no lengths
	At      [2]float64
	Turn    float64 // degrees
	Z       float64 // of a ball

	From, To float64 // of a body; 0, 0 for a cut, which is through or open
	Open     string  // of a cut: top, bottom or "" for through
	Depth    float64
	Groove   string  // of an open cut: v, round or ""
	Draft    float64 // degrees, 0 for upright walls
	Narrows  string  // up or down

	Relief *Relief  // of a body
	Island *Feature // of a cut: its profile and place alone

	Copies int        // 0 or 1 for a single one
	Round  bool       // copies go round About, else along Step
	About  [2]float64 //
	Step   [2]float64 //
}

// Relief is what a punch forms in an end face of a body.
type Relief struct {
	Key    string // tilt, face_teeth or ramp
	Face   string
	Rise   float64  // mm, of teeth their depth; 0 for a tilt
	Sizes  []Length // mm
	Angles []Length // degrees in plan, which turn with the body
	Other  string   // keys that stay as they are
}

func (r *Relief) text(mm func(float64) string) string {
	in := []string{"face: " + r.Face}
	for _, l := range r.Sizes {
		in = append(in, l.Key+": "+mm(l.Value))
	}
	for _, a := range r.Angles {
		in = append(in, fmt.Sprintf("%s: %.9g", a.Key, a.Value))
	}
	if r.Other != "" {
		in = append(in, r.Other)
	}
	return r.Key + ": {" + strings.Join(in, ", ") + "}"
}

// turned is a relief whose angles in plan are others.
func (r *Relief) turned(to func(degrees float64) float64) *Relief {
	o := *r
	o.Angles = slices.Clone(r.Angles)
	for i := range o.Angles {
		o.Angles[i].Value = to(o.Angles[i].Value)
	}
	return &o
}

// Length is one size of a profile, mm.
type Length struct {
	Key   string
	Value float64
}

// sectioned tells whether a feature stands along z by its profile.
func (f *Feature) sectioned() bool { return f.Profile == "turned" || f.Profile == "ball" }

// Text writes a drawing as a part file in mm or in.
func (d Drawing) Text(units string) string {
	per := map[string]float64{"mm": 1, "in": 25.4}[units]
	t := "part: p\nunits: " + units + "\nbodies:\n"
	for _, b := range d.Bodies {
		t += b.text(per)
	}
	if len(d.Cuts) > 0 {
		t += "cuts:\n"
	}
	for _, c := range d.Cuts {
		t += c.text(per)
	}
	return t
}

// text writes one feature, its lengths in a unit of so many mm.
func (f *Feature) text(per float64) string {
	mm := func(v float64) string {
		if math.Abs(v) < rounding { // what turning leaves of a zero is no number of a drawing
			v = 0
		}
		return strconv.FormatFloat(v/per, 'f', -1, 64)
	}
	two := func(p [2]float64) string { return "[" + mm(p[0]) + ", " + mm(p[1]) + "]" }
	out := []string{f.profileText(mm, two)}
	if f.From != f.To {
		out = append(out, "from: "+mm(f.From), "to: "+mm(f.To))
	}
	if f.Open != "" {
		out = append(out, "open: "+f.Open, "depth: "+mm(f.Depth))
	}
	if f.Groove != "" {
		out = append(out, "section: "+f.Groove)
	}
	if f.Draft != 0 {
		out = append(out, fmt.Sprintf("draft: {angle: %g, narrows: %s}", f.Draft, f.Narrows))
	}
	if f.Relief != nil {
		out = append(out, f.Relief.text(mm))
	}
	if f.Island != nil {
		out = append(out, "island: {"+f.Island.profileText(mm, two)+"}")
	}
	if f.Copies > 1 {
		where := "step: " + two(f.Step)
		if f.Round {
			where = "about: " + two(f.About)
		}
		out = append(out, fmt.Sprintf("repeat: {count: %d, %s}", f.Copies, where))
	}
	return "  " + f.Name + ": {" + strings.Join(out, ", ") + "}\n"
}

// profileText writes a feature's profile.
func (f *Feature) profileText(mm func(float64) string, two func([2]float64) string) string {
	var in []string
	for _, l := range f.Lengths {
		in = append(in, l.Key+": "+mm(l.Value))
	}
	if f.Other != "" {
		in = append(in, f.Other)
	}
	if f.At != [2]float64{} {
		in = append(in, "at: "+two(f.At))
	}
	if f.Turn != 0 {
		in = append(in, fmt.Sprintf("turn: %g", f.Turn))
	}
	if f.Profile == "ball" {
		in = append(in, "z: "+mm(f.Z))
	}
	if f.Profile == "turned" {
		var ps []string
		for _, p := range f.Section {
			ps = append(ps, two(p))
		}
		in = append(in, "section: ["+strings.Join(ps, ", ")+"]")
	}
	return f.Profile + ": {" + strings.Join(in, ", ") + "}"
}

// each is a drawing with every feature changed by itself.
func (d Drawing) each(change func(*Feature)) Drawing {
	out := Drawing{slices.Clone(d.Bodies), slices.Clone(d.Cuts)}
	for _, list := range [][]Feature{out.Bodies, out.Cuts} {
		for i := range list {
			list[i].Section, list[i].Lengths = slices.Clone(list[i].Section), slices.Clone(list[i].Lengths)
			change(&list[i])
			if in := list[i].Island; in != nil {
				o := *in
				change(&o)
				list[i].Island = &o
			}
		}
	}
	return out
}

// Turned is a drawing turned counter-clockwise about the z axis by an angle in degrees.
func (d Drawing) Turned(by float64) Drawing {
	return d.each(func(f *Feature) {
		f.At, f.About, f.Step = turn(f.At, by), turn(f.About, by), turn(f.Step, by)
		f.twist(by)
	})
}

// twist turns a feature where it is; what is round has no turn.
func (f *Feature) twist(by float64) {
	if f.Relief != nil {
		back := 0.0
		for _, a := range f.Relief.Angles {
			if a.Value+by > 360 {
				back = 360
			}
		}
		f.Relief = f.Relief.turned(func(a float64) float64 { return a + by - back })
	}
	if f.Profile != "circle" && !f.sectioned() {
		f.Turn = math.Mod(f.Turn+by, 360)
	}
}

func turn(p [2]float64, by float64) [2]float64 {
	sin, cos := math.Sincos(by * math.Pi / 180)
	return [2]float64{cos*p[0] - sin*p[1], sin*p[0] + cos*p[1]}
}

// Shifted is a drawing that lies elsewhere in plan.
func (d Drawing) Shifted(x, y float64) Drawing {
	return d.each(func(f *Feature) {
		f.At[0], f.At[1], f.About[0], f.About[1] = f.At[0]+x, f.At[1]+y, f.About[0]+x, f.About[1]+y
	})
}

// Mirrored is a drawing mirrored at the y axis.
func (d Drawing) Mirrored() Drawing {
	return d.each(func(f *Feature) {
		f.At[0], f.About[0], f.Step[0] = -f.At[0], -f.About[0], -f.Step[0]
		f.Turn *= -1
		if f.Relief != nil {
			f.Relief = f.Relief.turned(func(a float64) float64 { return -a })
		}
		f.twist(180)
	})
}

// Over is a drawing turned over about the x axis, and moved so that what lay at a height lies at ends less that height.
func (d Drawing) Over(ends float64) Drawing {
	ends = math.Round(ends*1e9) / 1e9 // a sum of measured heights
	other := map[string]string{"top": "bottom", "bottom": "top", "up": "down", "down": "up"}
	return d.each(func(f *Feature) {
		f.At[1], f.About[1], f.Step[1], f.Turn = -f.At[1], -f.About[1], -f.Step[1], -f.Turn
		if f.Relief != nil {
			f.Relief = f.Relief.turned(func(a float64) float64 { return -a })
			f.Relief.Face = other[f.Relief.Face]
		}
		f.Open, f.Narrows, f.Z = other[f.Open], other[f.Narrows], ends-f.Z
		if f.From != f.To {
			f.From, f.To = ends-f.To, ends-f.From
		}
		for i := range f.Section {
			f.Section[i][1] = ends - f.Section[i][1]
		}
	})
}

// OneByOne is a drawing that has each copy as a feature of its own.
func (d Drawing) OneByOne() Drawing {
	apart := func(list []Feature) (out []Feature) {
		for _, f := range list {
			for i := range max(1, f.Copies) {
				c := f
				c.Copies = 0
				if f.Copies > 1 {
					c.Name = fmt.Sprintf("%s-%d", f.Name, i+1)
				}
				move := func(c *Feature) {
					if f.Copies > 1 && f.Round {
						by := 360 * float64(i) / float64(f.Copies)
						at := turn([2]float64{c.At[0] - f.About[0], c.At[1] - f.About[1]}, by)
						c.At = [2]float64{f.About[0] + at[0], f.About[1] + at[1]}
						c.twist(by)
					} else {
						c.At = [2]float64{c.At[0] + float64(i)*f.Step[0], c.At[1] + float64(i)*f.Step[1]}
					}
				}
				if f.Island != nil {
					island := *f.Island
					move(&island)
					c.Island = &island
				}
				move(&c)
				out = append(out, c)
			}
		}
		return out
	}
	return Drawing{apart(d.Bodies), apart(d.Cuts)}
}

// Reordered is a drawing with its bodies and its cuts each in another order.
func (d Drawing) Reordered(shuffle func(n int, swap func(i, j int))) Drawing {
	out := d.each(func(*Feature) {})
	for _, list := range [][]Feature{out.Bodies, out.Cuts} {
		shuffle(len(list), func(i, j int) { list[i], list[j] = list[j], list[i] })
	}
	return out
}

// Split is a drawing with one of its bodies, by number, in two that touch at a share of its height. It is false where that
// body stands by its profile or leans.
func (d Drawing) Split(body int, share float64) (Drawing, bool) {
	out := d.each(func(*Feature) {})
	b := &out.Bodies[body]
	if b.sectioned() || b.Draft != 0 || b.Relief != nil {
		return d, false
	}
	upper := *b
	upper.Lengths = slices.Clone(b.Lengths)
	b.To = b.From + math.Round((b.To-b.From)*share*1000)/1000
	upper.Name, upper.From = b.Name+"-above", b.To
	if b.To <= b.From || upper.To <= upper.From {
		return d, false
	}
	out.Bodies = append(out.Bodies, upper)
	return out, true
}

// Simpler are drawings with a little less in them: without one feature, with fewer copies, with no draft, turn or place, or with one
// number in whole millimetres or tenths.
func (d Drawing) Simpler() (all []Drawing) {
	with := func(change func(*Drawing)) {
		c := d.each(func(*Feature) {})
		change(&c)
		all = append(all, c)
	}
	for i := range d.Bodies {
		if len(d.Bodies) > 1 {
			with(func(c *Drawing) { c.Bodies = slices.Delete(c.Bodies, i, i+1) })
		}
	}
	for i := range d.Cuts {
		with(func(c *Drawing) { c.Cuts = slices.Delete(c.Cuts, i, i+1) })
	}
	for i := range len(d.Bodies) + len(d.Cuts) {
		of := func(c *Drawing) *Feature {
			if i < len(c.Bodies) {
				return &c.Bodies[i]
			}
			return &c.Cuts[i-len(c.Bodies)]
		}
		f := of(&d)
		if f.Copies > 1 {
			with(func(c *Drawing) { of(c).Copies-- })
		}
		if f.Draft != 0 {
			with(func(c *Drawing) { of(c).Draft = 0 })
		}
		if f.Turn != 0 {
			with(func(c *Drawing) { of(c).Turn = 0 })
		}
		if f.At != [2]float64{} {
			with(func(c *Drawing) { of(c).At = [2]float64{} })
		}
		for n := range f.numbers() {
			for _, step := range []float64{1, 10} {
				v := *f.numbers()[n]
				if r := math.Round(v*step) / step; r != v && math.Round(v*10)/10 != v {
					with(func(c *Drawing) { *of(c).numbers()[n] = r })
				}
			}
		}
	}
	return all
}

// Size is how many outlines a drawing has, copies counted; what leans counts more.
func (d Drawing) Size() (n int) {
	for _, list := range [][]Feature{d.Bodies, d.Cuts} {
		for _, f := range list {
			n += max(1, f.Copies)
			if f.sectioned() || f.Draft != 0 || f.Groove != "" {
				n += max(1, f.Copies)
			}
		}
	}
	return n
}

// numbers are those of a feature.
func (f *Feature) numbers() []*float64 {
	all := []*float64{&f.At[0], &f.At[1], &f.Turn, &f.Z, &f.From, &f.To, &f.Depth, &f.Draft, &f.Step[0], &f.Step[1]}
	for i := range f.Lengths {
		all = append(all, &f.Lengths[i].Value)
	}
	for i := range f.Section {
		all = append(all, &f.Section[i][0], &f.Section[i][1])
	}
	return all
}
