package report

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"corerod/parts/subject"
)

// measuresDoc writes the reference of measures from their declarations.
func measuresDoc() string {
	var b strings.Builder
	b.WriteString(`# Measures

What rules judge, and what ` + "`corerod measure PART --to json=-`" + ` writes. This page is generated from the declarations in
parts/subject. Lengths are mm, areas mm2, volumes mm3, masses g, densities g/cm3 and angles degrees, whatever units a
part file is written in; z is the pressing axis. A measure marked optional is absent where it has no meaning: a rule
reads it only under ` + "`has()`" + `. One marked > 0 is above zero wherever it is not absent: a rule may divide by it.

Measures are those of the shape as drawn, in closed form or found to rounding. Walls and gaps are looked for at the heights where
anything changes, half way between, and between the heights at which one begins or ends, and followed to where they are least. Lines
in which slopes meet that are neither straight nor round are arcs within 1e-7 mm of them; areas and volumes beside them are right to a
millionth of themselves. A part that is written in another way, with a body in two, its features in another order, mirrored, turned,
shifted or in inches, has the same figures; names, and what stands together as alike, follow the features.
`)
	for _, k := range subject.Kinds() {
		fmt.Fprintf(&b, "\n## %s\n\n%s", k.Name, k.Doc)
		if k != subject.PartKind {
			fmt.Fprintf(&b, " In lists: `part.%s`.", k.List)
		}
		if k.Outline != "" {
			fmt.Fprintf(&b, " What `distance` measures from: %s", strings.ToLower(k.Outline[:1])+k.Outline[1:])
		}
		b.WriteString("\n\n| measure | unit | how it is found |\n|---|---|---|\n")
		for i := range k.Fields {
			f := &k.Fields[i]
			unit, doc := f.Unit, f.Doc
			switch f.Type {
			case subject.Text:
				unit = "text"
				if len(f.Words) > 0 {
					unit = strings.Join(f.Words, ", ")
				}
			case subject.Boolean:
				unit = "true, false"
			case subject.Texts:
				unit = "list of text"
			case subject.List, subject.Alike:
				unit = "list"
			}
			if f.Positive {
				unit += ", > 0"
			}
			if f.Optional {
				unit += ", optional"
			}
			fmt.Fprintf(&b, "| `%s` | %s | %s |\n", f.Name, unit, doc)
		}
	}
	return b.String()
}

// TestGeneratedMeasures: docs/measures.md is what the declarations say. COREROD_UPDATE=1 writes it.
func TestGeneratedMeasures(t *testing.T) {
	const file = "../../docs/measures.md"
	want := measuresDoc()
	if os.Getenv("COREROD_UPDATE") != "" {
		if err := os.WriteFile(file, []byte(want), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	got, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if string(got) != want {
		t.Error("docs/measures.md is stale; run COREROD_UPDATE=1 go test ./checker/report")
	}
}
