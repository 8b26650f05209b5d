package mark

import (
	"testing"

	"steelyard/script"
)

var workings = []string{
	"moments about Q:\nRP x 2.8 = 280 x 1.1 + 560 x 2.3\n2.8RP = 1596\nRP = 1596/2.8 = 570 N",
	"RP x 2.8 = 280 x 1.1 + 560 x 1.2\n2.8 RP = 980\nRP = 350 N\nRQ = 840 - 350 = 490 N",
	"taking moments about the left end, 0.7P + 3.5Q = 280 x 2.4 + 560 x 1.2\nP + Q = 840\nso P = 570",
	"RP = (280 + 560)/2 = 420",
}

// One worked part of about four lines, read and judged.
func BenchmarkJudgePart(b *testing.B) {
	_, keys := bankKeys(b)
	k := keys["lock-footbridge"]
	p := k.Question.Part("b")
	b.ReportAllocs()
	i := 0
	for b.Loop() {
		k.Judge(p, script.Read(workings[i%len(workings)]), nil)
		i++
	}
	b.ReportMetric(float64(b.N)/b.Elapsed().Seconds(), "parts/s")
}

// A question with a hinge and a cable, whose names could mean more.
func BenchmarkJudgeHinge(b *testing.B) {
	_, keys := bankKeys(b)
	k := keys["stall-sign"]
	p := k.Question.Part("c")
	b.ReportAllocs()
	for b.Loop() {
		k.Judge(p, script.Read("H = T cos 40 = 110.7\nV + T sin 40 = 60 + 80\nV = 140 - 144.5 = -4.5 N\nR = sqrt(110.7^2 + 4.5^2) = 110.8"), nil)
	}
	b.ReportMetric(float64(b.N)/b.Elapsed().Seconds(), "parts/s")
}
