package drawing

// halfCap is half the height of a sans-serif face's capitals, in text sizes.
const halfCap = 0.36

// Left is the part of a text's width that lies left of its place.
func (a Anchor) Left() float64 {
	switch a {
	case West:
		return 0
	case East:
		return 1
	}
	return 0.5
}

// Drop is how far a text's base line lies under its place, in text sizes, so that its capitals come to lie as the
// anchor says.
func (a Anchor) Drop() float64 {
	switch a {
	case North:
		return 2 * halfCap
	case South:
		return 0
	}
	return halfCap
}
