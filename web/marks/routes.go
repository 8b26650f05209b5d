package marks

import "steelyard/web/page"

// Routes are the addresses of this room.
func Routes(d *page.Desk) []page.Route {
	m := room{d}
	return []page.Route{
		{Pattern: "GET /today", For: page.Teachers, Do: m.today},
		{Pattern: "GET /sets/{set}/marks", For: page.Teachers, Do: m.table},
		{Pattern: "GET /sets/{set}/live", For: page.Teachers, Live: true, Do: m.live},
		{Pattern: "POST /sets/{set}/names", For: page.Teachers, Do: m.names},
		{Pattern: "GET /sets/{set}/marks/{pupil}", For: page.Teachers, Do: m.work},
		{Pattern: "POST /sets/{set}/marks/{pupil}", For: page.Teachers, Do: m.override},
		{Pattern: "GET /sets/{set}/queue", For: page.Teachers, Slow: true, Do: m.queue},
		{Pattern: "POST /sets/{set}/queue", For: page.Teachers, Do: m.decide},
		{Pattern: "POST /sets/{set}/queue/undo", For: page.Teachers, Do: m.undo},
		{Pattern: "GET /sets/{set}/moderate", For: page.Teachers, Do: m.moderate},
		{Pattern: "GET /sets/{set}/moderate/{pupil}", For: page.Teachers, Do: m.second},
		{Pattern: "POST /sets/{set}/moderate/{pupil}", For: page.Teachers, Do: m.saveSecond},
		{Pattern: "GET /sets/{set}/release", For: page.Teachers, Do: m.releasing},
		{Pattern: "POST /sets/{set}/release", For: page.Teachers, Do: m.release},
		{Pattern: "POST /sets/{set}/unrelease", For: page.Teachers, Do: m.unrelease},
		{Pattern: "GET /sets/{set}/marks.csv", For: page.Teachers, Slow: true, Do: m.csv},
		{Pattern: "GET /sets/{set}/parts.csv", For: page.Teachers, Slow: true, Do: m.partsCSV},
		{Pattern: "GET /sets/{set}/feedback.pdf", For: page.Teachers, Slow: true, Do: m.feedback},
		{Pattern: "GET /sets/{set}/hints", For: page.Teachers, Do: m.hintTable},
		{Pattern: "GET /sets/{set}/picture", For: page.Teachers, Slow: true, Do: m.picture},
		{Pattern: "POST /sets/{set}/follow", For: page.Teachers, Slow: true, Do: m.follow},
	}
}

// A room is the desk as this room's pages use it.
type room struct{ *page.Desk }
