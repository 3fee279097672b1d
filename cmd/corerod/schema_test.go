package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"hash/crc32"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"sort"
	"strconv"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"corerod/parts/form"
	"corerod/parts/source"
	"corerod/rules"
)

// TestGeneratedSchemas: docs/*.schema.json are what the command writes, and every key has a description. COREROD_UPDATE=1
// writes them.
func TestGeneratedSchemas(t *testing.T) {
	for kind := range schemas {
		want, errs, status := run([]string{"schema", kind}, "")
		if status != "0" || errs != "" {
			t.Fatalf("%s: status %s, %s", kind, status, errs)
		}
		file := "../../docs/" + kind + ".schema.json"
		if os.Getenv("COREROD_UPDATE") != "" {
			if err := os.WriteFile(file, []byte(want), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		if got, err := os.ReadFile(file); err != nil || string(got) != want {
			t.Errorf("%s is stale (%v); run COREROD_UPDATE=1 go test ./cmd/corerod", file, err)
		}
		var s map[string]any
		if err := json.Unmarshal([]byte(want), &s); err != nil {
			t.Fatal(err)
		}
		described(t, kind, s, s)
	}
	if _, errs, status := run([]string{"schema", "drawing"}, ""); status != "2" ||
		!strings.Contains(errs, "name one of part, pack and shop") {
		t.Errorf("status %s, %s", status, errs)
	}
}

// described walks a schema: every property says what it is.
func described(t *testing.T, path string, s, root map[string]any) {
	t.Helper()
	props, _ := s["properties"].(map[string]any)
	for name, v := range props {
		p := v.(map[string]any)
		if ref, ok := p["$ref"].(string); ok {
			p = root["$defs"].(map[string]any)[strings.TrimPrefix(ref, "#/$defs/")].(map[string]any)
		}
		_, list := p["anyOf"]
		if d, _ := p["description"].(string); d == "" && !list {
			t.Errorf("%s.%s has no description", path, name)
		}
		described(t, path+"."+name, p, root)
	}
	for _, key := range []string{"items", "additionalProperties"} {
		if p, ok := s[key].(map[string]any); ok && p["$ref"] == nil {
			described(t, path+"[]", p, root)
		}
	}
}

// plain turns YAML nodes into what JSON has, by the readers' own rules for scalars.
func plain(n *source.Node) any {
	switch n.Shape {
	case source.Map:
		m := map[string]any{}
		for i, k := range n.Keys {
			m[k.Value] = plain(n.Items[i])
		}
		return m
	case source.Sequence:
		l := []any{}
		for _, it := range n.Items {
			l = append(l, plain(it))
		}
		return l
	}
	var r source.Reader
	switch {
	case n.Null:
		return nil
	case n.Quoted:
		return n.Value
	case n.Value == "true" || n.Value == "false":
		return n.Value == "true"
	}
	if v, ok := r.Number(n, "it"); ok {
		return v
	}
	return n.Value
}

// beyond are the readers' refusals that a schema cannot express: they look at more than one value, at the packs, at what
// is drawn, or into the text of one value.
var beyond = regexp.MustCompile(strings.Join([]string{
	// of parts
	"^there is no body or cut", "has no height", "^hold names ", "^of is ", "a helical gear", "^band is ", "vertices after repeats", "has the radius -", "^class ", "^corner has \\d+ radii", "^box\\[",
	// of packs
	"^unknown (source|curve|table|limit)", "is no measure of", "^rule `", "replaces none of the packs below", "is empty; it (needs text|names a pack)",
	"^basis `(published|derived|shop)` needs", "is already given", "does not rise above", "the lowest stands first", "it must lie above", "the elements add up", "stands after", "is read for the layout", "lies between",
	"below the density", "^the material has no", "path of a file below", "is already given", "`since` is", "^there is no built-in pack", "and the pack builds on none", "which is no rule of", "^\\d+ more problems", "`with` names the rule itself", "^`builds_on` names", "^`packs` names", "CEL words are taken",
}, "|"))

// TestSchemasBothWays: over documents made from the examples by one change or two, what a schema refuses its reader
// refuses, and what the reader refuses the schema does too, but for what it cannot express.
func TestSchemasBothWays(t *testing.T) {
	examples := map[string][]string{}
	for kind, patterns := range map[string][]string{
		"part": {"../../testdata/mill/*.yaml", "../../rules/packs/*/trials/*.yaml", "start/*.yaml"},
		"pack": {"../../rules/packs/*/pack.yaml", "packstart/pack.yaml"},
	} {
		for _, p := range patterns {
			names, err := filepath.Glob(p)
			if err != nil || len(names) == 0 {
				t.Fatal(p, err)
			}
			for _, n := range names {
				b, err := os.ReadFile(n)
				if err != nil {
					t.Fatal(err)
				}
				examples[kind] = append(examples[kind], strings.ReplaceAll(string(b), "NAME", "own"))
			}
		}
	}
	docs, err := filepath.Glob("../../docs/*.md")
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range append(docs, "../../README.md") {
		b, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for _, block := range strings.Split(string(b), "```yaml")[1:] {
			block, _, _ = strings.Cut(block, "```")
			_, text, _ := strings.Cut(block, "\n")
			switch {
			case strings.Contains(text, "diametre"): // a page about mistakes
			case strings.HasPrefix(text, "pack: "):
				examples["pack"] = append(examples["pack"], text)
			case strings.HasPrefix(text, "part: "):
				examples["part"] = append(examples["part"], text)
			}
		}
	}
	for _, stage := range []string{"fill", "press", "eject", "handle", "sinter", "size", "tool", "trials", "materials"} {
		b, err := os.ReadFile("../../rules/packs/press-and-sinter/" + stage + ".yaml")
		if err != nil {
			t.Fatal(err)
		}
		examples["pack"] = append(examples["pack"], "pack: x\nversion: 1.0.0\ntitle: X\n"+string(b))
	}
	examples["shop"] = []string{"packs: [press-and-sinter]\nstatus_at: ask\nconcessions: c.yaml\n",
		"packs: [{pack: hilltop, sha256: abc}, press-and-sinter]\n", "status_at: stop\n"}
	readers := map[string]func(b []byte) source.Problems{
		"part": func(b []byte) source.Problems { _, ps := form.Parse("x.yaml", b); return ps },
		"pack": func(b []byte) source.Problems {
			_, ps := rules.LoadPack([]rules.File{{Name: "pack.yaml", Bytes: b}}, rules.Builtins)
			return ps
		},
		"shop": func(b []byte) source.Problems { _, ps := rules.ReadShop("corerod.yaml", b); return ps },
	}
	n := 6000
	if testing.Short() {
		n = 600
	}
	for kind, texts := range examples {
		schema := compiled(t, kind)
		strays, refused, both := map[string]string{}, 0, 0
		docs := n
		if kind == "pack" {
			docs /= 20 // each compiles all its rules
		}
		for i := range docs {
			text := texts[i%len(texts)]
			rng := rand.New(rand.NewPCG(uint64(i/len(texts)), uint64(crc32.ChecksumIEEE([]byte(text)))))
			node, ps := source.Parse("x.yaml", []byte(text))
			if len(ps) > 0 {
				t.Fatal(ps, text)
			}
			doc := plain(node)
			if i >= len(texts) {
				for range 1 + rng.IntN(2) {
					doc = altered(rng, doc)
				}
			}
			b, err := json.Marshal(doc)
			if err != nil {
				t.Fatal(err)
			}
			inst, err := jsonschema.UnmarshalJSON(bytes.NewReader(b))
			if err != nil {
				t.Fatal(err)
			}
			bad, found := schema.Validate(inst) != nil, readers[kind](b)
			switch {
			case i < len(texts) && bad:
				t.Errorf("the schema of a %s refuses an example: %v\n%s", kind, schema.Validate(inst), text)
			case bad && len(found) == 0:
				t.Errorf("the schema of a %s refuses what the reader takes: %v\n%s", kind, schema.Validate(inst), b)
			case bad:
				both++
			case len(found) > 0:
				refused++
				for _, p := range found {
					if !beyond.MatchString(p.Message) {
						strays[regexp.MustCompile("`[^`]*`|[0-9.]+").ReplaceAllString(p.Message, "…")] = fmt.Sprintf(
							"%s\n%.300s", p.Message, b)
					}
				}
			}
			if t.Failed() {
				return
			}
		}
		var all []string
		for _, s := range strays {
			all = append(all, s)
		}
		sort.Strings(all)
		for _, s := range all[:min(len(all), 25)] {
			t.Errorf("the schema of a %s takes what the reader refuses: %s", kind, s)
		}
		t.Logf("%s: %d refused by both, %d by the reader alone", kind, both, refused)
		if both < docs/10 {
			t.Errorf("%s: only %d of %d documents were refused by both", kind, both, docs)
		}
	}
}

func compiled(t *testing.T, kind string) *jsonschema.Schema {
	t.Helper()
	s, err := jsonschema.NewCompiler().Compile("../../docs/" + kind + ".schema.json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// altered changes one thing somewhere in a document.
func altered(rng *rand.Rand, doc any) any {
	switch v := doc.(type) {
	case map[string]any:
		names := make([]string, 0, len(v))
		for k := range v {
			names = append(names, k)
		}
		slices.Sort(names)
		if len(names) == 0 || rng.IntN(12) == 0 {
			v["colour"] = "red"
			return v
		}
		k := names[rng.IntN(len(names))]
		switch rng.IntN(7) {
		case 0:
			delete(v, k)
		case 1:
			v[k+"s"] = v[k]
			delete(v, k)
		default:
			v[k] = altered(rng, v[k])
		}
		return v
	case []any:
		switch rng.IntN(5) {
		case 0:
			return append(v, 1.0)
		case 1:
			return v[:0]
		}
		if len(v) == 0 {
			return "none"
		}
		i := rng.IntN(len(v))
		v[i] = altered(rng, v[i])
		return v
	case float64:
		return []any{-v, 0.0, v * 1000, "x", nil, []any{v}, map[string]any{"x": v}, true, v + 0.5}[rng.IntN(9)]
	case string:
		return []any{v + "x", "", 3.5, nil, []any{v}, map[string]any{v: v}, "Other", strconv.Quote(v)}[rng.IntN(8)]
	case bool:
		return []any{!v, "yes", 1.0, nil}[rng.IntN(4)]
	}
	return 5.0
}

// TestInchBounds: a length in inches has the bound of the same length in mm, in the schema as in the reader.
func TestInchBounds(t *testing.T) {
	c := jsonschema.NewCompiler()
	b, err := schemaOf("part")
	if err != nil {
		t.Fatal(err)
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	if err := c.AddResource("part.json", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("part.json")
	if err != nil {
		t.Fatal(err)
	}
	for _, text := range []string{"diameter: %s", "diameter: 1, at: [0, %s]", "diameter: 1, at: [-%s, 0]"} {
		for unit, least := range map[string]float64{"mm": 1e6, "in": 1e6 / 25.4} {
			for share, fits := range map[float64]bool{0.9999: true, 1.0001: false} {
				file := fmt.Sprintf("part: p\nunits: %s\nbodies: {b: {circle: {%s}, from: 0, to: 1}}\n", unit,
					fmt.Sprintf(text, strconv.FormatFloat(least*share, 'f', 3, 64)))
				root, ps := source.Parse("p.yaml", []byte(file))
				if len(ps) > 0 {
					t.Fatal(ps)
				}
				_, ps = form.Parse("p.yaml", []byte(file))
				if err := s.Validate(plain(root)); (err == nil) != fits || (len(ps) == 0) != fits {
					t.Errorf("%s: the schema says %v, the reader %v", file, err, ps)
				}
			}
		}
	}
}
