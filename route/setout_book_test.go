package route_test

import (
	"math"
	"testing"

	"tubewright/factors/sum"
	"tubewright/route"

	"tubewright/factors/units"
)

// near compares with a book's digits: half of its last one either way.
func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: %v, the book has %v", what, got, want)
	}
}

func mm(symbol string, v float64) sum.Term { return sum.Term{Symbol: symbol, Value: v, Unit: "mm"} }

// TestTrialRadius: bent to the geometry of a known radius, a trial bend gives
// that radius back; the job file's own example is worked by hand:
// (300 + 262 − 20 − 500) / 0.4292 = 97.86.
func TestTrialRadius(t *testing.T) {
	near(t, "by hand", route.TrialRadius(nil, 300, 262, mm("OD", 20), 500).Value, 97.86, 0.005)
	for _, R := range []float64{48, 60, 80, 97.5, 200} {
		const straightA, straightB, OD = 131.0, 77.0, 20.0
		cut := straightA + straightB + R*math.Pi/2
		w := &sum.Work{}
		near(t, "known radius", route.TrialRadius(w, straightA+R+OD/2, straightB+R+OD/2, mm("OD", OD), cut).Value, R, 1e-9)
		if len(w.Steps) != 4 {
			t.Errorf("%d steps", len(w.Steps))
		}
	}
}

// TestSetsOfARadius: worked by hand at a radius of 80 mm, from the reference
// formulas; a 40 mm set at 45° cannot be made, 46.9 mm can.
func TestSetsOfARadius(t *testing.T) {
	m := route.MarksOfSet(80, 150, 30)
	near(t, "corners", m.Corners, 300.00, 0.005)
	near(t, "starts", m.Between, 299.02, 0.005)
	near(t, "shrink", m.Shrink, 38.22, 0.005)
	m = route.MarksOfSet(80, 100, 45)
	near(t, "corners", m.Corners, 141.42, 0.005)
	near(t, "starts", m.Between, 137.98, 0.005)
	near(t, "shrink", m.Shrink, 34.54, 0.005)
	near(t, "least", route.LeastSet(nil, mm("R", 80), 45).Value, 46.9, 0.05)
	near(t, "spring-back", float64(route.SpringBack(90, 80, 9.2)), 1.5, 0.15)
}

func swing(low, high float64, sun bool) route.Swing {
	j, err := route.Parse("swing.yaml", []byte("job: s\nruns: {A: {in: plastic conduit 20, length: 9 m}}\nexpansion: {lowest: "+units.Format(low)+" C, highest: "+units.Format(high)+" C, sun: "+map[bool]string{true: "yes", false: "no"}[sun]+"}\n"))
	if err != nil {
		panic(err)
	}
	return j.Swing
}

// oneLength is stock without couplers, which may move a saddle.
const oneLength = "stock: {steel conduit: 70 m, plastic conduit: 70 m}\n"

// TestSaddlesAgainstBooks: every row of a maker's page (read) and the count of
// its example: 9 m of 20 mm plastic lying between boxes: less the ends 8.55 m,
// 5.7 spaces, so 6 and 7 saddles where 9 / 1.5 says 6.
func TestSaddlesAgainstBooks(t *testing.T) {
	w := &sum.Work{}
	at := route.SaddlesOn(w, sum.Term{Symbol: "S", Value: 9000, Unit: "mm"}, mm("e", 225), sum.Term{Symbol: "p", Value: 1.5, Unit: "m"})
	if len(at) != 7 || at[0] != 225 || math.Abs(at[6]-8775) > 1e-9 || math.Abs(at[1]-at[0]-1425) > 1e-9 {
		t.Errorf("%v", at)
	}
	rows := []struct {
		in              string
		lying, standing float64 // m
	}{
		{"plastic conduit 16", 0.75, 1}, {"plastic conduit 20", 1.5, 1.75}, {"plastic conduit 25", 1.5, 1.75}, {"plastic conduit 32", 1.75, 2}, {"plastic conduit 50", 2, 2},
		{"steel conduit 20", 1.75, 2}, {"steel conduit 32", 2, 2.25}, {"steel conduit 50", 2.25, 2.5},
	}
	for _, r := range rows {
		for word, spacing := range map[string]float64{"right": r.lying, "up": r.standing} {
			// In masonry and in one length: a coupler may ask for a space more.
			s := oneRun(t, r.in+", fixed: in masonry", word+" 30 m", oneLength).SetOut(nil, 0)
			closest(t, r.in+" "+word, s, 225, spacing*1000)
		}
	}
	s := oneRun(t, "steel conduit 20", "right 30 m", "choices: {support: specification}\n"+oneLength).SetOut(nil, 0)
	closest(t, "specification", s, 200, 1000)
	s = oneRun(t, "plastic conduit 20, fixed: in masonry", "up 30 m", "choices: {support: maker}\n"+oneLength).SetOut(nil, 0)
	closest(t, "maker", s, 150, 1200)
}

// closest holds one long straight to its end distance and largest space, and
// to having no saddle more than they ask for.
func closest(t *testing.T, what string, s route.SetOut, end, spacing float64) {
	t.Helper()
	long := s.LengthMM
	spaces := math.Ceil((long - 2*end) / spacing)
	if len(s.Saddles) != int(spaces)+1 {
		t.Errorf("%s: %d saddles on %v mm, want %v", what, len(s.Saddles), long, spaces+1)
		return
	}
	near(t, what+", first", s.Saddles[0].At, end, 1e-9)
	near(t, what+", last", s.Saddles[len(s.Saddles)-1].At, long-end, 1e-9)
	for i := range len(s.Saddles) - 1 {
		if gap := s.Saddles[i+1].At - s.Saddles[i].At; gap > spacing+1e-6 {
			t.Errorf("%s: %v mm between saddles", what, gap)
		}
	}
}
