package variant

import (
	"flag"
	"os"

	"steelyard/bank"
)

var update = flag.Bool("update", false, "write golden files and docs/separation.md anew")

// full runs the long form of the tests: STEELYARD_FULL=1.
var full = os.Getenv("STEELYARD_FULL") != ""

// many is a number of pupils: whole in the long form.
func many(long, short int) int {
	if full {
		return long
	}
	return short
}

// slow are families whose limits package answer finds by halving an interval: fewer of their variants are looked at by default.
var slow = map[string]bool{"orchard-ladder.moments": true, "rough-wall.moments": true, "crate-on-ramp.moments": true, "board-on-a-peg.moments": true,
	"painters-ladder.moments": true, "jetty-board.moments": true, "board-tips.moments": true, "pole-pulled-aside.moments": true, "pushed-cabinet.moments": true}

// names are the families that laws are tested on.
func names() []string { return bank.Names() }
