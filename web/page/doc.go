// Package page is what every page has in common: how a route is written down and who may take it, the layout,
// fields and notices, the style sheets and scripts, and how faults are told.
package page
