package form

import (
	"fmt"
	"math"

	"corerod/parts"
	"corerod/parts/plane"
)

// Size is a size of a profile by name, mm.
type Size struct {
	Name  string
	Value float64
}

// row is what is known of a profile of one type. What is left out has a sense of its own.
type row[T parts.Profile] struct {
	keys     func(*T) *Form                // the form of what stands under its key
	draw     func(T) (plane.Loop, error)   // its outline, of one that has no teeth and is not drawn in section
	teeth    func(T) (*plane.Teeth, error) // of one with teeth all round
	turn     func(T) float64               // of one with teeth, degrees
	extent   func(T) (low, high float64)   // along z, of one that is drawn in section
	at       func(T) parts.Point           // its centre, or the point that copies of it are shifted by
	sizes    func(T) []Size                // in plan; nil for one that has none by name
	vertices func(T) int                   // of its outline, at most; nil for 8
	round    bool                          // every section of it is a circle
	angular  bool                          // it has no axis of its own, so that no centre line is drawn
}

// profile is a row without its type: every func is called with the row's own.
type profile struct {
	key            string
	declare        func() (*Form, func() parts.Profile) // a new one, and what it is once its form was read
	draw           func(parts.Profile) (plane.Loop, error)
	teeth          func(parts.Profile) (*plane.Teeth, error)
	turn           func(parts.Profile) float64
	extent         func(parts.Profile) (low, high float64)
	at             func(parts.Profile) parts.Point
	sizes          func(parts.Profile) []Size
	vertices       func(parts.Profile) int
	round, angular bool
}

func (r row[T]) profile() *profile {
	var none T
	p := &profile{key: none.Key(), round: r.round, angular: r.angular,
		at:       func(v parts.Profile) parts.Point { return r.at(v.(T)) },
		vertices: func(parts.Profile) int { return 8 },
		sizes:    func(parts.Profile) []Size { return nil },
		declare: func() (*Form, func() parts.Profile) {
			v := new(T)
			return r.keys(v), func() parts.Profile { return *v }
		}}
	if r.draw != nil {
		p.draw = func(v parts.Profile) (plane.Loop, error) { return r.draw(v.(T)) }
	}
	if r.sizes != nil {
		p.sizes = func(v parts.Profile) []Size { return r.sizes(v.(T)) }
	}
	if r.vertices != nil {
		p.vertices = func(v parts.Profile) int { return r.vertices(v.(T)) }
	}
	if r.extent != nil {
		p.extent = func(v parts.Profile) (low, high float64) { return r.extent(v.(T)) }
	}
	if r.teeth != nil {
		p.teeth = func(v parts.Profile) (*plane.Teeth, error) { return r.teeth(v.(T)) }
		p.turn = func(v parts.Profile) float64 { return r.turn(v.(T)) }
	}
	return p
}

// of finds the row of a profile. There is one for every type of profile.
func of(p parts.Profile) *profile {
	for _, r := range profiles() {
		if r.key == p.Key() {
			return r
		}
	}
	panic(fmt.Sprintf("no row for the profile %T", p))
}

// profileKeys are the keys of all profiles.
func profileKeys() []string {
	var all []string
	for _, r := range profiles() {
		all = append(all, r.key)
	}
	return all
}

// in plan geometry.
func in(p parts.Point) plane.Point { return plane.Point{X: p.X, Y: p.Y} }

// Draw returns the closed outline of a plan profile as drawn.
func Draw(p parts.Profile) (plane.Loop, error) {
	r := of(p)
	if r.teeth == nil {
		return r.draw(p)
	}
	t, err := r.teeth(p)
	if err != nil {
		return nil, err
	}
	return t.Loop(Centre(p), r.turn(p)), nil
}

// Steps draws a closed outline of lines and arcs from a start; corner rounds every joint that is not tangent, mm.
func Steps(start parts.Point, steps []parts.Step, corner float64) (plane.Loop, error) {
	to := make([]plane.Step, len(steps))
	for i, s := range steps {
		to[i] = plane.Step{To: in(s.To), Radius: s.Radius, Clockwise: s.Clockwise, Large: s.Large}
	}
	return plane.Path(in(start), to, corner)
}

// Teeth builds the teeth of a profile that has them all round, nil for any other.
func Teeth(p parts.Profile) (*plane.Teeth, error) {
	if r := of(p); r.teeth != nil {
		return r.teeth(p)
	}
	return nil, nil
}

// Toothed tells whether a profile has teeth all round.
func Toothed(p parts.Profile) bool { return of(p).teeth != nil }

// Centre of a profile in plan, or, of one drawn through points, its first; upright copies are shifted by it.
func Centre(p parts.Profile) plane.Point { return in(of(p).at(p)) }

// HasAxis tells whether a profile is round, or has sides or teeth all round a centre.
func HasAxis(p parts.Profile) bool { return !of(p).angular }

// Sizes are the sizes of a profile in plan that have names; none for one that is given by its outline.
func Sizes(p parts.Profile) []Size { return of(p).sizes(p) }

// InSection tells whether a profile is drawn in section, which says where it begins and ends along z.
func InSection(p parts.Profile) bool { return of(p).extent != nil }

// Sloped tells whether a feature's outline changes along z.
func Sloped(f *parts.Feature) bool {
	return f.Profile != nil && InSection(f.Profile) || f.Draft != nil && f.Draft.Angle > 0 || f.Section != ""
}

// Round tells whether every section of a profile is a circle.
func Round(p parts.Profile) bool { return p != nil && of(p).round }

// vertices bounds the curves of a feature with all its copies.
func vertices(f *parts.Feature) int {
	n := 8
	if f.Profile != nil {
		n = of(f.Profile).vertices(f.Profile)
	}
	if Sloped(f) {
		n *= Slices
	}
	return min(n, math.MaxInt32) * f.Repeat.Copies()
}
