package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/alecthomas/kong"

	"steelyard/show"
)

// A stopFlag says where an explanation stops: nowhere if empty, before the first arithmetic there is, or before that of
// a part.
type stopFlag string

const firstSum = "first"

// Decode reads --stop, --stop=first and --stop=b.
func (s *stopFlag) Decode(c *kong.DecodeContext) error {
	*s = firstSum
	if c.Scan.Peek().Type == kong.FlagValueToken {
		*s = stopFlag(fmt.Sprint(c.Scan.Pop().Value))
	}
	return nil
}

// IsBool lets the flag stand without a value.
func (s *stopFlag) IsBool() bool { return true }

// cut is the talk as far as the flag says.
func (s stopFlag) cut(t *show.Talk) (*show.Talk, error) {
	switch part := string(s); part {
	case "":
		return t, nil
	case firstSum:
		return t.Stopped(), nil
	default:
		parts := t.Sums()
		if !slices.Contains(parts, part) {
			return nil, usage(fmt.Sprintf("--stop=%s: the parts with arithmetic to stop before are %s; --stop alone stops at the first", part, strings.Join(parts, ", ")))
		}
		return t.StoppedIn(part), nil
	}
}
