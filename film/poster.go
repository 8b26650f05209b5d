package film

import (
	"bytes"
	"fmt"
	"image/png"
)

// Poster is the picture that stands for a film before it plays, as PNG: its title above its first picture.
func (f *Film) Poster() ([]byte, error) {
	img, err := f.painter().titled(0, f.Talk.Title, clock(f.Times.End))
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		return nil, fmt.Errorf("writing the poster: %w", err)
	}
	return b.Bytes(), nil
}
