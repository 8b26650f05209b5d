package film

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	pixels "image/draw"
	"image/png"

	"steelyard/draw"
	"steelyard/figure"
)

// Poster is the picture that stands for a film before it plays, as PNG: its title above its first picture.
func (f *Film) Poster() ([]byte, error) {
	page := draw.Picture{Width: 960, Height: 540, Marks: painter{}.heading(f.Talk.Title, clock(f.Times.End))}
	img, err := draw.Raster(&page, dpi)
	if err != nil {
		return nil, fmt.Errorf("drawing the poster: %w", err)
	}
	picture := f.Talk.Picture(0, figure.Options{Width: 600, TextSize: 15})
	first, err := draw.Raster(picture, dpi)
	if err != nil {
		return nil, fmt.Errorf("drawing the poster: %w", err)
	}
	// The picture keeps room for what later steps add; alone it is as large as its marks allow, in the middle.
	box := marked(first)
	scale := min(1.8, 2*(960-2*margin)/float64(max(1, box.Dx())), 2*(540-top-2*margin)/float64(max(1, box.Dy())))
	if first, err = draw.Raster(picture, dpi*scale); err != nil {
		return nil, fmt.Errorf("drawing the poster: %w", err)
	}
	box = marked(first)
	at := image.Pt(960-box.Dx()/2, int(top+540)-box.Dy()/2)
	pixels.Draw(img, image.Rectangle{at, at.Add(box.Size())}, first, box.Min, pixels.Src)
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		return nil, fmt.Errorf("writing the poster: %w", err)
	}
	return b.Bytes(), nil
}

// marked is the least part of a picture that holds all that isn't white.
func marked(img *image.RGBA) image.Rectangle {
	var box image.Rectangle
	white := color.RGBA{255, 255, 255, 255}
	for y := img.Rect.Min.Y; y < img.Rect.Max.Y; y++ {
		for x := img.Rect.Min.X; x < img.Rect.Max.X; x++ {
			if img.RGBAAt(x, y) != white {
				box = box.Union(image.Rect(x, y, x+1, y+1))
			}
		}
	}
	return box
}
