// Package trial is the page on which a question is tried out: moments about any point, what a support or friction
// prevents, and forces against a number that is changed. Everything on it is an address of its own, so that it works
// without scripts; no address holds more than names of things and numbers.
package trial

import "steelyard/web/page"

// A desk answers the requests of this room.
type desk struct {
	*page.Desk
	solved shelf
}

// Routes are the addresses of this room.
func Routes(d *page.Desk) []page.Route {
	t := &desk{Desk: d}
	var list []page.Route
	for _, from := range page.From {
		list = append(list,
			page.Route{Pattern: "GET /try/" + from, For: page.Teachers, Do: t.try},
			page.Route{Pattern: "GET /try/" + from + "/{file}", For: page.Teachers, Do: t.file})
	}
	return list
}
