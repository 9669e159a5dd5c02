package assembly

import (
	"math"
	"slices"
)

// Rule is a limit for what one person may have open at once.
type Rule struct {
	Name   string
	V, J   float64 // most voltage and energy of a segment; J 0: no limit
	Below  bool    // the voltage has to stay below V rather than at most at it
	Source string
}

// TouchRule keeps every segment within the hazardous voltage.
func (l Limits) TouchRule() Rule {
	return Rule{Name: "not hazardous to touch", V: l.TouchV, Source: "UN Regulation 100; 49 CFR 571.305 S3 (60 V DC)"}
}

// SegmentRule is the maintenance segment of student racing: below 120 V DC and at most 6 MJ.
func (l Limits) SegmentRule() Rule {
	return Rule{Name: "maintenance segment", V: l.SegmentV, J: l.SegmentJ, Below: true, Source: "race-car rule EV.5.1.2 (below 120 V DC, at most 6 MJ)"}
}

// heavy tells whether an energy is more than the rule allows.
func (r Rule) heavy(j float64) bool { return r.J > 0 && j > r.J*(1+1e-9) }

func (r Rule) holds(v, j float64) bool {
	if r.heavy(j) {
		return false
	}
	if r.Below {
		return v < r.V-1e-9
	}
	return !over(v, r.V)
}

// Breaks is what it takes to make a segment obey a rule.
type Breaks struct {
	Segment Segment
	Rule    Rule
	After   []Member // a removable link after each of these; the fewest that do, and as even as they can be
	WorstV  float64  // of the parts then
	WorstJ  float64
	Cannot  bool // a single module has more voltage than the rule allows
	Heavy   bool // a single module holds more energy than the rule allows: the links are for the voltage alone
}

// Holds tells whether the segment obeys the rule as it is.
func (b *Breaks) Holds() bool { return !b.Cannot && !b.Heavy && len(b.After) == 0 }

// ServiceSegments are the parts into which the pack falls with contactors open, service links out and box connectors
// unplugged. A cable bolted on in two boxes joins them.
func (m *Model) ServiceSegments() []Segment {
	var out []Segment
	for t := range m.tracks {
		out = append(out, m.segments(t, func(k seamKind) bool { return k != bolted })...)
	}
	return out
}

// Suggest says for every service segment where removable links make it obey a rule. The number of links is the least
// there is: filling each part as far as the rule lets it is never worse. Among as few the parts' highest voltage is the
// lowest there is.
func (m *Model) Suggest(r Rule) []Breaks {
	var out []Breaks
	for _, s := range m.ServiceSegments() {
		out = append(out, suggest(s, r))
	}
	return out
}

func suggest(s Segment, r Rule) Breaks {
	out := Breaks{Segment: s, Rule: r, WorstV: s.V, WorstJ: s.J}
	if r.holds(s.V, s.J) {
		return out
	}
	v, j := memberLoads(s)
	if r.heavy(slices.Max(j)) {
		out.Heavy, r.J = true, 0
	}
	parts := fewest(v, j, r)
	if parts == 0 {
		out.Cannot = true
		return out
	}
	ends, worst := evenest(v, j, r, parts)
	out.WorstV, out.WorstJ = worst, 0
	from := 0
	for _, e := range ends {
		sum := 0.0
		for i := from; i < e; i++ {
			sum += j[i]
		}
		out.WorstJ = max(out.WorstJ, sum)
		if e < len(v) {
			out.After = append(out.After, s.Members[e-1])
		}
		from = e
	}
	return out
}

func memberLoads(s Segment) (v, j []float64) {
	for _, x := range s.Members {
		v, j = append(v, x.Body.Module.MaxV()), append(j, x.Body.Module.EnergyKWh()*3.6e6)
	}
	return v, j
}

// fewest is the least number of parts that obey a rule; 0 where a single entry breaks it.
func fewest(v, j []float64, r Rule) int {
	n, sv, sj := 1, 0.0, 0.0
	for i := range v {
		if !r.holds(v[i], j[i]) {
			return 0
		}
		if !r.holds(sv+v[i], sj+j[i]) {
			n, sv, sj = n+1, 0, 0
		}
		sv, sj = sv+v[i], sj+j[i]
	}
	return n
}

// evenest cuts a row into so many parts that obey a rule with the highest voltage of a part the lowest there is
// (the linear partition problem, by dynamic programming). ends are where the parts end.
func evenest(v, j []float64, r Rule, parts int) (ends []int, worst float64) {
	n := len(v)
	best := make([][]float64, parts+1)
	from := make([][]int, parts+1)
	for p := range best {
		best[p], from[p] = make([]float64, n+1), make([]int, n+1)
		for i := range best[p] {
			best[p][i] = math.Inf(1)
		}
	}
	best[0][0] = 0
	for p := 1; p <= parts; p++ {
		for to := 1; to <= n; to++ {
			sv, sj := 0.0, 0.0
			for k := to - 1; k >= 0; k-- {
				if sv, sj = sv+v[k], sj+j[k]; !r.holds(sv, sj) {
					break
				}
				if w := max(best[p-1][k], sv); w < best[p][to]-1e-9 {
					best[p][to], from[p][to] = w, k
				}
			}
		}
	}
	ends = make([]int, parts)
	for p, to := parts, n; p > 0; p-- {
		ends[p-1], to = to, from[p][to]
	}
	return ends, best[parts][n]
}
