package roster

import (
	_ "embed"
	"encoding/csv"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"time"
)

//go:embed columns.csv
var columnsCSV string

// A column is one of a OneRoster file: its format and what may stand in it [tables of section 4].
type column struct {
	name, required, format string
	words                  []string // the enumeration; nil: anything
	extended               bool     // other words that begin "ext:" may stand there too
}

// columns12 are those of the files that are read, in the order that their headers must have; columns11 those of
// version 1.1 where they differ (from memory).
var (
	columns12 = readColumns()
	columns11 = map[string][]column{"users.csv": users11()}
)

func readColumns() map[string][]column {
	rows, err := csv.NewReader(strings.NewReader(columnsCSV)).ReadAll()
	if err != nil {
		panic(err)
	}
	list := map[string][]column{}
	for _, r := range rows[1:] {
		c := column{name: r[1], required: r[2], format: r[3], extended: r[5] == "yes"}
		if r[4] != "" {
			c.words = strings.Split(r[4], "|")
		}
		list[r[0]] = append(list[r[0]], c)
	}
	return list
}

func users11() (list []column) {
	names := "sourcedId,status,dateLastModified,enabledUser,orgSourcedIds,role,username,userIds,givenName,familyName," +
		"middleName,identifier,email,sms,phone,agentSourcedIds,grades,password"
	for name := range strings.SplitSeq(names, ",") {
		c := column{name: name, required: "no", format: "string"}
		if i := slices.IndexFunc(columns12["users.csv"], func(o column) bool { return o.name == name }); i >= 0 {
			c = columns12["users.csv"][i]
		}
		if name == "role" {
			c.required = "yes"
		}
		list = append(list, c)
	}
	return list
}

var (
	guid     = regexp.MustCompile(`^[0-9A-Za-z.\-_/@]{1,255}$`)
	instants = []string{"2006-01-02T15:04:05.999Z07:00", "2006-01-02T15:04:05Z07:00"}
)

// fault says what is wrong with a cell; "" if nothing is.
func (c *column) fault(cell, mode string) (what, mend string) {
	delta := c.required == "delta"
	switch {
	case cell == "" && (c.required == "yes" || delta && mode == "delta"):
		return fmt.Sprintf("%s is empty", c.name), "it has to be given"
	case cell == "":
		return "", ""
	case delta && mode == "bulk":
		return fmt.Sprintf("%s is given in a complete set", c.name), "leave it empty, or mark the file as delta in manifest.csv"
	case c.words != nil && !slices.Contains(c.words, cell) && !(c.extended && strings.HasPrefix(cell, "ext:")):
		return fmt.Sprintf("%q is no %s", short(cell), c.name), "write one of " + strings.Join(c.words, ", ")
	}
	switch c.format {
	case "guid", "guid reference":
		if !guid.MatchString(cell) {
			return fmt.Sprintf("%q is no identifier", short(cell)), "use up to 255 letters, digits and . - _ / @"
		}
	case "list of guid references":
		for id := range strings.SplitSeq(cell, ",") {
			if !guid.MatchString(strings.TrimSpace(id)) {
				return fmt.Sprintf("%q is no list of identifiers", short(cell)), "put commas between them"
			}
		}
	case "date":
		if _, err := time.Parse(time.DateOnly, cell); err != nil {
			return fmt.Sprintf("%q is no date", short(cell)), "write it as 2026-09-01"
		}
	case "datetime":
		if !slices.ContainsFunc(instants, func(l string) bool { _, err := time.Parse(l, cell); return err == nil }) {
			return fmt.Sprintf("%q is no time", short(cell)), "write it as 2026-09-01T08:00:00.000Z"
		}
	case "year":
		if _, err := time.Parse("2006", cell); err != nil {
			return fmt.Sprintf("%q is no year", short(cell)), "write it as 2027"
		}
	}
	return "", ""
}
