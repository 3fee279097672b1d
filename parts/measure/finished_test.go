package measure

import (
	"math"
	"testing"

	"corerod/parts/form"
	"corerod/parts/subject"
)

func finishedOf(t *testing.T, text string) *subject.Part {
	t.Helper()
	p, ps := form.Parse("part.yaml", []byte("part: p\nunits: mm\nmaterial: {density: 7}\n"+text))
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	m, ps := Part(p)
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	return m.Subject
}

// twoCylinders is the volume that a cylinder of radius a has in common with one half of a cylinder of radius r that it crosses at a right
// angle: the integral of 2 sqrt(a2-y2) sqrt(r2-y2) over y, by the trapezoid rule over a whole turn, where it is exact.
func twoCylinders(a, r float64) (sum float64) {
	const steps = 400
	for k := range steps {
		sin, cos := math.Sincos(2 * math.Pi * (float64(k) + 0.5) / steps)
		sum += a * a * cos * cos * math.Sqrt(r*r-a*a*sin*sin) * 2 * math.Pi / steps
	}
	return sum
}

// inLedge is what a hole of 2, whose axis lies 0.5 over the upper face of a disc of 40, takes from that face past x 5: the circular segment
// below the face, times the length to the rim at each y, by the trapezoid rule over the sine of y, where it is exact.
func inLedge() (sum float64) {
	most := math.Sqrt(1 - 0.25) // half the segment's chord
	const steps = 2000
	for k := range steps {
		a := math.Pi * (float64(k) + 0.5) / steps
		y := most * math.Cos(a)
		sum += (math.Sqrt(1-y*y) - 0.5) * (math.Sqrt(400-y*y) - 5) * most * math.Sin(a) * math.Pi / steps
	}
	return sum
}

// throughBall is what a hole of radius a through the middle takes from a ball of radius r cut back to a cylinder as high as its band: at each
// height the middle of a circle between two chords, summed by Simpson's rule over the angle at which the hole has that height.
func throughBall(a, r, band float64) (sum float64) {
	area := func(t float64) float64 {
		z, c := a*math.Sin(t), a*math.Cos(t)
		z = math.Max(z, band/2)
		R := math.Sqrt(r*r - z*z)
		return 2 * (c*math.Sqrt(R*R-c*c) + R*R*math.Asin(c/R)) * a * math.Cos(t)
	}
	const steps = 2000
	edge := math.Asin(band / 2 / a)
	for _, part := range [2][2]float64{{0, edge}, {edge, math.Pi / 2}} {
		h := (part[1] - part[0]) / steps
		for k := range steps {
			from := part[0] + float64(k)*h
			sum += 2 * h / 6 * (area(from) + 4*area(from+h/2) + area(from+h))
		}
	}
	return sum
}

// TestHoleThroughBall: a ball is wider between the lowest and the highest point of a hole than at either.
func TestHoleThroughBall(t *testing.T) {
	q := finishedOf(t, "bodies: {ball: {ball: {diameter: 22, band: 3}}}\nsides: {pin: {hole: {diameter: 12, toward: 20, z: 0, through: true}, in: ball}}")
	near(t, "taken", (q.Volume-q.Finished[0].Volume)/throughBall(6, 11, 3), 1)
}

// TestFinished: what is made after pressing, in closed form.
func TestFinished(t *testing.T) {
	const tube = "bodies: {tube: {circle: {diameter: 20}, from: 0, to: 12}}\ncuts: {bore: {circle: {diameter: 12}}}\n"
	whole := math.Pi * (100 - 36) * 12
	wall := twoCylinders(1.5, 10) - twoCylinders(1.5, 6)
	segment := 100*math.Acos(0.8) - 8*6
	for name, c := range map[string]struct {
		text   string
		volume float64
		cover  float64
	}{
		"cross hole":   {tube + "sides: {oil: {hole: {diameter: 3, toward: 30, z: 7}, in: tube}}", whole - wall, 3.5},
		"through both": {tube + "sides: {oil: {hole: {diameter: 3, toward: 30, z: 7, through: true}, in: tube}}", whole - 2*wall, 3.5},
		"into the bar": {"bodies: {bar: {circle: {diameter: 20}, from: 0, to: 12}}\n" +
			"sides: {pin: {hole: {diameter: 4, toward: 0, z: 5, through: true}, in: bar}}", math.Pi*1200 - 2*twoCylinders(2, 10), 3},
		"out of the end": {"bodies: {bar: {rectangle: {length: 20, width: 10}, from: 0, to: 12}}\n" +
			"sides: {pin: {hole: {diameter: 4, toward: 90, z: 0, through: true}, in: bar}}", 2400 - math.Pi*2*10, 0},
		"through a ledge": {"bodies: {plate: {circle: {diameter: 40}, from: 0, to: 6}, hub: {rectangle: {length: 10, width: 10}, " +
			"from: 0, to: 12}}\nsides: {pin: {hole: {diameter: 2, toward: 0, z: 6.5}, in: hub}}",
			math.Pi*2400 + 600 - math.Pi*5 - inLedge(), 0},
		"groove":             {tube + "sides: {ring: {groove: {width: 2, depth: 1, z: 6}, in: tube}}", whole - math.Pi*19*2, 5},
		"groove in the bore": {tube + "sides: {ring: {groove: {width: 2, depth: 1, z: 3}, in: bore}}", whole - math.Pi*13*2, 2},
		"flat":               {tube + "sides: {flat: {flat: {distance: 8, toward: 45, z: 9}, in: tube}}", whole - segment*3, 0},
		"recess": {"bodies: {tube: {circle: {diameter: 20}, from: 0, to: 12}}\ncuts: {bore: {circle: {diameter: 12}}, " +
			"recess: {circle: {diameter: 14}, open: top, depth: 2, made_by: machining}}", whole - math.Pi*13*2, 0},
	} {
		q := finishedOf(t, c.text)
		if len(q.Finished) != 1 {
			t.Fatalf("%s: %d finished", name, len(q.Finished))
		}
		if f := q.Finished[0]; math.Abs(f.Volume/c.volume-1) > 1e-9 || math.Abs(f.Mass.Value/(c.volume*7/1000)-1) > 1e-9 {
			t.Errorf("%s: volume %.12g mass %.12g, in closed form %.12g", name, f.Volume, f.Mass.Value, c.volume)
		}
		if len(q.Crossings) > 0 && math.Abs(q.Crossings[0].Cover.Value-c.cover) > 1e-9 {
			t.Errorf("%s: cover %v, want %g", name, q.Crossings[0].Cover, c.cover)
		}
		if name != "recess" && name != "into the bar" && name != "through a ledge" && name != "out of the end" {
			near(t, name+": as pressed", q.Volume, whole)
		}
	}
	if q := finishedOf(t, tube); len(q.Finished) != 0 {
		t.Error("a part that is finished as pressed has a finished one")
	}
}
