package record_test

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"pgregory.net/rapid"

	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

const schemaID = "https://fettlebook.org/schema/record-1.json"

func value(tb testing.TB, b []byte) any {
	tb.Helper()
	v, err := jsonschema.UnmarshalJSON(bytes.NewReader(b))
	if err != nil {
		tb.Fatal(err)
	}
	return v
}

func schemaFile(tb testing.TB) map[string]any {
	tb.Helper()
	b, err := os.ReadFile(filepath.Join("..", "..", "assets", "schema", "record.schema.json"))
	if err != nil {
		tb.Fatal(err)
	}
	return value(tb, b).(map[string]any)
}

// recordSchema compiles the schema, which also holds it against the draft's own.
func recordSchema(tb testing.TB) *jsonschema.Schema {
	tb.Helper()
	c := jsonschema.NewCompiler()
	if err := c.AddResource(schemaID, schemaFile(tb)); err != nil {
		tb.Fatal(err)
	}
	s, err := c.Compile(schemaID)
	if err != nil {
		tb.Fatal(err)
	}
	return s
}

func TestTheSchemaNamesItsDraftAndItself(t *testing.T) {
	s := schemaFile(t)
	if s["$schema"] != "https://json-schema.org/draft/2020-12/schema" || s["$id"] != schemaID {
		t.Errorf("the schema is of %v and calls itself %v", s["$schema"], s["$id"])
	}
}

func TestTheSchemaTakesTheFrozenRecords(t *testing.T) {
	schema := recordSchema(t)
	for _, f := range frozen {
		if err := schema.Validate(value(t, frozenFile(t, f.record))); err != nil {
			t.Errorf("%s: %v", f.record, err)
		}
	}
}

func TestTheSchemaTakesWhatReadTakes(t *testing.T) {
	schema := recordSchema(t)
	rapid.Check(t, func(rt *rapid.T) {
		r := (&drawer{T: rt}).record()
		b, err := r.Marshal()
		if err != nil {
			rt.Fatal(err)
		}
		if _, err := record.Read(b); err != nil {
			rt.Fatalf("the record drawn is not sound: %v", err)
		}
		if err := schema.Validate(value(t, b)); err != nil {
			rt.Fatalf("%v\n%s", err, b)
		}
	})
}

func TestTheSchemaPutsEachDamageOnItsScale(t *testing.T) {
	schema := recordSchema(t)
	r := full(t)
	id := first(t, r.Findings)
	for _, damage := range term.Damages {
		for _, severity := range term.Severities {
			f := r.Findings[id]
			f.Damage, f.Severity = damage, severity
			r.Findings[id] = f
			b, err := r.Marshal()
			if err != nil {
				t.Fatal(err)
			}
			_, refused := record.Read(b)
			if bySchema := schema.Validate(value(t, b)); (refused == nil) != (bySchema == nil) {
				t.Errorf("%s that is %s: Read says %v, the schema says %v", damage, severity, refused, bySchema)
			}
		}
	}
}

// The words that the schema must list, by type.
var vocabularies = map[reflect.Type][]string{
	reflect.TypeFor[term.Duty]():      wordsOf(term.Duties),
	reflect.TypeFor[term.PartState](): wordsOf(term.PartStates),
	reflect.TypeFor[term.Damage]():    wordsOf(term.Damages),
	reflect.TypeFor[term.Severity]():  wordsOf(term.Severities),
	reflect.TypeFor[term.Zone]():      wordsOf(term.Zones),
	reflect.TypeFor[term.Method]():    wordsOf(term.Methods),
	reflect.TypeFor[term.FlankSide](): wordsOf(term.FlankSides),
	reflect.TypeFor[term.Standing]():  wordsOf(term.Standings),
	reflect.TypeFor[term.View]():      wordsOf(term.Views),
	reflect.TypeFor[term.Stage]():     wordsOf(term.Stages),
	reflect.TypeFor[term.Verdict]():   wordsOf(term.Verdicts),
	reflect.TypeFor[record.Shape]():   wordsOf([]record.Shape{record.Polygon, record.Oval, record.Line, record.Spot, record.Edges}),
}

func wordsOf[T any](words []T) []string {
	var texts []string
	for _, w := range words {
		texts = append(texts, fmt.Sprint(w))
	}
	slices.Sort(texts)
	return texts
}

// Every name of the record stands in the schema with a title and a description,
// and the other way round; so does every word.
func TestTheSchemaSaysWhatTheRecordSays(t *testing.T) {
	root := schemaFile(t)
	w := walker{t: t, defs: root["$defs"].(map[string]any), used: map[string]bool{}}
	w.value("", reflect.TypeFor[record.Record](), root)
	for name := range w.defs {
		if !w.used[name] {
			t.Errorf("nothing uses $defs/%s", name)
		}
	}
}

type walker struct {
	t    *testing.T
	defs map[string]any
	used map[string]bool
}

// resolved follows the schema's reference.
func (w *walker) resolved(at string, schema map[string]any) map[string]any {
	ref, ok := schema["$ref"].(string)
	if !ok {
		return schema
	}
	name := strings.TrimPrefix(ref, "#/$defs/")
	def, ok := w.defs[name].(map[string]any)
	if !ok {
		w.t.Fatalf("%s: %s leads nowhere", at, ref)
	}
	w.used[name] = true
	return def
}

func (w *walker) value(at string, typ reflect.Type, schema map[string]any) {
	schema = w.resolved(at, schema)
	if words, ok := vocabularies[typ]; ok {
		listed, _ := schema["enum"].([]any)
		if got := wordsOf(listed); !slices.Equal(got, words) {
			w.t.Errorf("%s: the schema lists %q, the words are %q", at, got, words)
		}
		return
	}
	if strings.HasSuffix(typ.PkgPath(), "/term") {
		w.t.Errorf("%s: this test does not know the words of %v", at, typ)
	}
	want := map[reflect.Kind]string{
		reflect.Struct: "object", reflect.Map: "object", reflect.Slice: "array", reflect.Array: "array",
		reflect.String: "string", reflect.Bool: "boolean", reflect.Int: "integer", reflect.Int64: "integer",
	}[typ.Kind()]
	if got := schema["type"]; got != want && schema["const"] == nil && schema["enum"] == nil {
		w.t.Errorf("%s: the schema says %v, the record %v", at, got, typ)
	}
	switch typ.Kind() {
	case reflect.Struct:
		w.object(at, typ, schema)
	case reflect.Map:
		w.value(at+"/*", typ.Elem(), schema["additionalProperties"].(map[string]any))
		names := w.resolved(at, schema["propertyNames"].(map[string]any))
		if byID := typ.Key() == reflect.TypeFor[record.ID](); byID != (names["pattern"] != nil) {
			w.t.Errorf("%s: the schema's names do not fit %v", at, typ)
		}
	case reflect.Slice:
		w.value(at+"/*", typ.Elem(), schema["items"].(map[string]any))
	case reflect.Array:
		if n := len(schema["prefixItems"].([]any)); n != typ.Len() || schema["items"] != false {
			w.t.Errorf("%s: the schema has %d items, the record %d", at, n, typ.Len())
		}
	case reflect.String:
		if typ == reflect.TypeFor[record.ID]() && schema["pattern"] == nil {
			w.t.Errorf("%s: the schema gives no form for an id", at)
		}
	}
}

func (w *walker) object(at string, typ reflect.Type, schema map[string]any) {
	if schema["additionalProperties"] != false {
		w.t.Errorf("%s: the schema lets other names in", at)
	}
	listed, _ := schema["properties"].(map[string]any)
	unseen := make(map[string]bool, len(listed))
	for name := range listed {
		unseen[name] = true
	}
	var needed []any
	for i := range typ.NumField() {
		name, options, _ := strings.Cut(typ.Field(i).Tag.Get("json"), ",")
		if options == "" {
			needed = append(needed, name)
		}
		property, ok := listed[name].(map[string]any)
		if !ok {
			w.t.Errorf("%s: the schema lacks %q", at, name)
			continue
		}
		delete(unseen, name)
		for _, text := range []string{"title", "description"} {
			if said, _ := property[text].(string); said == "" {
				w.t.Errorf("%s/%s has no %s", at, name, text)
			}
		}
		w.value(at+"/"+name, typ.Field(i).Type, property)
	}
	for name := range unseen {
		w.t.Errorf("%s: the schema has %q, the record does not", at, name)
	}
	required, _ := schema["required"].([]any)
	if !slices.Equal(wordsOf(required), wordsOf(needed)) {
		w.t.Errorf("%s: the schema needs %v, the record always has %v", at, required, needed)
	}
}
