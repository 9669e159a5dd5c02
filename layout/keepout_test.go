package layout

import (
	"testing"

	"stowbay/vehicles"
)

// twiceNamed has keep-outs of one id in the donor, the plan and two bays, and one with the id of a box and one with that of a bay.
func twiceNamed() (*Plan, *vehicles.Library) {
	post := func(id string, x float64) vehicles.KeepOut {
		return vehicles.KeepOut{ID: id, Kind: "fixed", Outline: rectangle(x, 0, x+10, 10), CeilingMM: 10}
	}
	donor := &vehicles.Donor{ID: "d", KeepOuts: []vehicles.KeepOut{post("post", 0), post("axle", 0)}}
	bay := func(id string, ks ...vehicles.KeepOut) vehicles.Bay {
		return vehicles.Bay{ID: id, Levels: []vehicles.Level{{Outline: rectangle(0, 0, 900, 900), CeilingMM: 300}}, KeepOuts: ks}
	}
	a := &Arrangement{ID: "a", KeepOuts: []vehicles.KeepOut{post("post", 100), post("left", 100)},
		Bays:  []vehicles.Bay{bay("left", post("post", 200), post("rib", 200)), bay("right", post("post", 300), post("rib", 300), post("tub", 300))},
		Boxes: []*Box{{ID: "tub", Levels: []vehicles.Level{{Outline: rectangle(0, 0, 100, 100), CeilingMM: 100}}}}}
	lib := (&vehicles.Library{}).With(vehicles.Records{Donors: []*vehicles.Donor{donor}})
	return &Plan{Donor: "d", Arrangements: []*Arrangement{a}}, lib
}

// Every keep-out of a scene has an address of its own, and the address leads back to that very keep-out, or nowhere where it
// is the donor's.
func TestKeepOutsHaveAddresses(t *testing.T) {
	p, lib := twiceNamed()
	a := p.Arrangements[0]
	s := Resolve(p, a, lib, nil)
	want := map[string]float64{"Donor:post": 0, "axle": 0, "post": 100, "Plan:left": 100, "left:post": 200, "rib": 200, "right:post": 300, "right:rib": 300, "right:tub": 300}
	if len(s.KeepOuts) != len(want) {
		t.Fatalf("%d keep-outs", len(s.KeepOuts))
	}
	for _, k := range s.KeepOuts {
		x, ok := want[k.Ref]
		if delete(want, k.Ref); !ok || k.KeepOut.Outline[0][0] != x {
			t.Errorf("%q of %s has the address %q", k.KeepOut.ID, k.Of, k.Ref)
		}
		switch got := a.KeepOut(k.Ref); {
		case k.Of == donorKeepOuts && got != nil:
			t.Errorf("%s leads to %+v though it is the donor's", k.Ref, got)
		case k.Of != donorKeepOuts && got != k.KeepOut:
			t.Errorf("%s leads to %+v", k.Ref, got)
		}
	}
	if bay := a.KeepOutBay("right:post"); bay != "right" || a.KeepOutBay("post") != "" || a.KeepOutBay("axle") != "" {
		t.Errorf("right:post is of bay %q", bay)
	}
	for _, none := range []string{"", ":", "left", "tub", "Donor:post", "Donor:axle", "nowhere:post", "left:nothing", "Plan:"} {
		if a.KeepOut(none) != nil || a.EditKeepOuts(none, nil) {
			t.Errorf("%q leads somewhere", none)
		}
	}
}

// An edit reaches the keep-out addressed and no other; the arrangement before stays as it was.
func TestEditOneOfTwoKeepOutsOfOneID(t *testing.T) {
	p, _ := twiceNamed()
	for _, ref := range []string{"post", "left:post", "right:post"} {
		e, err := Change(p, "a", "Raise "+ref, func(a *Arrangement) error {
			a.EditKeepOuts(ref, func(list []vehicles.KeepOut, i int) []vehicles.KeepOut { list[i].CeilingMM = 77; return list })
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
		q, err := e.Apply(p)
		if err != nil {
			t.Fatal(err)
		}
		for _, other := range []string{"post", "left:post", "right:post"} {
			was, is := p.Arrangements[0].KeepOut(other).CeilingMM, q.Arrangements[0].KeepOut(other).CeilingMM
			if was != 10 || (is == 77) != (other == ref) {
				t.Errorf("raising %s: %s from %v to %v", ref, other, was, is)
			}
		}
	}
}

// Addresses follow what else has the id, and a scene made before keeps its own.
func TestAddressesFollowTheIDs(t *testing.T) {
	p, lib := twiceNamed()
	before := Resolve(p, p.Arrangements[0], lib, nil)
	a := *p.Arrangements[0]
	a.Boxes = nil
	after := Resolve(p, &a, lib, before)
	find := func(s *Scene, ref string) bool {
		for _, k := range s.KeepOuts {
			if k.Ref == ref {
				return true
			}
		}
		return false
	}
	if !find(after, "tub") || find(after, "right:tub") || !find(before, "right:tub") || find(before, "tub") {
		t.Error("without the box its keep-out does not get the plain id, or the scene before was changed")
	}
}
