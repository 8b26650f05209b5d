package mark

import (
	"strings"
	"testing"

	"steelyard/question"
)

func TestAMassBesideAWeightIsNamedAsTheMass(t *testing.T) {
	q, err := question.Parse("crate", `question "Crate on a board"
body board: length 3.00 m, mass 35 kg, centre of mass at 1.45 m
support P: pivot, on board at 1.00 m
load K: weight unknown, on board at left end, "crate"

part a: find weight K  marks 3  "Calculate the weight of the crate."
`)
	if err != nil {
		t.Fatal(err)
	}
	k, err := NewKey(q, Policy{})
	if err != nil {
		t.Fatal(err)
	}
	j := judgeTyped(k, q.Part("a"), []string{"WK x 1.00 = 35 x 0.45"})[0]
	if j.Verdict != Wrong || !strings.Contains(j.Off, "35 kg is a mass") && !strings.Contains(j.Off, "35.0 kg is a mass") {
		t.Errorf("%v: %s", j.Verdict, j.Off)
	}
}
