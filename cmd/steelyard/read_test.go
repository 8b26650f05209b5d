package main

import (
	"bytes"
	"os"
	"runtime"
	"testing"
)

// A device is written to and never replaced by a file.
func TestWriteToDevice(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("its devices are no files")
	}
	link := t.TempDir() + "/null.svg"
	if err := os.Symlink(os.DevNull, link); err != nil {
		t.Fatal(err)
	}
	s := streams{out: &bytes.Buffer{}, err: &bytes.Buffer{}}
	if err := s.write(link, []byte("picture")); err != nil {
		t.Fatal(err)
	}
	if info, err := os.Stat(link); err != nil || info.Mode().IsRegular() {
		t.Errorf("%v, %v: the device has been replaced", info, err)
	}
}
