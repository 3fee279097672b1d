package data

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"reflect"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"corerod/checker"
	"corerod/checker/report/reporttest"
)

const schemaFile = "../../../docs/review.schema.json"

// schemaOf describes a Go type as JSON Schema.
func schemaOf(t reflect.Type) map[string]any {
	switch t.Kind() {
	case reflect.Pointer:
		s := schemaOf(t.Elem())
		if w, ok := s["type"].(string); ok {
			s["type"] = []string{w, "null"}
		}
		return s
	case reflect.Struct:
		props, required := map[string]any{}, []string{}
		for i := range t.NumField() {
			f := t.Field(i)
			name, options, _ := strings.Cut(f.Tag.Get("json"), ",")
			if f.Anonymous {
				in := schemaOf(f.Type)
				for k, v := range in["properties"].(map[string]any) {
					props[k] = v
				}
				required = append(required, in["required"].([]string)...)
				continue
			}
			p := schemaOf(f.Type)
			if d := f.Tag.Get("doc"); d != "" {
				p["description"] = d
			}
			props[name] = p
			if options != "omitempty" {
				required = append(required, name)
			}
		}
		return map[string]any{"type": "object", "properties": props, "required": required, "additionalProperties": false}
	case reflect.Slice:
		return map[string]any{"type": "array", "items": schemaOf(t.Elem())}
	case reflect.Array:
		return map[string]any{"type": "array", "items": schemaOf(t.Elem()), "minItems": t.Len(), "maxItems": t.Len()}
	case reflect.Interface:
		return map[string]any{"type": []string{"number", "string", "boolean"}}
	case reflect.Bool:
		return map[string]any{"type": "boolean"}
	case reflect.Int:
		return map[string]any{"type": "integer"}
	case reflect.Float64:
		return map[string]any{"type": "number"}
	}
	return map[string]any{"type": "string"}
}

// TestSchemasDescribed: every key of the JSON that a review, a comparison and a layout are written in says what it is, in a
// sentence.
func TestSchemasDescribed(t *testing.T) {
	var walk func(path string, s map[string]any)
	walk = func(path string, s map[string]any) {
		if of, ok := s["items"].(map[string]any); ok {
			walk(path+"[]", of)
		}
		props, _ := s["properties"].(map[string]any)
		for name, p := range props {
			p := p.(map[string]any)
			if d, _ := p["description"].(string); !strings.HasSuffix(d, ".") {
				t.Errorf("%s.%s is described as %q", path, name, d)
			}
			walk(path+"."+name, p)
		}
	}
	for name, of := range map[string]reflect.Type{"review": reflect.TypeFor[jsonReview](), "compare": reflect.TypeFor[jsonCompare](),
		"tooling": reflect.TypeFor[jsonTooling]()} {
		walk(name, schemaOf(of))
	}
}

// TestGeneratedSchema: docs/review.schema.json describes what JSON writes, and the mill's reviews are valid by it.
// COREROD_UPDATE=1 writes it.
func TestGeneratedSchema(t *testing.T) {
	s := schemaOf(reflect.TypeFor[jsonReview]())
	s["$schema"] = "https://json-schema.org/draft/2020-12/schema"
	s["title"] = fmt.Sprintf("corerod review, format %d", Format)
	s["description"] = "Lengths in mm, angles in degrees, areas mm2, volumes mm3, masses g; numbers have at most 12 significant digits."
	want, err := json.MarshalIndent(s, "", "  ")
	if err != nil {
		t.Fatal(err)
	}
	want = append(want, '\n')
	if os.Getenv("COREROD_UPDATE") != "" {
		if err := os.WriteFile(schemaFile, want, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	got, err := os.ReadFile(schemaFile)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Error("docs/review.schema.json is stale; run COREROD_UPDATE=1 go test ./checker/report/data")
	}
	schema, err := jsonschema.NewCompiler().Compile(schemaFile)
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	if err := writeJSON(&out, reporttest.Mill(t)); err != nil {
		t.Fatal(err)
	}
	doc, err := jsonschema.UnmarshalJSON(&out)
	if err != nil {
		t.Fatal(err)
	}
	if err := schema.Validate(doc); err != nil {
		t.Error(err)
	}
	doc.(map[string]any)["colour"] = "red"
	if schema.Validate(doc) == nil {
		t.Error("the schema lets an unknown key pass")
	}
}

// TestCompareSchema: docs/compare.schema.json describes what CompareJSON writes, and comparisons of demo parts, which differ
// in all that can differ, are valid by it. COREROD_UPDATE=1 writes it.
func TestCompareSchema(t *testing.T) {
	const file = "../../../docs/compare.schema.json"
	s := schemaOf(reflect.TypeFor[jsonCompare]())
	s["$schema"] = "https://json-schema.org/draft/2020-12/schema"
	s["title"] = fmt.Sprintf("corerod comparison, format %d", Format)
	s["description"] = "Values of the part files in their own units; all else in mm, degrees, mm2, mm3, g, g/cm3, kN; numbers have at most " +
		"12 significant digits."
	want, err := json.MarshalIndent(s, "", "  ")
	if err != nil {
		t.Fatal(err)
	}
	want = append(want, '\n')
	if os.Getenv("COREROD_UPDATE") != "" {
		if err := os.WriteFile(file, want, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if got, err := os.ReadFile(file); err != nil || !bytes.Equal(got, want) {
		t.Errorf("docs/compare.schema.json is stale (%v); run COREROD_UPDATE=1 go test ./checker/report/data", err)
	}
	schema, err := jsonschema.NewCompiler().Compile(file)
	if err != nil {
		t.Fatal(err)
	}
	names := []string{"crank-hub", "guide-bush", "pawl", "ratchet-wheel", "feed-gear", "cam-plate", "thrust-washer"}
	filled := map[string]bool{}
	for i, old := range names {
		c, in := reporttest.Compare(t, reporttest.Part(t, old), reporttest.Part(t, names[(i+1)%len(names)]))
		in.Unused = "corerod.yaml"
		var b bytes.Buffer
		if err := Compare(&b, c, in); err != nil {
			t.Fatal(err)
		}
		doc, err := jsonschema.UnmarshalJSON(&b)
		if err != nil {
			t.Fatal(err)
		}
		if err := schema.Validate(doc); err != nil {
			t.Errorf("%s: %v", old, err)
		}
		for key, v := range doc.(map[string]any) {
			if l, ok := v.([]any); ok && len(l) > 0 {
				filled[key] = true
			}
		}
		doc.(map[string]any)["colour"] = "red"
		if schema.Validate(doc) == nil {
			t.Error("the schema lets an unknown key pass")
		}
	}
	if len(filled) != 7 {
		t.Errorf("of the lists only %v have entries", filled)
	}
}

// TestToolingSchema: docs/tooling.schema.json describes what ToolingJSON writes, and the mill's layouts are valid by it.
func TestToolingSchema(t *testing.T) {
	const file = "../../../docs/tooling.schema.json"
	s := schemaOf(reflect.TypeFor[jsonTooling]())
	s["$schema"] = "https://json-schema.org/draft/2020-12/schema"
	s["title"] = fmt.Sprintf("corerod tooling, format %d", Format)
	s["description"] = "Lengths in mm, areas mm2, densities g/cm3, pressures MPa, forces kN; numbers have at most 12 significant digits."
	want, err := json.MarshalIndent(s, "", "  ")
	if err != nil {
		t.Fatal(err)
	}
	want = append(want, '\n')
	if os.Getenv("COREROD_UPDATE") != "" {
		if err := os.WriteFile(file, want, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if got, err := os.ReadFile(file); err != nil || !bytes.Equal(got, want) {
		t.Errorf("docs/tooling.schema.json is stale (%v); run COREROD_UPDATE=1 go test ./checker/report/data", err)
	}
	schema, err := jsonschema.NewCompiler().Compile(file)
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range reporttest.Mill(t).Parts {
		var out bytes.Buffer
		if err := Tooling(&out, &checker.Derived{Part: p.Part, Subject: p.Subject, Layout: p.Layout}, nil, nil); err != nil {
			t.Fatal(err)
		}
		doc, err := jsonschema.UnmarshalJSON(&out)
		if err != nil {
			t.Fatal(err)
		}
		if err := schema.Validate(doc); err != nil {
			t.Errorf("%s: %v", p.File, err)
		}
	}
}
