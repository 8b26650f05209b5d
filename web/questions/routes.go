package questions

import "steelyard/web/page"

// Routes are the addresses of this room.
func Routes(d *page.Desk) []page.Route {
	return nil
}
