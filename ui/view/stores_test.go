package view

import "testing"

// Small gear does not weigh nothing.
func TestMassInTheStores(t *testing.T) {
	s := &stores{m: testModel(t, 1)}
	for kg, want := range map[float64]string{0.17: "0.17 kg", 0.92: "0.92 kg", 9: "9 kg", 20.3: "20 kg", 184: "184 kg"} {
		if got := s.mass(kg); got != want {
			t.Errorf("%v kg is shown as %q, want %q", kg, got, want)
		}
	}
}
