package classes

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"steelyard/web/page"
)

// count is a number with its noun.
func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprint(n, " ", many)
}

// day is a date as people write it.
func day(t time.Time) string { return t.In(time.Local).Format("2 January 2006") }

// moment is a time as people write it, on the school's clock.
func moment(t time.Time) string { return t.In(time.Local).Format("Mon 2 January 2006, 15:04") }

// clock names the zone that times are in: that of the computer that the program runs on.
func clock(now time.Time) string {
	name, _ := now.In(time.Local).Zone()
	offset := now.In(time.Local).Format("UTC-07:00")
	if strings.HasPrefix(name, "+") || strings.HasPrefix(name, "-") || name == "" {
		return offset
	}
	return name + " (" + offset + ")"
}

// The values of the browser's fields for a date and for a date with a time.
const (
	dateField = "2006-01-02"
	timeField = "2006-01-02T15:04"
)

// readTime reads a field for a date with a time; empty is the zero time.
func readTime(s string) (time.Time, error) {
	if s = strings.TrimSpace(s); s == "" {
		return time.Time{}, nil
	}
	for _, layout := range []string{timeField, "2006-01-02T15:04:05", "2006-01-02 15:04"} {
		if t, err := time.ParseInLocation(layout, s, time.Local); err == nil {
			return t.UTC(), nil
		}
	}
	return time.Time{}, fmt.Errorf("%q is no date with a time; write it as 2026-12-04 16:00", s)
}

func timeValue(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.In(time.Local).Format(timeField)
}

// plain is a text in one line without needless spaces.
func plain(s string) string { return strings.Join(strings.Fields(s), " ") }

// named checks a name or title that somebody typed.
func named(s, what string, most int) (fault string) {
	switch {
	case s == "":
		return "give " + what
	case len([]rune(s)) > most:
		return "make it " + strconv.Itoa(most) + " characters at most"
	}
	for _, r := range s {
		if r < ' ' || r == 0x7f || r >= 0x202a && r <= 0x202e || r >= 0x2066 && r <= 0x2069 {
			return "take out what can't be printed"
		}
	}
	return ""
}

// faulty says whether any field of a form has to be mended.
func faulty(fields ...page.Field) bool {
	for _, f := range fields {
		if f.Fault != "" {
			return true
		}
	}
	return false
}

// titled is the title of a page: of a form that came back it begins with how many things there are to mend.
func titled(title string, fields ...page.Field) string {
	n := 0
	for _, f := range fields {
		if f.Fault != "" {
			n++
		}
	}
	if n == 0 {
		return title
	}
	return count(n, "thing to mend", "things to mend") + ": " + title
}

// status is that of a page with a form.
func status(fields ...page.Field) int {
	if faulty(fields...) {
		return 422
	}
	return 200
}
