package main

import (
	"bytes"
	"encoding/json"
	"path/filepath"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
)

// What solve --json prints is what docs/solve.schema.json says, for every example and published case.
func TestJSONHasTheDocumentedForm(t *testing.T) {
	schema, err := jsonschema.NewCompiler().Compile("../../docs/solve.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	files, _ := filepath.Glob("../../bank/*.moments")
	published, _ := filepath.Glob("../../answer/testdata/published/*.moments")
	files = append(files, published...)
	if len(files) < 25 {
		t.Fatalf("only %d question files found", len(files))
	}
	states := map[string]bool{}
	for _, file := range files {
		var out, errs bytes.Buffer
		if status := run([]string{"solve", "--json", file}, streams{in: strings.NewReader(""), out: &out, err: &errs}); status == misused {
			t.Fatalf("%s: %s", file, &errs)
		}
		v, err := jsonschema.UnmarshalJSON(bytes.NewReader(out.Bytes()))
		if err != nil {
			t.Fatalf("%s: %v\n%s", file, err, &out)
		}
		if err := schema.Validate(v); err != nil {
			t.Errorf("%s: %v", file, err)
		}
		var a struct {
			State string
			Parts []struct{ Value *float64 }
		}
		if err := json.Unmarshal(out.Bytes(), &a); err != nil {
			t.Fatal(err)
		}
		states[a.State] = true
	}
	for _, s := range stateNames {
		if !states[s] {
			t.Errorf("no example is %s", s)
		}
	}
}
