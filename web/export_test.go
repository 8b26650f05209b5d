package web

import (
	"net/http"

	"steelyard/web/page"
)

// Handler serves routes as the program does its own.
func Handler(d *page.Desk, set Setting, routes []page.Route) (http.Handler, error) {
	h, _, err := build(d, set, routes)
	return h, err
}
