package show

import "steelyard/web/page"

// A desk answers the requests of this room.
type desk struct {
	*page.Desk
	talks *shelf
}

// Routes are the addresses of this room.
func Routes(d *page.Desk) []page.Route {
	s := &desk{Desk: d, talks: newShelf()}
	var list []page.Route
	for _, from := range page.From {
		for _, end := range []string{"", "/{part}"} {
			list = append(list, page.Route{Pattern: "GET /show/" + from + end, For: page.Teachers, Do: s.board})
		}
		list = append(list, page.Route{Pattern: "GET /show/" + from + "/{part}/notes", For: page.Teachers, Do: s.notes})
	}
	return list
}
