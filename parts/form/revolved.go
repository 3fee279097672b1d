package form

import (
	"math"

	"corerod/parts"
	"corerod/parts/source"
)

// turned is a half section: a point, then points and arc steps.
func turned(t *parts.Turned) *Form {
	first := true
	each := func() *Form {
		to := &t.Start
		if first {
			first = false
			return either("", sectionPoint(to, "").calls("a point of the section").outline(), startStep())
		}
		t.Steps = append(t.Steps, parts.Step{})
		s := &t.Steps[len(t.Steps)-1]
		return either("", sectionPoint(&s.To, "").calls("a point of the section").outline(), step(s, sectionPoint))
	}
	return keys("A half section turned about the axis through `at`.", may("at", at(&t.At)),
		must("section", list("Points [radius, z] and arc steps, closed by a line.", "at least 3 points [radius, z]", 3, MostVertices,
			each))).outline().
		checked(func(r *reader, n *source.Node, _ string) {
			for i, p := range t.Points() {
				if p.X < 0 {
					r.Report(n.At("section"), "point %d of the section has the radius %.6g; it is 0 or more", i+1, p.X)
				}
			}
		})
}

// startStep is a step where a half section begins, which is refused.
func startStep() *Form {
	f := step(&parts.Step{}, sectionPoint)
	f.refusal = "section begins with a point [radius, z]"
	return f
}

func turnedExtent(t parts.Turned) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, p := range t.Points() {
		low, high = math.Min(low, p.Y), math.Max(high, p.Y)
	}
	return low, high
}

func ball(b *parts.Ball) *Form {
	return keys("A ball.", must("diameter", size(&b.Diameter, "Its diameter.")),
		may("band", room(&b.Band, "Height of a cylinder at its equator.").lies(AlongZ).usually("0").adds()),
		may("at", at(&b.At)), may("z", length(&b.Z, "Height of its centre; 0 by default.").lies(Z).usually("0").counts())).
		checked(func(r *reader, n *source.Node, _ string) {
			if v := n.At("band"); v != nil && b.Band >= b.Diameter && b.Diameter > 0 {
				r.Report(v, "band is %s; it is at least 0 and less than the diameter", source.Quote(v.Value))
			}
		})
}

func ballExtent(b parts.Ball) (low, high float64) { return b.Z - b.Diameter/2, b.Z + b.Diameter/2 }
