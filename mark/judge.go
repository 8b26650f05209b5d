package mark

// A judge knows the equilibrium of a question's bodies, to hold lines of working against it.
type judge struct{}
