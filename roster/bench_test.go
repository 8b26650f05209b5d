package roster

import (
	"fmt"
	"strings"
	"testing"
)

// A school of 1500 pupils, each in ten classes.
func BenchmarkReadOneRoster(b *testing.B) {
	set := sample(b)
	head := func(f string) string { return strings.SplitAfter(set[f], "\n")[0] }
	var users, classes, roles, enrolments strings.Builder
	for i := range 1500 {
		fmt.Fprintf(&users, "p-%d,,,true,p%d,,Given%d,Family,,,,,,,,,,,,,,org-1,\n", i, i, i)
		fmt.Fprintf(&roles, "rp-%d,,,p-%d,primary,student,,,org-1,\n", i, i)
		for k := range 10 {
			fmt.Fprintf(&enrolments, "ep-%d-%d,,,c-%d,org-1,p-%d,student,,,\n", i, k, (i*7+k*61)%500, i)
		}
	}
	for i := range 500 {
		fmt.Fprintf(&classes, "c-%d,,,Class %d,,co-phy12,,scheduled,,org-1,t1,,,\n", i, i)
	}
	set["users.csv"], set["classes.csv"] = head("users.csv")+users.String(), head("classes.csv")+classes.String()
	set["roles.csv"], set["enrollments.csv"] = head("roles.csv")+roles.String(), head("enrollments.csv")+enrolments.String()
	zip := packed(b, set)
	b.ReportMetric(float64(len(zip)), "zip-bytes")
	for b.Loop() {
		if lists, err := ReadOneRoster(zip, day, Known{}); err != nil || len(lists) != 500 {
			b.Fatal(len(lists), err)
		}
	}
}
