package mark

import "testing"

// Answers alone, with diagnosis: five parts a time, of them two wrong and one carried.
func BenchmarkAnswersOnly(b *testing.B) {
	k := keyOf(b, "lock-footbridge", Policy{})
	hands := handsOf("a 1600 N m; b 700 N; c 140 N; d 140 N down; e 4.70 m")
	k.Mark(hands)
	for b.Loop() {
		k.Mark(hands)
	}
	b.ReportMetric(float64(5*b.N)/b.Elapsed().Seconds(), "parts/s")
}

// The same with three lines of working in each part.
func BenchmarkWorked(b *testing.B) {
	k := keyOf(b, "lock-footbridge", Policy{})
	hands := handsOf("a 1600 N m; b 700 N; c 140 N; d 140 N down; e 4.70 m")
	working := []string{
		"moments about Q\nM = 280 x 1.1 + 560 x 2.3\n= 1596 Nm",
		"moments about Q:\nP x 2.8 = 280 x 2.4 + 560 x 2.3\nP = 1960/2.8 = 700N",
		"total up = total down\nP + Q = 280 + 560\nQ = 840 - 700 = 140N",
		"equal and opposite\nforce of plank on Q = 140N\ndown",
		"about Q\n560 x d = 280 x 2.4\nd = 1.2 so 3.5 + 1.2 = 4.7m",
	}
	for i := range hands {
		hands[i].Working = working[i]
	}
	k.Mark(hands)
	for b.Loop() {
		k.Mark(hands)
	}
	b.ReportMetric(float64(5*b.N)/b.Elapsed().Seconds(), "parts/s")
}

func BenchmarkNewKey(b *testing.B) {
	q := keyOf(b, "lock-footbridge", Policy{}).Question
	for b.Loop() {
		if _, err := NewKey(q, Policy{}); err != nil {
			b.Fatal(err)
		}
	}
}
