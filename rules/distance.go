package rules

import (
	"math"

	"corerod/parts/subject"

	"github.com/google/cel-go/cel"
	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/ref"
)

// distanceOption declares distance(a, b): the least gap in plan between two subjects. Which kinds have an outline to
// measure from is examined at load.
func distanceOption() cel.EnvOption {
	return cel.Function("distance", cel.Overload("distance_in_plan",
		[]*cel.Type{cel.TypeParamType("A"), cel.TypeParamType("B")}, cel.DoubleType,
		cel.BinaryBinding(func(a, b ref.Val) ref.Val {
			x, ok1 := a.(*object)
			y, ok2 := b.(*object)
			if !ok1 || !ok2 {
				return types.NewErr("`distance` measures between two subjects")
			}
			return x.distance(y)
		})))
}

// curvesPerStep is how many pairs of curves of two outlines are looked at in about the time of one step.
const curvesPerStep = 16

// distance is the least gap between two subjects in plan, mm. A subject that a rule is over stands for all its places: the
// distance from it is that from the nearest of them other than the other subject itself. Of one place to itself it is 0.
func (o *object) distance(p *object) ref.Val {
	d := math.Inf(1)
	for _, f := range o.footprints() {
		for _, g := range p.footprints() {
			if o.on != nil && !o.on.spend(1+f.Size()*g.Size()/curvesPerStep) {
				return types.WrapErr(errSpent)
			}
			if f != g {
				d = math.Min(d, f.Gap(g))
			}
		}
	}
	switch {
	case len(o.footprints()) == 0 || len(p.footprints()) == 0:
		return types.NewErr("`%s` or `%s` has no outline in plan to measure from", o.subject.Place().Name, p.subject.Place().Name)
	case math.IsInf(d, 1):
		d = 0
	}
	return types.Double(subject.Snap(d))
}

func (o *object) footprints() []subject.Footprint {
	if o.subject == nil {
		return nil
	}
	return o.subject.Place().Footprints
}
