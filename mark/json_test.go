package mark

import (
	"bytes"
	"encoding/json"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"steelyard/script"
)

// What a marked part is written as is what docs/mark.schema.json says.
func TestJSONHasTheDocumentedForm(t *testing.T) {
	schema, err := jsonschema.NewCompiler().Compile("../docs/mark.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	k := keyOf(t, "lock-footbridge", Policy{})
	hands := handsOf("a 1600 N m; b 420 N; c 420 N; d 270; e ?; z 4")
	for i := range hands {
		hands[i].Working = "moments about Q\nP x 2.8 = 280 x 1.1 + 560 x 2.3\n&&&"
	}
	parts := k.Mark(hands)
	parts = append(parts, Part{Pupil: "x", Part: "b", Of: 2, Override: &Override{Mark: 1, Reason: "seen on paper"},
		Lines: []Judged{{Line: script.Line{Text: "R = 1"}, Verdict: Wrong, Slip: "equal-shares", Off: "the span"}}})
	for i, p := range parts {
		text, err := json.Marshal(p)
		if err != nil {
			t.Fatal(err)
		}
		v, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
		if err != nil {
			t.Fatal(err)
		}
		if err := schema.Validate(v); err != nil {
			t.Errorf("%d: %v\n%s", i, err, text)
		}
	}
	text, _ := json.Marshal(parts[len(parts)-1])
	want := `{"pupil":"x","part":"b","marks":1,"of":2,"lines":[{"text":"R = 1","verdict":"wrong","means":"","slip":"equal-shares","off":"the span"}],"answer":{"text":"","value":null,"unit":"","verdict":"none"},"slips":[],"ask_teacher":false,"why":[],"override":{"mark":1,"reason":"seen on paper"}}`
	if string(text) != want {
		t.Errorf("got  %s\nwant %s", text, want)
	}
	bad, _ := jsonschema.UnmarshalJSON(bytes.NewReader([]byte(`{"pupil":"x"}`)))
	if schema.Validate(bad) == nil {
		t.Error("the schema lets anything through")
	}
}
