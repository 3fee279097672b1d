package rules

import "testing"

// The firstWords must be an expression that compiles, or it would wake nothing.
func TestWarm(t *testing.T) {
	Warm()
	x := newEnvironment(&Pack{}).expression(firstWords)
	if len(x.faults) > 0 || x.run == nil {
		t.Errorf("%v", x.faults)
	}
}
