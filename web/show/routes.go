package show

import (
	"net/http"

	"steelyard/web/page"
)

// A desk answers the requests of this room.
type desk struct {
	*page.Desk
	talks *shelf
}

// Routes are the addresses of this room.
func Routes(d *page.Desk) []page.Route {
	s := &desk{Desk: d, talks: newShelf()}
	get := func(pattern string, do func(http.ResponseWriter, *http.Request, *page.Viewer) error) page.Route {
		return page.Route{Pattern: "GET " + pattern, For: page.Teachers, Do: do}
	}
	return []page.Route{
		get("/show/bank/{name}", s.board),
		get("/show/bank/{name}/{part}", s.board),
		get("/show/bank/{name}/{part}/notes", s.notes),
		get("/show/own/{question}", s.board),
		get("/show/own/{question}/{part}", s.board),
		get("/show/own/{question}/{part}/notes", s.notes),
		get("/show/set/{set}/{item}", s.board),
		get("/show/set/{set}/{item}/{part}", s.board),
		get("/show/set/{set}/{item}/{part}/notes", s.notes),
	}
}
