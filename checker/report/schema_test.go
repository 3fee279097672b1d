package report

import (
	"bytes"
	"context"
	"encoding/json"
	"io"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"corerod/checker"
	"corerod/rules"
)

const schemaFile = "../../docs/review.schema.json"

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
	for name, of := range map[string]reflect.Type{"review": reflect.TypeFor[jsonReview](), "compare": reflect.TypeFor[jsonCompare](), "tooling": reflect.TypeFor[jsonTooling]()} {
		walk(name, schemaOf(of))
	}
}

// TestGeneratedSchema: docs/review.schema.json describes what JSON writes, and the mill's reviews are valid by it.
// COREROD_UPDATE=1 writes it.
func TestGeneratedSchema(t *testing.T) {
	s := schemaOf(reflect.TypeFor[jsonReview]())
	s["$schema"] = "https://json-schema.org/draft/2020-12/schema"
	s["title"] = "corerod review, format 1"
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
		t.Error("docs/review.schema.json is stale; run COREROD_UPDATE=1 go test ./checker/report")
	}
	schema, err := jsonschema.NewCompiler().Compile(schemaFile)
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	if err := JSON(&out, millReview(t)); err != nil {
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

// millReview reviews the hand mill's parts and one file that cannot be read.
func millReview(t *testing.T) *checker.Review {
	t.Helper()
	names, err := filepath.Glob("../../testdata/mill/*.yaml")
	if err != nil || len(names) == 0 {
		t.Fatal(names, err)
	}
	var files []checker.File
	for _, n := range names {
		files = append(files, checker.File{Name: filepath.ToSlash(n), Open: func() (io.ReadCloser, error) { return os.Open(n) }})
	}
	files = append(files, checker.File{Name: "bad.yaml", Open: func() (io.ReadCloser, error) {
		return io.NopCloser(strings.NewReader("part: X")), nil
	}})
	p, err := rules.LoadBuiltin("press-and-sinter")
	if err != nil {
		t.Fatal(err)
	}
	b, ps := rules.NewBook(p)
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	return checker.Run(context.Background(), files, b, checker.Options{StatusAt: rules.Change})
}
