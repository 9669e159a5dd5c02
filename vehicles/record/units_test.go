package record_test

import (
	"testing"

	"stowbay/vehicles/record"
)

func TestUnitFromTheNamesEnding(t *testing.T) {
	for name, want := range map[string]string{
		"length_mm": "mm", "mm": "mm", "y_capacitance_uf": "µF", "isolation_mohm": "MΩ", "milliohm": "mΩ", "precharge_ohm": "Ω",
		"front_n_per_mm": "N/mm", "drag_area_m2": "m²", "w_per_k": "W/K", "flow_l_per_min": "l/min", "soc_pct": "%", "torque_nm": "Nm",
		"temperature_max_c": "°C", "melting_a2s": "A²s", "breaking_ka": "kA", "price": "", "loss_k": "", "name": "", "mass": "", "": "",
	} {
		if got := record.Unit(name); got != want {
			t.Errorf("%s: got %q, want %q", name, got, want)
		}
	}
}
