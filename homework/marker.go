package homework

// A Marker marks hand-ins; it keeps the keys of the sets that it has met lately. It may be used by several
// goroutines at once.
type Marker struct{}

// NewMarker makes a marker.
func NewMarker() *Marker { return &Marker{} }
