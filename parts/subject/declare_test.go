package subject

import (
	"math"
	"reflect"
	"strings"
	"testing"
)

// TestDeclarations: every kind and measure is named as expressions and JSON need it, documented, and unique; each
// exported field of a struct that is a measure is declared.
func TestDeclarations(t *testing.T) {
	zero := map[*Kind]Subject{PartKind: &Part{}, WallKind: &Wall{}, HoleKind: &Hole{}, GapKind: &Gap{}, CornerKind: &Corner{},
		LevelKind: &Level{}, StepKind: &Step{}, TrapKind: &Trap{}, CrossingKind: &Crossing{}, ColumnKind: &Column{}, TeethKind: &Teeth{},
		FeatherKind: &Feather{}, FlangeKind: &Flange{}, BossKind: &Boss{}, GrooveKind: &Groove{},
		TaperKind: &Taper{}, RimKind: &Rim{}, MarkKind: &Mark{}, DimensionKind: &Dimension{}, PunchKind: &Punch{}, CoreKind: &Core{},
		PressKind: &Press{}, FinishedKind: &Finished{}, ReliefKind: &Relief{}, PowderKind: &Powder{}, BulgeKind: &Bulge{}}
	if len(zero) != len(Kinds()) {
		t.Errorf("%d kinds, the test knows %d", len(Kinds()), len(zero))
	}
	for _, k := range Kinds() {
		s := zero[k]
		if s == nil || s.Kind() != k || KindNamed(k.Name) != k || k.Doc == "" {
			t.Fatalf("kind %s", k.Name)
		}
		seen := map[string]bool{}
		for i := range k.Fields {
			f := &k.Fields[i]
			if seen[f.Name] || f.Name != strings.ToLower(f.Name) || f.Doc == "" || f.Doc[len(f.Doc)-1] != '.' {
				t.Errorf("%s.%s is repeated, not in lower case, or its doc is no sentence: %q", k.Name, f.Name, f.Doc)
			}
			seen[f.Name] = true
			if (f.Type == Number) != (f.Unit != "") || (f.Optional || f.Positive) && f.Type != Number {
				t.Errorf("%s.%s: type %v, unit %q, optional %v", k.Name, f.Name, f.Type, f.Unit, f.Optional)
			}
			if f.Type == Number {
				if _, known := f.Number(s); known == f.Optional {
					t.Errorf("%s.%s of an empty subject: known %v", k.Name, f.Name, known)
				}
			}
		}
		own := reflect.TypeOf(s).Elem()
		if n := own.NumField() - 1; n > len(k.Fields)-len(whole()) { // Common, and its measures
			t.Errorf("%s has %d fields and %d own measures", k.Name, n, len(k.Fields)-len(whole()))
		}
	}
}

func TestSnap(t *testing.T) {
	for _, v := range []float64{0.1 + 0.2, 7.0000000001, -2e-10, 25.4 / 3, 1e6 + 1e-4, 1e300, math.Copysign(0, -1)} {
		got := Snap(v)
		if math.Abs(got-v) > 0.5e-9 || got == 0 && math.Signbit(got) || Snap(got) != got {
			t.Errorf("Snap(%g) = %g", v, got)
		}
	}
	if Snap(0.1+0.2) != 0.3 {
		t.Error("0.1 + 0.2 snaps to 0.3")
	}
}
