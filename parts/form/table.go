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

// Mesh is what gear teeth say of the wheel that they run with.
type Mesh struct {
	Module   float64 // mm, of the normal section
	Helix    float64 // degrees
	Internal bool    // they are those of a ring
}

// row is what is known of a profile of one type. A profile is drawn in plan, or has teeth all round, or is drawn in section, as a
// half section or a ball.
type row[T parts.Profile] struct {
	keys     func(*T) *Form                // the form of what stands under its key
	draw     func(T) (plane.Loop, error)   // its outline in plan
	teeth    func(T) (*plane.Teeth, error) // its teeth
	turn     func(T) float64               // of teeth, degrees
	mesh     func(T) Mesh                  // of teeth that run with others; nil for those that only carry torque
	section  func(T) parts.Turned          // its half section
	ball     func(T) parts.Ball            // the ball that it is
	extent   func(T) (low, high float64)   // along z, of one that is drawn in section
	at       func(T) parts.Point           // its centre, or the point that copies of it are shifted by
	sizes    func(T) []Size                // in plan; nil for one that has none by name
	vertices func(T) int                   // of its outline, at most; nil for 8
	round    bool                          // every section of it is a circle
	axis     bool                          // it stands round an axis, which drawings show
	points   bool                          // it is drawn through points, about no centre
	flats    bool                          // its corners are those of flats, which carry torque as a key does
}

// profile is a row without its type: each func takes a profile of the row's own.
type profile struct {
	key                        string
	declare                    func() (*Form, func() parts.Profile) // a new one, and what it is once its form was read
	draw                       func(parts.Profile) (plane.Loop, error)
	teeth                      func(parts.Profile) (*plane.Teeth, error)
	turn                       func(parts.Profile) float64
	mesh                       func(parts.Profile) Mesh
	section                    func(parts.Profile) parts.Turned
	ball                       func(parts.Profile) parts.Ball
	extent                     func(parts.Profile) [2]float64
	at                         func(parts.Profile) parts.Point
	sizes                      func(parts.Profile) []Size
	vertices                   func(parts.Profile) int
	round, axis, points, flats bool
}

// untyped is a func of a row for any profile; nil stays nil.
func untyped[T parts.Profile, V any](f func(T) V) func(parts.Profile) V {
	if f == nil {
		return nil
	}
	return func(p parts.Profile) V { return f(p.(T)) }
}

// untyped2 is untyped for a func that may fail.
func untyped2[T parts.Profile, V any](f func(T) (V, error)) func(parts.Profile) (V, error) {
	if f == nil {
		return nil
	}
	return func(p parts.Profile) (V, error) { return f(p.(T)) }
}

func (r row[T]) profile() *profile {
	var none T
	p := &profile{key: none.Key(), draw: untyped2(r.draw), teeth: untyped2(r.teeth), turn: untyped(r.turn), mesh: untyped(r.mesh),
		section: untyped(r.section),
		ball:    untyped(r.ball), at: untyped(r.at), sizes: untyped(r.sizes), vertices: untyped(r.vertices),
		round: r.round, axis: r.axis, points: r.points, flats: r.flats,
		declare: func() (*Form, func() parts.Profile) {
			v := new(T)
			return r.keys(v), func() parts.Profile { return *v }
		}}
	if r.extent != nil {
		p.extent = untyped(func(v T) [2]float64 { low, high := r.extent(v); return [2]float64{low, high} })
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

// Steps draws a closed outline of lines and arcs from a start; corners round the joints that are not tangent, mm: one for all, or one for
// each.
func Steps(start parts.Point, steps []parts.Step, corners ...float64) (plane.Loop, error) {
	to := make([]plane.Step, len(steps))
	for i, s := range steps {
		to[i] = plane.Step{To: in(s.To), Radius: s.Radius, Clockwise: s.Clockwise, Large: s.Large}
	}
	return plane.Path(in(start), to, corners...)
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

// HasAxis tells whether a profile stands round an axis.
func HasAxis(p parts.Profile) bool { return of(p).axis }

// HasCentre tells whether a profile is drawn about a centre, not through points.
func HasCentre(p parts.Profile) bool { return !of(p).points }

// HasFlats tells whether the corners of a profile are those of flats, which carry torque as a key does.
func HasFlats(p parts.Profile) bool { return of(p).flats }

// Sizes are the sizes of a profile in plan that have names; none for one that is given by its outline.
func Sizes(p parts.Profile) []Size {
	if r := of(p); r.sizes != nil {
		return r.sizes(p)
	}
	return nil
}

// Meshing is what teeth say of the wheel that they run with; false for those that only carry torque, and for other profiles.
func Meshing(p parts.Profile) (Mesh, bool) {
	if r := of(p); r.mesh != nil {
		return r.mesh(p), true
	}
	return Mesh{}, false
}

// HalfSection is the half section that a profile is drawn by; false for one that is drawn otherwise.
func HalfSection(p parts.Profile) (parts.Turned, bool) {
	if r := of(p); r.section != nil {
		return r.section(p), true
	}
	return parts.Turned{}, false
}

// AsBall is the ball that a profile is; false for one that is none.
func AsBall(p parts.Profile) (parts.Ball, bool) {
	if r := of(p); r.ball != nil {
		return r.ball(p), true
	}
	return parts.Ball{}, false
}

// InSection tells whether a profile is drawn in section, which says where it begins and ends along z.
func InSection(p parts.Profile) bool { return of(p).extent != nil }

// Sloped tells whether a feature's outline changes along z.
func Sloped(f *parts.Feature) bool {
	return f.Profile != nil && InSection(f.Profile) || f.Draft != nil && f.Draft.Angle > 0 || f.Section != "" || f.Relief != nil
}

// Round tells whether every section of a profile is a circle.
func Round(p parts.Profile) bool { return p != nil && of(p).round }

// rowOf is the row of a feature's profile; nil while it has none.
func rowOf(f *parts.Feature) *profile {
	if f.Profile == nil {
		return nil
	}
	return of(f.Profile)
}

// vertices bounds the curves of a feature with all its copies.
func vertices(f *parts.Feature) int {
	n := 8
	if r := rowOf(f); r != nil && r.vertices != nil {
		n = r.vertices(f.Profile)
	}
	if Sloped(f) {
		n *= SlopeWeight
	}
	for i := range f.Reliefs {
		n += 2 * SlopeWeight * f.Reliefs[i].Copies()
	}
	if f.Island != nil {
		n += vertices(f.Island) / max(1, f.Repeat.Copies())
	}
	return min(n, math.MaxInt32) * f.Repeat.Copies()
}
