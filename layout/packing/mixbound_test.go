package packing

import (
	"math"
	"math/rand/v2"
	"testing"
)

// everyStack lists the numbers of each rise in all stacks that fit a height, the low ones too.
func everyStack(rises []int64, height int64) [][]float64 {
	out := [][]float64{{}}
	for _, r := range rises {
		var longer [][]float64
		for _, s := range out {
			for n := int64(0); n*r <= height; n++ {
				longer = append(longer, append(append([]float64{}, s...), float64(n)))
			}
		}
		out = longer
	}
	var fit [][]float64
	for _, s := range out {
		sum := 0.0
		for i, n := range s {
			sum += n * float64(rises[i])
		}
		if sum <= float64(height) {
			fit = append(fit, s)
		}
	}
	return fit
}

func product(a, b []float64) (sum float64) {
	for i := range a {
		sum += a[i] * b[i]
	}
	return sum
}

// Over every stack that fits the shares add up to one at most, or the bound would be wrong; and there is no better way to share than
// a mix of those listed: whatever the postures are worth, no shares drawn at random are worth more than the best of the list.
func TestSharesOverEveryStack(t *testing.T) {
	r := rand.New(rand.NewPCG(17, 18))
	for range 150 {
		var rises []int64
		for range 1 + r.IntN(3) {
			rises = append(rises, 3+r.Int64N(12))
		}
		if rises = sortedUnique(rises); len(rises) == 0 {
			continue
		}
		height := rises[len(rises)-1] + r.Int64N(30)
		stacks := everyStack(rises, height)
		corners := shareCorners(rises, height)
		for _, u := range corners {
			for _, s := range stacks {
				if sum := product(u, s); sum > 1+1e-12 {
					t.Fatalf("rises %v under %d: shares %v add up to %g over %v", rises, height, u, sum, s)
				}
			}
		}
		for range 30 {
			worth, u := make([]float64, len(rises)), make([]float64, len(rises))
			for i := range u {
				worth[i], u[i] = r.Float64(), r.Float64()*float64(r.IntN(2)+r.IntN(2))
			}
			most := 0.0
			for _, s := range stacks {
				most = math.Max(most, product(u, s))
			}
			best := 0.0
			for _, c := range corners {
				best = math.Max(best, product(worth, c))
			}
			if most > 0 && product(worth, u)/most > best+1e-9 {
				t.Fatalf("rises %v under %d: shares %v over %g are worth more than any listed, %v", rises, height, u, most, corners)
			}
		}
	}
}

// The stacks listed are those to which none can be added, each once.
func TestStacksThatAreFull(t *testing.T) {
	for _, c := range []struct {
		rises  []int64
		height int64
	}{{[]int64{5}, 23}, {[]int64{4, 7}, 20}, {[]int64{3, 5, 8}, 19}, {[]int64{6, 6 + 1}, 5}} {
		want := map[[3]float64]bool{}
		for _, s := range everyStack(c.rises, c.height) {
			left := float64(c.height)
			var key [3]float64
			for i, n := range s {
				left -= n * float64(c.rises[i])
				key[i] = n
			}
			if left < float64(c.rises[0]) {
				want[key] = true
			}
		}
		got := stacksOf(c.rises, c.height)
		for _, s := range got {
			var key [3]float64
			copy(key[:], s)
			if !want[key] {
				t.Errorf("rises %v under %d: %v is not full, or not there", c.rises, c.height, s)
			}
		}
		if len(got) != len(want) {
			t.Errorf("rises %v under %d: %d stacks, want %d", c.rises, c.height, len(got), len(want))
		}
	}
}

// The greatest sum of sizes is that of the best of all stacks.
func TestTallestStack(t *testing.T) {
	r := rand.New(rand.NewPCG(19, 20))
	for range 300 {
		rises := sortedUnique([]int64{3 + r.Int64N(12), 3 + r.Int64N(12), 3 + r.Int64N(12)})
		size := map[int64]float64{}
		for _, h := range rises {
			size[h] = r.Float64()
		}
		height, want := r.Int64N(50), 0.0
		for _, s := range everyStack(rises, height) {
			sum := 0.0
			for i, n := range s {
				sum += n * size[rises[i]]
			}
			want = math.Max(want, sum)
		}
		if got := tallest(rises, height, func(h int64) float64 { return size[h] }); math.Abs(got-want) > 1e-9 {
			t.Fatalf("rises %v of sizes %v under %d: %g, want %g", rises, size, height, got, want)
		}
	}
}

// The greatest mix is the greatest of all mixes that keep every limit; there is none where nothing limits a group. The coefficients are eighths, so that no sum is rounded.
func TestGreatestMixOfAll(t *testing.T) {
	r := rand.New(rand.NewPCG(21, 22))
	seen := map[string]int{}
	for range 2000 {
		groups := 1 + r.IntN(3)
		var limits []mixLimit
		for range 1 + r.IntN(4) {
			l := mixLimit{most: float64(r.IntN(72)) / 8}
			for range groups {
				l.coef = append(l.coef, float64(max(0, r.IntN(12)-3))/8)
			}
			limits = append(limits, l)
		}
		limited := true
		for g := range groups {
			one := false
			for _, l := range limits {
				one = one || l.coef[g] > 0
			}
			limited = limited && one
		}
		got := greatestMix(limits, groups)
		if !limited {
			seen["no limit"]++
			if got != math.MaxInt {
				t.Fatalf("%v: %d though a group has no limit", limits, got)
			}
			continue
		}
		want := 0
		n := make([]float64, groups)
		var every func(g, sum int)
		every = func(g, sum int) {
			for _, l := range limits {
				if product(l.coef, n) > l.most {
					return
				}
			}
			if want = max(want, sum); g == groups {
				return
			}
			for v := range 73 {
				n[g] = float64(v)
				every(g+1, sum+v)
			}
			n[g] = 0
		}
		every(0, 0)
		if seen["limited"]++; got != want {
			t.Fatalf("%v: %d, the greatest of all mixes is %d", limits, got, want)
		}
	}
	if min(seen["no limit"], seen["limited"]) < 100 {
		t.Errorf("drawn too one-sidedly: %v", seen)
	}
}
