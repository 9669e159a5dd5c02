package vehicles

// The range of the tyre load indices known here.
const (
	leastLoadIndex = 60
	mostLoadIndex  = 119
)

// loadIndexKg is the load a tyre carries, from load index 60 on. It is the table common to the tyre standards (ISO 4000-1).
var loadIndexKg = [...]float64{
	250, 257, 265, 272, 280, 290, 300, 307, 315, 325, // 60
	335, 345, 355, 365, 375, 387, 400, 412, 425, 437, // 70
	450, 462, 475, 487, 500, 515, 530, 545, 560, 580, // 80
	600, 615, 630, 650, 670, 690, 710, 730, 750, 775, // 90
	800, 825, 850, 875, 900, 925, 950, 975, 1000, 1030, // 100
	1060, 1090, 1120, 1150, 1180, 1215, 1250, 1285, 1320, 1360, // 110
}

// LoadIndexKg returns the load in kilograms that one tyre of a load index carries. Indices from 60 to 119 are known.
func LoadIndexKg(index int) (kg float64, ok bool) {
	if index < leastLoadIndex || index > mostLoadIndex {
		return 0, false
	}
	return loadIndexKg[index-leastLoadIndex], true
}
