package class

import "math"

// Tells says in words what a part's numbers tell; nothing where they are as usual. Bounds: common practice, no source.
func (r *PartRow) Tells() (words []string) {
	switch {
	case r.Facility >= 0.85:
		words = append(words, "nearly everybody had it")
	case r.Facility < 0.35:
		words = append(words, "hard for most")
	}
	switch d := r.Discrimination; {
	case math.IsNaN(d):
	case d < -0.2:
		words = append(words, "those who did well elsewhere did worse here: look at its wording and its marks")
	case d < 0.2:
		words = append(words, "goes little with the rest")
	}
	return words
}
