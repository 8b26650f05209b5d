//go:build !linux

package film

import (
	"os"
	"os/exec"
)

// bind does nothing here: ffmpeg ends with its context, but outlives a program that is killed.
func bind(*exec.Cmd) (loosen func()) { return func() {} }

// hold keeps nobody out here: two programs may not share a folder of data.
func hold(folder string, _ bool) (*os.File, error) { return os.Open(folder) }
