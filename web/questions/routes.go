package questions

import (
	"net/http"

	"steelyard/web/page"
)

// A desk answers the requests of this room.
type desk struct {
	*page.Desk
	seen *shelf
}

// most is how much a request with a question in it may bring: the text, and what is asked to be done with it.
const most = 300 << 10

// Routes are the addresses of this room.
func Routes(d *page.Desk) []page.Route {
	q := &desk{Desk: d, seen: newShelf()}
	get := func(pattern string, do func(http.ResponseWriter, *http.Request, *page.Viewer) error) page.Route {
		return page.Route{Pattern: "GET " + pattern, For: page.Teachers, Do: do}
	}
	post := func(pattern string, do func(http.ResponseWriter, *http.Request, *page.Viewer) error) page.Route {
		return page.Route{Pattern: "POST " + pattern, For: page.Teachers, Body: most, Do: do}
	}
	slow := func(r page.Route) page.Route { r.Slow = true; return r }
	return []page.Route{
		get("/questions", q.list),
		get("/questions/new", q.fresh),
		post("/questions/new", q.make),
		get("/questions/bank/{name}", q.family),
		slow(get("/questions/bank/{name}/paper/{file}", q.familyPaper)),
		get("/questions/{question}", q.bench),
		post("/questions/{question}", q.work),
		post("/questions/{question}/look", q.look),
		post("/questions/{question}/study", q.study),
		post("/questions/{question}/save", q.save),
		slow(get("/questions/{question}/paper/{file}", q.paper)),
		get("/questions/{question}/versions/{version}", q.versions),
		post("/questions/{question}/versions", q.version),
		post("/questions/{question}/share", q.share),
		post("/questions/{question}/away", q.away),
		post("/questions/{question}/copy", q.copy),
	}
}
