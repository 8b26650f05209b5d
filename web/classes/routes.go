package classes

import (
	"net/http"

	"steelyard/roster"
	"steelyard/web/page"
)

// A room is the pages with what they work with.
type room struct {
	*page.Desk
	bank   *shelf
	doubts *doubts
}

// Routes are the addresses of this room.
func Routes(d *page.Desk) []page.Route {
	m := &room{Desk: d, bank: newShelf(), doubts: newDoubts()}
	const upload, list = roster.LargestArchive + 1<<20, 4 << 20
	get := func(pattern string, do func(http.ResponseWriter, *http.Request, *page.Viewer) error) page.Route {
		return page.Route{Pattern: "GET " + pattern, For: page.Teachers, Do: do}
	}
	post := func(pattern string, do func(http.ResponseWriter, *http.Request, *page.Viewer) error) page.Route {
		return page.Route{Pattern: "POST " + pattern, For: page.Teachers, Do: do}
	}
	slow := func(r page.Route) page.Route { r.Slow = true; return r }
	large := func(r page.Route, body int64) page.Route { r.Body = body; return r }
	return []page.Route{
		get("/classes", m.list),
		get("/classes/new", m.newClass),
		post("/classes", m.addClass),
		slow(large(post("/classes/read", m.readClasses), upload)),
		large(post("/classes/take", m.takeClass), list),

		get("/classes/{class}", m.class),
		get("/classes/{class}/about", m.about),
		post("/classes/{class}/about", m.saveAbout),
		post("/classes/{class}/unlock", m.unlock),
		post("/classes/{class}/share", m.share),
		post("/classes/{class}/unshare", m.unshare),
		get("/classes/{class}/list", m.newList),
		slow(large(post("/classes/{class}/list", m.readList), upload)),
		large(post("/classes/{class}/list/pick", m.pickList), list),
		slow(large(post("/classes/{class}/list/take", m.takeList), list)),
		get("/classes/{class}/codes", m.codes),
		slow(post("/classes/{class}/codes", m.makeCodes)),

		get("/classes/{class}/pupils/{pupil}", m.pupil),
		post("/classes/{class}/pupils/{pupil}", m.savePupil),
		post("/classes/{class}/pupils/{pupil}/left", m.leftPupil),
		post("/classes/{class}/pupils/{pupil}/back", m.backPupil),
		slow(post("/classes/{class}/pupils/{pupil}/export", m.exportPupil)),
		get("/classes/{class}/pupils/{pupil}/erase", m.askErase),
		post("/classes/{class}/pupils/{pupil}/erase", m.erasePupil),

		get("/sets/new", m.chooseClass),
		get("/classes/{class}/sets/new", m.newSet),
		post("/classes/{class}/sets", m.addSet),
		slow(get("/sets/{set}", m.set)),
		get("/sets/{set}/rules", m.rules),
		post("/sets/{set}/rules", m.saveRules),
		get("/sets/{set}/questions", m.questions),
		post("/sets/{set}/questions", m.changeQuestions),
		get("/sets/{set}/preview", m.preview),
		slow(post("/sets/{set}/give", m.give)),
		post("/sets/{set}/close", m.closeNow),
		post("/sets/{set}/reopen", m.reopen),
		post("/sets/{set}/copy", m.copySet),
		post("/sets/{set}/remove", m.removeSet),
		slow(get("/sets/{set}/sheets.pdf", m.sheets)),
		slow(get("/sets/{set}/scheme.pdf", m.scheme)),
		slow(get("/sets/{set}/solutions.pdf", m.solutions)),
		slow(get("/sets/{set}/hint-cards.pdf", m.cards)),

		get("/pictures/bank/{name}", m.bankPicture),
		get("/pictures/question/{question}", m.questionPicture),
	}
}
