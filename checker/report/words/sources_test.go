package words

import (
	"testing"

	"corerod/checker"
	"corerod/parts/stock"
	"corerod/rules"
)

// TestSources: a source is named once; as one that a figure comes from by memory where the rule names it too.
func TestSources(t *testing.T) {
	pack := &rules.Pack{Sources: map[string]rules.Source{"a": {Title: "Book A"}, "b": {Title: "Book B"}}}
	for _, c := range []struct {
		cited []rules.Cited
		want  string
	}{
		{[]rules.Cited{{Key: "a", Basis: stock.Published}, {Key: "b", Basis: stock.Published}}, "Book A; Book B"},
		{[]rules.Cited{{Key: "a", Basis: stock.Published}, {Key: "b", Basis: stock.Published}, {Key: "a", Basis: stock.Memory}},
			"Book B; Book A (from memory, unverified: shop to confirm)"},
		{[]rules.Cited{{Key: "a", Basis: stock.Published}, {Basis: stock.Practice}}, "Book A; common practice, no source"},
	} {
		f := &checker.Finding{Finding: rules.Finding{Rule: &rules.Rule{Pack: pack}, Sources: c.cited}}
		if got := Sources(f); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}
