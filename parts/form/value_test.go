package form

import (
	"fmt"
	"strings"
	"testing"

	"corerod/parts/source"
)

// TestValues: every single value of a part file with its path, line, number and unit; forms of features are marked.
func TestValues(t *testing.T) {
	const file = `part: valued
title: 007
units: in
material: {name: 316, density: 6.8}
quantity: 1e3
bodies:
  hub: {gear: {module: 0.1, teeth: 20, pressure_angle: 20, helix: 15, hand: left}, from: 0, to: .5}
  cam: {path: {start: [0, 1], steps: [{line: [1, 1]}, {arc: [0, 1], radius: 0.6, turn: cw}]}, from: 0, to: 0.2, repeat: {count: 2, over: 90, turn: false}}
cuts:
  cone: {turned: {section: [[0, 0], [0.1, 0], [0, 0.1]]}}
edges:
  rim: {of: hub, face: top, chamfer: {width: 0.02, slope: 30, flat: 0.01}}
dimensions:
  size: {of: hub.height, limits: [0.49, 0.51]}
seats: [hub.bottom]
`
	root, ps := source.Parse("x.yaml", []byte(file))
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	var got, forms []string
	var walk func(v *Value)
	walk = func(v *Value) {
		switch {
		case v.Shaping:
			forms = append(forms, v.Path)
		case v.Numeric:
			got = append(got, fmt.Sprintf("%d %s %g %s", v.Line, v.Path, v.Number, v.Unit))
		case v.Shape == source.Scalar:
			got = append(got, fmt.Sprintf("%d %s %q", v.Line, v.Path, v.Text))
		}
		for _, in := range v.In {
			walk(in)
		}
	}
	values := Values(root)
	walk(values)
	want := strings.Split(`1 part "valued"
2 title "007"
3 units "in"
4 material.name "316"
4 material.density 6.8 g/cm3
5 quantity 1000 
7 bodies.hub.gear.module 0.1 in
7 bodies.hub.gear.teeth 20 
7 bodies.hub.gear.pressure_angle 20 deg
7 bodies.hub.gear.helix 15 deg
7 bodies.hub.gear.hand "left"
7 bodies.hub.from 0 in
7 bodies.hub.to 0.5 in
8 bodies.cam.path.start[0] 0 in
8 bodies.cam.path.start[1] 1 in
8 bodies.cam.path.steps[0].line[0] 1 in
8 bodies.cam.path.steps[0].line[1] 1 in
8 bodies.cam.path.steps[1].arc[0] 0 in
8 bodies.cam.path.steps[1].arc[1] 1 in
8 bodies.cam.path.steps[1].radius 0.6 in
8 bodies.cam.path.steps[1].turn "cw"
8 bodies.cam.from 0 in
8 bodies.cam.to 0.2 in
8 bodies.cam.repeat.count 2 
8 bodies.cam.repeat.over 90 deg
8 bodies.cam.repeat.turn "false"
10 cuts.cone.turned.section[0][0] 0 in
10 cuts.cone.turned.section[0][1] 0 in
10 cuts.cone.turned.section[1][0] 0.1 in
10 cuts.cone.turned.section[1][1] 0 in
10 cuts.cone.turned.section[2][0] 0 in
10 cuts.cone.turned.section[2][1] 0.1 in
12 edges.rim.of "hub"
12 edges.rim.face "top"
12 edges.rim.chamfer.width 0.02 in
12 edges.rim.chamfer.slope 30 deg
12 edges.rim.chamfer.flat 0.01 in
14 dimensions.size.of "hub.height"
14 dimensions.size.limits[0] 0.49 in
14 dimensions.size.limits[1] 0.51 in
15 seats[0] "hub.bottom"`, "\n")
	if g, w := strings.Join(got, "\n"), strings.Join(want, "\n"); g != w {
		t.Errorf("the values are\n%s\nwant\n%s", g, w)
	}
	if g, w := strings.Join(forms, " "), "bodies.hub.gear bodies.cam.path cuts.cone.turned edges.rim.chamfer"; g != w {
		t.Errorf("forms are %s, want %s", g, w)
	}
	if to := values.At("bodies").At("hub").At("to"); to.MM() != 12.7 || values.At("material").At("density").MM() != 6.8 ||
		values.At("nothing") != nil {
		t.Errorf("%g mm", to.MM())
	}
}
