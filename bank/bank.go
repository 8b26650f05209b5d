// Package bank holds question families in scenes of our own, from two tins on a strip of wood to a
// trestle of two legs. Each is a question file with its idea, its traps and the ranges in which its
// numbers may vary; between them they use every word of the notation.
//
// The numbers are for teaching, never for building.
package bank

import "embed"

// Files holds the question files.
//
//go:embed *.moments
var Files embed.FS

// Names returns the names of the files, by level, and within a level by kind of arrangement.
func Names() []string {
	return []string{
		"tea-tins.moments",
		"puppet-rail.moments",
		"signal-arm.moments",
		"sluice-bar.moments",
		"balanced-rule.moments",
		"mass-of-a-rule.moments",
		"herb-balance.moments",
		"compost-barrow.moments",
		"boat-trailer.moments",
		"market-counter.moments",
		"oar-blank.moments",
		"bunting-pole.moments",
		"spanner.moments",
		"sluice-wheel.moments",
		"mooring-plank.moments",
		"lock-footbridge.moments",
		"stage-bar.moments",
		"choir-riser.moments",
		"gangway-scale.moments",
		"drying-rack.moments",
		"jetty-deck.moments",
		"batten-on-two-meters.moments",
		"find-the-bag.moments",
		"canoe-on-two-meters.moments",
		"equal-shares.moments",
		"lighting-bar.moments",
		"painters-cradle.moments",
		"launching-board.moments",
		"oar-rack.moments",
		"board-tips.moments",
		"plank-range.moments",
		"tail-lift.moments",
		"jetty-board.moments",
		"flagstone.moments",
		"boat-hoist.moments",
		"boat-hoist-empty.moments",
		"stall-sign.moments",
		"telescope-arm.moments",
		"lock-flap-rope.moments",
		"lock-flap-push.moments",
		"lamp-on-two-cords.moments",
		"library-ladder.moments",
		"book-shelf.moments",
		"kayak-rack.moments",
		"bench-on-three-rests.moments",
		"winding-gear.moments",
		"rail-resultant.moments",
		"awning-arm.moments",
		"allotment-gate.moments",
		"loom-beam.moments",
		"pole-pulled-aside.moments",
		"board-on-a-peg.moments",
		"painters-ladder.moments",
		"leaning-pole.moments",
		"orchard-ladder.moments",
		"rough-wall.moments",
		"crate-on-ramp.moments",
		"pushed-cabinet.moments",
		"towed-sledge.moments",
		"bird-table-bracket.moments",
		"puppet-plate.moments",
		"rail-bracket.moments",
		"one-bar-on-another.moments",
		"boat-trestle.moments",
		"loom-treadle.moments",
	}
}
