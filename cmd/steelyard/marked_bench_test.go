package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// classTable is the answers of n pupils to the README's question, with working: right ones, a slip in a line, a
// rule in the place of mechanics, arithmetic, nonsense.
func classTable(n int) string {
	var b strings.Builder
	b.WriteString("pupil,part,answer,working\n")
	for i := range n {
		p := fmt.Sprintf("k%04d", i+1)
		switch i % 5 {
		case 0, 1:
			fmt.Fprintf(&b, "%s,a,550 N,\"moments about Q:\nP x 2.8 = 280 x 1.1 + 560 x 2.2\n= 308 + 1232\nP = 1540/2.8 = 550 N\"\n%s,b,290 N,840 - 550 = 290\n", p, p)
		case 2:
			fmt.Fprintf(&b, "%s,a,370 N,\"moments about Q\nP x 2.8 = 280 x 1.1 + 560 x 1.3\nP = 1036/2.8 = 370 N\"\n%s,b,470 N,840 - 370 = 470\n", p, p)
		case 3:
			fmt.Fprintf(&b, "%s,a,420 N,840 / 2 = 420\n%s,b,420 N,the same\n", p, p)
		case 4:
			fmt.Fprintf(&b, "%s,a,%d N,\"moments about P\nQ * 2.8 = 280*1.7 + 560*0.6 = 812\nQ = 290\nP = 840 - 290\"\n%s,b,290 N,\n", p, 540+i%7, p)
		}
	}
	return b.String()
}

// A class of 300, with working, marked, and its picture written as PDF. The aim is under 2 s.
func BenchmarkClassOf300(b *testing.B) {
	for _, n := range []int{30, 300, 3000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			dir := b.TempDir()
			question, answers := filepath.Join(dir, "bridge.moments"), filepath.Join(dir, "answers.csv")
			for name, text := range map[string]string{question: footbridge, answers: classTable(n)} {
				if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
					b.Fatal(err)
				}
			}
			for name, what := range map[string][]string{
				"marks":    {"mark", question, answers},
				"report":   {"report", question, answers, "-o", filepath.Join(dir, "report.pdf"), "-o", filepath.Join(dir, "report.html")},
				"feedback": {"mark", question, answers, "--feedback", filepath.Join(dir, "feedback.pdf")},
			} {
				b.Run(name, func(b *testing.B) {
					for b.Loop() {
						var out, errs bytes.Buffer
						if status := run(what, streams{in: strings.NewReader(""), out: &out, err: &errs}); status != done {
							b.Fatal(errs.String())
						}
					}
				})
			}
		})
	}
}
