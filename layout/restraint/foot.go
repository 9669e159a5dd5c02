package restraint

import (
	"math"

	"github.com/golang/geo/r3"

	"stowbay/geometry"
	"stowbay/layout"
	"stowbay/vehicles"
)

// Moduli of elasticity in MPa (EN 1993-1-1 3.2.6, EN 1999-1-1 3.2.5) and the shear modulus of steel as a share.
const (
	steelMPa     = 210000
	aluminiumMPa = 70000
	shearShare   = 81.0 / 210
)

// reachMM is how far from a frame member the bolts may stand and still be taken to go through it: flange and
// packing, an assumption.
const reachMM = 15

func newFoot(d *vehicles.Donor, b *layout.BoxScene, f *layout.Foot) Foot {
	out := Foot{
		Foot: f, At: b.Frame.ToVehicle(f.At.Vector()), Axis: b.Frame.Direction(f.Bolting()),
		Thread: ThreadOf(f.Bolt), Class: ClassOf(f.Class), FrameMM: f.FrameMM,
	}
	out.bolts = boltPlaces(b, f)
	out.Rail = railAt(d, out.At)
	if out.Rail != nil {
		if out.FrameMM == 0 {
			out.FrameMM = out.Rail.ThicknessMM
		}
		out.FrameMPa = out.Rail.StrengthMPa
	}
	if out.FrameMPa == 0 {
		out.FrameMPa = f.Strength()
	}
	out.tighten(f.TorqueNm)
	return out
}

// tighten fills in torque and preload, for plain dry threads.
func (f *Foot) tighten(statedNm float64) {
	f.PreloadN = PreloadN(f.Thread, f.Class)
	f.TorqueNm = TorqueNm(f.Thread, f.PreloadN, NutFactor)
	if statedNm > 0 {
		f.Stated, f.TorqueNm = true, statedNm
		f.PreloadN = statedNm * 1000 / (NutFactor * f.Thread.MM)
	}
}

// boltPlaces are a foot's bolts in the vehicle: in a row across its width, as the box is drawn and cut.
func boltPlaces(b *layout.BoxScene, f *layout.Foot) []r3.Vector {
	n := f.Count()
	across := f.Bolting().Cross(b.Box.FootInward(f))
	out := make([]r3.Vector, n)
	for i := range out {
		v := f.Width() * ((float64(i)+0.5)/float64(n) - 0.5)
		out[i] = b.Frame.ToVehicle(f.At.Vector().Add(across.Mul(v)))
	}
	return out
}

// railAt returns the surveyed frame member that is nearest to a place and no farther than bolts reach, or nil.
func railAt(d *vehicles.Donor, at r3.Vector) *vehicles.Rail {
	if d == nil {
		return nil
	}
	var best *vehicles.Rail
	least := float64(reachMM)
	for i := range d.Rails {
		r := &d.Rails[i]
		p := geometry.Prism{Base: layout.PolygonOf(r.Outline), Bottom: r.FloorMM, Top: r.CeilingMM}
		if away, _ := geometry.DistancePointPrism(at, p); away <= least {
			best, least = r, away
		}
	}
	return best
}

// springs are all bolts of the box as springs.
func (b *Box) springs() []Spring {
	e := float64(steelMPa)
	if b.Scene.Box.Shell.Material == "aluminium" {
		e = aluminiumMPa
	}
	var out []Spring
	for i := range b.Feet {
		f := &b.Feet[i]
		along, across := f.stiffness(e)
		for _, at := range f.bolts {
			out = append(out, Spring{At: at, Axis: f.Axis, AlongNPerMM: along, AcrossNPerMM: across})
		}
	}
	return out
}

// stiffness is that of one bolt with its share of the foot: along the bolt E As / l in series with the foot as a
// cantilever 3 E I / a^3, across it the bolt's G As / l. The clamped length l is plate, frame and one diameter
// for head and nut (common practice).
func (f *Foot) stiffness(plateMPa float64) (along, across float64) {
	clamped := f.Plate() + f.FrameMM + f.Thread.MM
	bolt := steelMPa * f.Thread.AreaMM2 / clamped
	inertia := f.Width() * math.Pow(f.Plate(), 3) / 12
	foot := 3 * plateMPa * inertia / math.Pow(f.Arm(), 3) / float64(f.Count())
	return bolt * foot / (bolt + foot), shearShare * bolt
}

// load works out what a foot carries from the forces of its bolts on the box.
func (f *Foot) load(bolts []r3.Vector) FootLoad {
	l := FootLoad{Foot: f}
	for _, v := range bolts {
		l.Force = l.Force.Add(v)
		pull, shear := f.split(v)
		if use := Combined(shear, max(0, pull), f.Thread, f.Class); use >= l.Uses[Bolt].Ratio {
			l.Uses[Bolt] = Use{Demand: use, Resist: 1, Ratio: use, Known: true}
			l.BoltPullN, l.BoltShearN = max(0, pull), shear
		}
	}
	l.PullN, l.ShearN = f.split(l.Force)
	l.Uses[BearingPlate] = newUse(f.mostShear(bolts), BearingN(f.plate(), f.Thread, f.Class), "N")
	l.Uses[TearOut] = newUse(f.mostShear(bolts), TearOutN(f.plate(), f.Thread), "N")
	if f.FrameMM > 0 {
		l.Uses[BearingFrame] = newUse(f.mostShear(bolts), BearingN(f.frame(), f.Thread, f.Class), "N")
	}
	l.Uses[Bending] = newUse(math.Abs(l.PullN)*f.Arm(), BendingNmm(f.Width(), f.Plate(), f.Strength()), "N mm")
	l.Uses[Weld] = newUse(f.weldMPa(l), WeldMPa(f.Strength()), "MPa")
	return l
}

// split takes a force on the box apart: the pull on the bolt, negative where it is pressed, and the shear across it.
func (f *Foot) split(v r3.Vector) (pull, shear float64) {
	pull = v.Dot(f.Axis)
	return pull, v.Sub(f.Axis.Mul(pull)).Norm()
}

func (f *Foot) mostShear(bolts []r3.Vector) float64 {
	most := 0.0
	for _, v := range bolts {
		_, s := f.split(v)
		most = max(most, s)
	}
	return most
}

// plate is the foot's metal at a bolt.
func (f *Foot) plate() Sheet {
	side := f.Width() / 2 / float64(f.Count())
	return Sheet{ThickMM: f.Plate(), StrengthMPa: f.Strength(), EndMM: f.Edge(), SideMM: side}
}

// frame is the vehicle's metal at a bolt, taken to reach three hole diameters past it (an assumption).
func (f *Foot) frame() Sheet {
	far := 3 * holeMM(f.Thread)
	return Sheet{ThickMM: f.FrameMM, StrengthMPa: f.FrameMPa, EndMM: far, SideMM: far}
}

// weldMPa is the stress in the foot's weld: the force over the throat's area, plus the couple that the pull makes
// over the arm, carried by two lines of weld a plate's thickness and a throat apart (an assumption).
func (f *Foot) weldMPa(l FootLoad) float64 {
	area := f.Weld() * f.Throat()
	couple := math.Abs(l.PullN) * f.Arm() / (f.Plate() + f.Throat())
	return l.Force.Norm()/area + couple/(area/2)
}

func newUse(demand, resist float64, unit string) Use {
	u := Use{Demand: demand, Resist: resist, Unit: unit, Known: true}
	if resist > 0 {
		u.Ratio = demand / resist
	} else if demand > 0 {
		u.Ratio = math.Inf(1)
	}
	return u
}
