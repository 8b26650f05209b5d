package sheet

import (
	"os"
	"path/filepath"
	"testing"
)

// With STEELYARD_SHEETS set to a folder, the sample sheets are written there to be looked at.
func TestWriteSamples(t *testing.T) {
	folder := os.Getenv("STEELYARD_SHEETS")
	if folder == "" {
		t.Skip("STEELYARD_SHEETS names no folder, so no sample sheets were written")
	}
	for name, set := range samples() {
		b, err := set(sampleSet())
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if err := os.WriteFile(filepath.Join(folder, name+".pdf"), b, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// samples are all kinds of sheet in all the sizes that are looked after.
func samples() map[string]func(Set) ([]byte, error) {
	out := map[string]func(Set) ([]byte, error){}
	for _, paper := range []Paper{A4, Letter} {
		for _, size := range []float64{11, 18, 24} {
			o := Options{Paper: paper, Size: size}
			for kind, make := range map[string]func(Set, Options) ([]byte, error){"questions": Questions, "scheme": Scheme, "solutions": Solutions} {
				out[kind+map[Paper]string{A4: "-a4-", Letter: "-letter-"}[paper]+map[float64]string{11: "11", 18: "18", 24: "24"}[size]] = func(s Set) ([]byte, error) { return make(s, o) }
			}
		}
	}
	return out
}
