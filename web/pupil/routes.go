package pupil

import "steelyard/web/page"

// The pupil's forms hold all that is typed for a set; a browser may need three bytes for each that is typed.
const (
	formBytes = 1 << 20
	readBytes = 512 << 10 // one question
)

// Routes are the addresses of this room.
func Routes(d *page.Desk) []page.Route {
	r := room{d}
	return []page.Route{
		{Pattern: "GET /work", For: page.Pupils, Do: r.list},
		{Pattern: "GET /work/{set}", For: page.Pupils, Do: r.sheet},
		{Pattern: "POST /work/{set}", For: page.Pupils, Body: formBytes, Do: r.save},
		{Pattern: "POST /work/{set}/read", For: page.Pupils, Body: readBytes, Do: r.read},
		{Pattern: "POST /work/{set}/drafts", For: page.Pupils, Body: formBytes, Do: r.drafts},
		{Pattern: "GET /work/{set}/look", For: page.Pupils, Do: r.look},
		{Pattern: "POST /work/{set}/hand-in", For: page.Pupils, Do: r.handIn},
		{Pattern: "GET /work/{set}/receipt", For: page.Pupils, Do: r.receipt},
		{Pattern: "GET /work/{set}/marks", For: page.Pupils, Do: r.marks},
	}
}

// A room is the pupils' pages.
type room struct{ *page.Desk }
