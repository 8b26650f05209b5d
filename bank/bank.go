// Package examples holds question files in scenes of our own, from a pivot and two weights to a
// trestle of two legs. Between them they use every word of the notation.
//
// The numbers are for teaching, never for building.
package bank

import "embed"

// Files holds the question files.
//
//go:embed *.moments
var Files embed.FS

// Names returns the names of the files, easier ones first within each kind of arrangement.
func Names() []string {
	return []string{
		"signal-arm.moments",
		"sluice-bar.moments",
		"balanced-rule.moments",
		"mass-of-a-rule.moments",
		"oar-blank.moments",
		"compost-barrow.moments",
		"boat-trailer.moments",
		"sluice-wheel.moments",
		"lock-footbridge.moments",
		"mooring-plank.moments",
		"choir-riser.moments",
		"jetty-deck.moments",
		"kayak-rack.moments",
		"batten-on-two-meters.moments",
		"find-the-bag.moments",
		"canoe-on-two-meters.moments",
		"equal-shares.moments",
		"lighting-bar.moments",
		"launching-board.moments",
		"oar-rack.moments",
		"bunting-pole.moments",
		"drying-rack.moments",
		"book-shelf.moments",
		"bench-on-three-rests.moments",
		"plank-range.moments",
		"tail-lift.moments",
		"jetty-board.moments",
		"flagstone.moments",
		"boat-hoist.moments",
		"board-tips.moments",
		"stall-sign.moments",
		"telescope-arm.moments",
		"awning-arm.moments",
		"lock-flap-rope.moments",
		"lock-flap-push.moments",
		"spanner.moments",
		"allotment-gate.moments",
		"lamp-on-two-cords.moments",
		"loom-beam.moments",
		"pole-pulled-aside.moments",
		"library-ladder.moments",
		"painters-ladder.moments",
		"orchard-ladder.moments",
		"rough-wall.moments",
		"leaning-pole.moments",
		"slipping-post.moments",
		"crate-on-ramp.moments",
		"pushed-cabinet.moments",
		"bird-table-bracket.moments",
		"puppet-plate.moments",
		"rail-bracket.moments",
		"one-bar-on-another.moments",
		"boat-trestle.moments",
		"loom-treadle.moments",
		"rail-resultant.moments",
		"noticeboard.moments",
		"board-on-a-peg.moments",
		"canoe-in-a-cradle.moments",
		"towed-sledge.moments",
	}
}
