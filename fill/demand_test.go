package fill_test

import (
	"fmt"
	"testing"

	"tubewright/fill"
	"tubewright/route"
)

func mustParse(t *testing.T, text string) *route.Job {
	t.Helper()
	j, err := route.Parse("x.yaml", []byte(text))
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	return j
}

const sixCircuits = `
runs:
  A: {in: steel trunking 100x50, length: 5 m}
circuits:
  ring 1: {way: 1, device: B32, cable: 4, arrangement: ring, runs: [A, A]}
  ring 2: {way: 2, device: B32, cable: 4, arrangement: ring, runs: [A, A]}
  ring 3: {way: 3, device: B32, cable: 4, arrangement: ring, demand: 20 A, runs: [A, A]}
  lights: {way: 4, device: B10, cable: 1.5, arrangement: lighting, demand: 10 A, runs: [A]}
  heater: {way: 5, device: B20, cable: 4, arrangement: direct, use: heating, demand: 13 A, runs: [A]}
  pump: {way: 6, device: C16, cable: 2.5, arrangement: direct, demand: 6 A, runs: [A]}
`

// TestMaxDemand: the allowances of IET On-Site Guide, Table A2, are laid on the
// circuits of one use and not on the board. Sums by hand.
func TestMaxDemand(t *testing.T) {
	tests := []struct {
		premises string
		want     float64
	}{
		{"none", 32 + 32 + 20 + 10 + 13 + 6},
		{"household", 32 + 0.4*(32+20) + 0.66*10 + (10 + 0.5*3) + 6},
		{"shops and offices", 32 + 0.5*(32+20) + 0.9*10 + 13 + 6},
		{"hotels", 32 + 0.5*(32+20) + 0.75*10 + 13 + 6},
	}
	for _, tt := range tests {
		j := mustParse(t, "job: x\nsupply: {rating: 100 A}\nchoices: {diversity: "+tt.premises+"}"+sixCircuits)
		if d := fill.MaxDemand(nil, j); !near(d.Most, tt.want) || len(d.Lines) != 1 {
			t.Errorf("%s: %+v, want %v", tt.premises, d, tt.want)
		}
		f := judged(t, "job: x\nsupply: {rating: 100 A}\nchoices: {diversity: "+tt.premises+"}"+sixCircuits).finding("demand", "board")
		if want := map[bool]fill.Verdict{true: fill.Pass, false: fill.Fail}[tt.want <= 100]; f.Verdict != want || !near(f.Value, tt.want) || f.Limit != 100 {
			t.Errorf("%s: %s, %v of %v", tt.premises, f.Verdict, f.Value, f.Limit)
		}
	}
}

// TestDemandLimit: the lesser of main switch and supply.
func TestDemandLimit(t *testing.T) {
	for given, want := range map[string]float64{
		"supply: {rating: 60 A}\nboard: {main: {rating: 100 A}}": 60,
		"supply: {rating: 100 A}\nboard: {main: {rating: 80 A}}": 80,
		"board: {main: {rating: 80 A}}":                          80,
		"supply: {rating: 100 A}":                                100,
	} {
		if f := judged(t, "job: x\n"+given+sixCircuits).finding("demand", "board"); f.Limit != want {
			t.Errorf("%s: %v, want %v", given, f.Limit, want)
		}
	}
}

// TestDemandOfLines: three-phase circuits load every line, single-phase ones the
// line that the job names or, by their way, L1, L2, L3 in turn.
func TestDemandOfLines(t *testing.T) {
	j := mustParse(t, `job: x
supply: {phases: 3}
runs: {A: {in: steel trunking 100x50, length: 5 m}}
circuits:
  saw: {device: C16, cable: 4, arrangement: direct, phases: 3, neutral: no, demand: {power: 6900 W, power factor: 0.8}, runs: [A]}
  one: {way: 1, device: B16, cable: 2.5, demand: 10 A, runs: [A]}
  two: {way: 2, device: B16, cable: 2.5, demand: 11 A, runs: [A]}
  six: {way: 6, device: B16, cable: 2.5, demand: 12 A, runs: [A]}
  nine: {way: 9, line: L1, device: B16, cable: 2.5, demand: 5 A, runs: [A]}
`)
	d := fill.MaxDemand(nil, j)
	saw := 6900 / (3 * 230 * 0.8)
	for i, want := range []float64{saw + 15, saw + 11, saw + 12} {
		if !near(d.Lines[i], want) {
			t.Errorf("L%d: %v, want %v", i+1, d.Lines[i], want)
		}
	}
	if d.Worst != 0 || d.Most != d.Lines[0] {
		t.Errorf("%+v", d)
	}
}

// TestStationary: 100 % of the largest point and 40 % of every other, point by
// point where the job says what they take (OSG Table A2).
func TestStationary(t *testing.T) {
	j := mustParse(t, `job: x
supply: {rating: 100 A}
choices: {diversity: household}
places: {board: {is: board}, a: {is: equipment}, b: {is: equipment}, c: {is: heater}}
runs:
  A: {from: board, to: a, in: plastic conduit 25, length: 2 m}
  B: {from: a, to: b, in: plastic conduit 25, length: 2 m}
  C: {from: b, to: c, in: plastic conduit 25, length: 2 m}
circuits:
  one: {device: B20, cable: 4, use: stationary, points: [a, b], loads: {a: 5 A, b: 8 A}}
  two: {device: B20, cable: 4, use: stationary, points: [c], loads: {c: 6 A}}
`)
	if d, want := fill.MaxDemand(nil, j), 8+0.4*(5+6); !near(d.Most, want) {
		t.Errorf("%v, want %v", d.Most, want)
	}
}

// TestDesignCurrentOfLoads: a circuit without a stated demand takes what its
// loads take together, and its rating check says so.
func TestDesignCurrentOfLoads(t *testing.T) {
	const job = `job: x
places: {board: {is: board}, a: {is: socket}, b: {is: socket}}
runs:
  A: {from: board, to: a, in: plastic conduit 25, length: 10 m}
  B: {from: a, to: b, in: plastic conduit 25, length: 20 m}
allow: {board tail: 0 m, accessory tail: 0 m}
circuits:
  x: {device: B20, cable: 4, points: [a, b], loads: {a: 4600 W, b: {power: 2300 W, power factor: 0.8}}%s}
`
	a := judged(t, fmt.Sprintf(job, ""))
	if f := a.finding("rating", circuitX); f.Verdict != fill.Fail || !near(f.Value, 20+12.5) {
		t.Errorf("%s %v", f.Verdict, f.Value)
	}
	// 11 mV/A/m: 20 A over 10 m, and 12.5 A at cosφ 0.8 over 30 m.
	if got, want := value("drop", circuitX)(a), 11*(20*10+0.8*12.5*30)/1000.0; !near(got, want) {
		t.Errorf("drop %v, want %v", got, want)
	}
	// A stated demand below the loads cuts them down alike; one above it is
	// drawn at the end.
	a = judged(t, fmt.Sprintf(job, ", demand: 16.25 A"))
	if got, want := value("drop", circuitX)(a), 11*(10*10+0.8*6.25*30)/1000.0; !near(got, want) {
		t.Errorf("cut down: drop %v, want %v", got, want)
	}
	a = judged(t, fmt.Sprintf(job, ", demand: 40 A"))
	if got, want := value("drop", circuitX)(a), 11*(20*10+0.8*12.5*30+7.5*30)/1000.0; !near(got, want) {
		t.Errorf("with the rest: drop %v, want %v", got, want)
	}
}
