package web

import (
	"slices"

	"steelyard/web/classes"
	"steelyard/web/marks"
	"steelyard/web/page"
	"steelyard/web/pupil"
	"steelyard/web/questions"
	studio "steelyard/web/record"
	"steelyard/web/show"
	"steelyard/web/sign"
	"steelyard/web/slides"
	"steelyard/web/trial"
)

// Routes are all addresses of the program.
func Routes(d *page.Desk) []page.Route {
	return slices.Concat(
		[]page.Route{
			{Pattern: "GET /assets/{hash}/{name...}", For: page.Everyone, Do: page.ServeAsset},
			{Pattern: "GET /help", For: page.Everyone, Do: page.Help},
		},
		sign.Routes(d), questions.Routes(d), classes.Routes(d), pupil.Routes(d), marks.Routes(d), show.Routes(d), trial.Routes(d), slides.Routes(d), studio.Routes(d))
}
