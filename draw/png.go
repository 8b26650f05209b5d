package draw

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"math"

	"golang.org/x/image/vector"
	"steelyard/font"
)

// The largest picture that PNG makes, in pixels along a side.
const maxPixels = 20000

// PNG writes the picture as a PNG file on white, at a number of dots to the inch (72 gives a pixel
// for each point). It refuses a resolution that isn't positive or a picture of over 20 000 pixels a side.
func PNG(p *Picture, dpi float64) ([]byte, error) {
	img, err := Raster(p, dpi)
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	encoder := png.Encoder{CompressionLevel: png.DefaultCompression}
	if err := encoder.Encode(&b, img); err != nil {
		return nil, fmt.Errorf("writing PNG: %w", err)
	}
	return b.Bytes(), nil
}

// Raster paints the picture on white; see PNG.
func Raster(p *Picture, dpi float64) (*image.RGBA, error) {
	scale := dpi / 72
	w, h := math.Ceil(p.Width*scale-1e-9), math.Ceil(p.Height*scale-1e-9)
	if !(dpi > 0) || !(w >= 1 && h >= 1 && w <= maxPixels && h <= maxPixels) {
		return nil, fmt.Errorf("a picture of %.0f by %.0f points at %g dots to the inch would be %.0f by %.0f pixels; each must be from 1 to %d",
			p.Width, p.Height, dpi, w, h, maxPixels)
	}
	img := image.NewRGBA(image.Rect(0, 0, int(w), int(h)))
	for i := range img.Pix {
		img.Pix[i] = 0xff
	}
	c := canvas{img: img, scale: scale}
	if err := c.marks(p.Marks); err != nil {
		return nil, err
	}
	return img, nil
}

// A canvas is a picture being painted. Outlines are gathered as closed polygons in pixels, then filled.
type canvas struct {
	img    *image.RGBA
	scale  float64
	shapes [][]Point
	raster vector.Rasterizer
}

func (c *canvas) marks(marks []Mark) error {
	for _, m := range marks {
		switch m := m.(type) {
		case Line:
			c.path(m.Points, m.Closed, m.Style)
		case Arc:
			points := m.Flatten(0.1 / c.scale)
			closed := math.Abs(m.To-m.From) >= 2*math.Pi-1e-9
			if closed {
				points = points[:len(points)-1]
			}
			c.path(points, closed, m.Style)
		case Text:
			if err := c.text(m); err != nil {
				return err
			}
		case Group:
			if err := c.marks(m.Marks); err != nil {
				return err
			}
		}
	}
	return nil
}

func (c *canvas) path(points []Point, closed bool, s Style) {
	if len(points) < 2 {
		return
	}
	pixels := make([]Point, len(points))
	for i, p := range points {
		pixels[i] = Point{p.X * c.scale, p.Y * c.scale}
	}
	if s.Fill != None {
		c.shapes = append(c.shapes, pixels)
		c.fill(s.Fill)
	}
	if s.Stroke == None || s.Width <= 0 {
		return
	}
	half := s.Width * c.scale / 2
	if len(s.Dash) > 0 {
		for _, dash := range dashes(pixels, closed, s.Dash, c.scale) {
			c.stroke(dash, false, half, s.Round)
		}
	} else {
		c.stroke(pixels, closed, half, s.Round)
	}
	c.fill(s.Stroke)
}

// dashes cuts a polyline into its dashes; lengths are in points, the line in pixels.
func dashes(points []Point, closed bool, pattern []float64, scale float64) [][]Point {
	total := 0.0
	for _, d := range pattern {
		total += d
	}
	if !(total > 0) {
		return [][]Point{points}
	}
	if closed {
		points = append(points[:len(points):len(points)], points[0])
	}
	var out [][]Point
	i, left, on := 0, pattern[0]*scale, true
	dash := []Point{points[0]}
	for k := 1; k < len(points); k++ {
		p, q := points[k-1], points[k]
		length := math.Hypot(q.X-p.X, q.Y-p.Y)
		for at := 0.0; length-at > left; {
			at += left
			cut := Point{p.X + (q.X-p.X)*at/length, p.Y + (q.Y-p.Y)*at/length}
			if on {
				out = append(out, append(dash, cut))
			}
			i, on, dash = (i+1)%len(pattern), !on, []Point{cut}
			left = math.Max(pattern[i]*scale, 1e-3)
			p, length, at = cut, length-at, 0
		}
		left -= math.Hypot(q.X-p.X, q.Y-p.Y)
		dash = append(dash, q)
	}
	if on && len(dash) > 1 {
		out = append(out, dash)
	}
	return out
}

// stroke adds the outline of a line: a bar for each piece and a mitre, or a disc, at each corner.
func (c *canvas) stroke(points []Point, closed bool, half float64, round bool) {
	n := len(points)
	pieces := n - 1
	if closed {
		pieces = n
	}
	for i := range pieces {
		p, q := points[i], points[(i+1)%n]
		x, y := q.X-p.X, q.Y-p.Y
		length := math.Hypot(x, y)
		if length == 0 {
			continue
		}
		x, y = -y/length*half, x/length*half
		c.add(Point{p.X + x, p.Y + y}, Point{q.X + x, q.Y + y}, Point{q.X - x, q.Y - y}, Point{p.X - x, p.Y - y})
		if i+1 < pieces || closed {
			if round || !c.mitre(p, q, points[(i+2)%n], half) {
				c.disc(q, half)
			}
		}
	}
	if round && !closed {
		c.disc(points[0], half)
		c.disc(points[n-1], half)
	}
}

// mitre fills the outer corner at q, if it is not too sharp.
func (c *canvas) mitre(p, q, r Point, half float64) bool {
	a, b := unit(p, q), unit(q, r)
	cross := a.X*b.Y - a.Y*b.X
	cos := a.X*b.X + a.Y*b.Y
	if cos < -0.87 { // SVG's own limit, 4 times the width
		return false
	}
	side := half
	if cross > 0 {
		side = -half
	}
	u, v := Point{-a.Y * side, a.X * side}, Point{-b.Y * side, b.X * side}
	m := Point{(u.X + v.X) / (1 + cos), (u.Y + v.Y) / (1 + cos)}
	c.add(q, Point{q.X + u.X, q.Y + u.Y}, Point{q.X + m.X, q.Y + m.Y}, Point{q.X + v.X, q.Y + v.Y})
	return true
}

func unit(p, q Point) Point {
	l := math.Hypot(q.X-p.X, q.Y-p.Y)
	if l == 0 {
		return Point{1, 0}
	}
	return Point{(q.X - p.X) / l, (q.Y - p.Y) / l}
}

func (c *canvas) disc(at Point, r float64) {
	points := Arc{Centre: at, Radius: r, To: 2 * math.Pi}.Flatten(0.1)
	c.add(points[:len(points)-1]...)
}

// add gathers a polygon, turned so that overlapping ones add up and never cancel.
func (c *canvas) add(points ...Point) {
	area := 0.0
	for i, p := range points {
		q := points[(i+1)%len(points)]
		area += p.X*q.Y - p.Y*q.X
	}
	if area < 0 {
		for i, j := 0, len(points)-1; i < j; i, j = i+1, j-1 {
			points[i], points[j] = points[j], points[i]
		}
	}
	c.shapes = append(c.shapes, points)
}

// fill paints what was gathered, by the rule of the sum of turns.
func (c *canvas) fill(ink Ink) {
	low, high := Point{math.Inf(1), math.Inf(1)}, Point{math.Inf(-1), math.Inf(-1)}
	for _, s := range c.shapes {
		for _, p := range s {
			low = Point{math.Min(low.X, p.X), math.Min(low.Y, p.Y)}
			high = Point{math.Max(high.X, p.X), math.Max(high.Y, p.Y)}
		}
	}
	box := image.Rect(int(math.Floor(low.X)), int(math.Floor(low.Y)), int(math.Ceil(high.X))+1, int(math.Ceil(high.Y))+1).Intersect(c.img.Rect)
	if !box.Empty() {
		c.raster.Reset(box.Dx(), box.Dy())
		x, y := float64(box.Min.X), float64(box.Min.Y)
		for _, s := range c.shapes {
			for i, p := range s {
				if i == 0 {
					c.raster.MoveTo(float32(p.X-x), float32(p.Y-y))
				} else {
					c.raster.LineTo(float32(p.X-x), float32(p.Y-y))
				}
			}
			c.raster.ClosePath()
		}
		r, g, b := ink.RGB()
		c.raster.Draw(c.img, box, image.NewUniform(color.RGBA{r, g, b, 0xff}), image.Point{})
	}
	c.shapes = c.shapes[:0]
}

// text paints the outlines of the text's glyphs.
func (c *canvas) text(t Text) error {
	if t.Halo {
		if err := c.glyphs(t, func(contour []Point) { c.stroke(contour, true, 1.25*c.scale, true) }); err != nil {
			return err
		}
		c.fill(Paper)
	}
	if err := c.glyphs(t, func(contour []Point) { c.shapes = append(c.shapes, contour) }); err != nil {
		return err
	}
	c.fill(t.Ink)
	return nil
}

func (c *canvas) glyphs(t Text, contour func([]Point)) error {
	for _, piece := range t.Pieces() {
		x, y := piece.At.X*c.scale, piece.At.Y*c.scale
		em := piece.Size * c.scale
		for _, g := range piece.Face.Glyphs(piece.Text) {
			outline, err := piece.Face.Outline(g.ID)
			if err != nil {
				return fmt.Errorf("painting %q: %w", piece.Text, err)
			}
			flatten(outline, x, y, em, contour)
			x += piece.Face.Advance(g.ID, em) + g.Kern/1000*em
		}
	}
	return nil
}

// flatten turns a glyph's curves into short straight lines, contour by contour.
func flatten(outline []font.Segment, x, y, em float64, contour func([]Point)) {
	at := func(p font.Point) Point { return Point{x + p.X*em, y - p.Y*em} }
	steps := int(math.Min(3+em/12, 12))
	var points []Point
	for _, s := range outline {
		switch s.Op {
		case font.Move:
			if len(points) > 2 {
				contour(points)
			}
			points = []Point{at(s.To)}
		case font.Line:
			points = append(points, at(s.To))
		case font.Curve, font.Cubic:
			p, q, r := points[len(points)-1], at(s.C1), at(s.To)
			second := q
			if s.Op == font.Cubic {
				second = at(s.C2)
			} else { // a quadratic curve, raised to a cubic
				q, second = mix(p, q, 2./3), mix(r, q, 2./3)
			}
			for i := 1; i <= steps; i++ {
				k := float64(i) / float64(steps)
				a, b, c := mix(p, q, k), mix(q, second, k), mix(second, r, k)
				points = append(points, mix(mix(a, b, k), mix(b, c, k), k))
			}
		}
	}
	if len(points) > 2 {
		contour(points)
	}
}

// mix is the point a part k of the way from p to q.
func mix(p, q Point, k float64) Point { return Point{p.X + (q.X-p.X)*k, p.Y + (q.Y-p.Y)*k} }
