package pupil

import (
	"fmt"
	"time"
)

// when says a time as somebody would: "today at 16:00", "tomorrow at 09:00", "on Tuesday 4 May at 16:00". It is told
// in the zone of now.
func when(t, now time.Time) string {
	if t.IsZero() {
		return "at any time"
	}
	t = t.In(now.Location())
	day := func(x time.Time) string { return x.Format("2006-01-02") }
	clock := t.Format("15:04")
	switch day(t) {
	case day(now):
		return "today at " + clock
	case day(now.AddDate(0, 0, 1)):
		return "tomorrow at " + clock
	case day(now.AddDate(0, 0, -1)):
		return "yesterday at " + clock
	}
	if t.Year() != now.Year() {
		return "on " + t.Format("2 January 2006") + " at " + clock
	}
	return "on " + t.Format("Monday 2 January") + " at " + clock
}

// count is a number with its noun.
func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprint(n, " ", many)
}
