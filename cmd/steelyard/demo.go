package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"os"

	"steelyard/demo"
	"steelyard/web/page"
)

// invented fills the database with an invented school, unless people are there, and says who can sign in. Codes and passwords are others each time.
func invented(out io.Writer) func(context.Context, *page.Desk) error {
	return func(ctx context.Context, d *page.Desk) error {
		fmt.Fprintln(out, "Making an invented school with two weeks of homework …")
		w, err := demo.Fill(ctx, d.Store, d.Codes, d.Now(), rand.Uint64())
		if errors.Is(err, demo.ErrFilled) {
			fmt.Fprintln(out, "There are people here already; nothing is made up.")
			return nil
		}
		if err != nil {
			return err
		}
		for _, line := range w.Lines() {
			fmt.Fprintln(out, line)
		}
		return nil
	}
}

// passing is a folder that goes when the program ends.
func passing() (dir string, remove func(), err error) {
	dir, err = os.MkdirTemp("", "steelyard-")
	return dir, func() { os.RemoveAll(dir) }, err
}
