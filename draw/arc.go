package draw

import "math"

// At is the point of the arc's circle at an angle, clockwise on the page from the right.
func (a Arc) At(angle float64) Point {
	return Point{a.Centre.X + a.Radius*math.Cos(angle), a.Centre.Y + a.Radius*math.Sin(angle)}
}

// Start is the arc's first point.
func (a Arc) Start() Point { return a.At(a.From) }

// Finish is the arc's last point.
func (a Arc) Finish() Point { return a.At(a.To) }

// Flatten returns points along the arc, no further from it than tolerance, in points; of a whole
// circle the last point meets the first.
func (a Arc) Flatten(tolerance float64) []Point {
	turn := math.Min(math.Abs(a.To-a.From), 2*math.Pi)
	step := math.Pi / 4
	if a.Radius > tolerance {
		step = math.Min(step, 2*math.Acos(1-tolerance/a.Radius))
	}
	n := max(int(math.Ceil(turn/step)), 2)
	points := make([]Point, n+1)
	for i := range points {
		points[i] = a.At(a.From + math.Copysign(turn, a.To-a.From)*float64(i)/float64(n))
	}
	return points
}
