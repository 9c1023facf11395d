package fill_test

import (
	"strings"
	"testing"

	"tubewright/fill"
)

// TestAdiabatic: k²S² of 115 A√s/mm² (BS 7671 Tables 43.1 and 54.3, read) against
// what the device lets through. The limits of energy class 3 are memory.
func TestAdiabatic(t *testing.T) {
	const supply = "{earthing: TN-S, Ze: 0.35 ohm, fault: 1.5 kA}"
	tests := []struct {
		what, supply, circuit string
		verdict               fill.Verdict
		value, limit          float64
		reason                string
	}{
		{"let-through given", supply, "device: B20, cable: 2.5, cpc: 1.5, let-through: 20000 A²s", fill.Pass, 20000, 29756.25, ""},
		{"let-through too much for the cpc", supply, "device: B20, cable: 2.5, cpc: 1.5, let-through: 40000 A²s", fill.Fail, 40000, 29756.25, "the cpc of 1.5 mm² withstands"},
		{"a cpc by selection leaves the line", supply, "device: B20, cable: 2.5, let-through: 40000 A²s", fill.Pass, 40000, 82656.25, ""},
		{"let-through too much for the line", supply, "device: B20, cable: 2.5, let-through: 90000 A²s", fill.Fail, 90000, 82656.25, "the line of 2.5 mm² withstands"},
		{"let-through, no fault current given", "{voltage: 230 V}", "device: B20, cable: 2.5, let-through: 40000 A²s", fill.Pass, 40000, 82656.25, ""},
		{"class 3 is advice", supply, "device: B20, cable: 2.5", fill.Advise, 45000, 82656.25, "energy class 3"},
		{"class 3 does not cover 1.5 mm²", supply, "device: B16, cable: 1.5", fill.Open, 35000, 29756.25, "would be more than"},
		{"no class past 6 kA", "{earthing: TN-S, Ze: 0.35 ohm, fault: 7 kA}", "device: B20, cable: 2.5", fill.Open, nan, 82656.25, "let-through"},
		{"no class of type D", supply, "device: D20, cable: 2.5", fill.Open, nan, 82656.25, "let-through"},
		{"overload device that can break it", supply, "device: B16, cable: 1.5, breaking: 6 kA", fill.Advise, nan, 29756.25, "435.1"},
		{"but cannot", supply, "device: B16, cable: 1.5, breaking: 1 kA", fill.Open, 35000, 29756.25, "would be more than"},
		{"and the cpc is thin", supply, "device: B16, cable: 2.5, cpc: 1.5, breaking: 6 kA", fill.Open, 35000, 29756.25, "of the cpc"},
		{"90 °C", supply, "device: B20, cable: 2.5 thermosetting, let-through: 40000 A²s", fill.Pass, 40000, 143 * 143 * 6.25, ""},
		{"fuse", supply, "device: BS 88-2 20 A, cable: 2.5", fill.Open, nan, 82656.25, "let-through"},
		{"twin and earth has a smaller cpc", supply, "device: B20, cable: 2.5 twin and earth, let-through: 20000 A²s", fill.Pass, 20000, 29756.25, ""},
	}
	for _, tt := range tests {
		f := judged(t, bare(tt.supply, "20 m", tt.circuit)).finding("adiabatic", circuitX)
		if f.Verdict != tt.verdict || !near(f.Value, tt.value) || !near(f.Limit, tt.limit) || !strings.Contains(f.Reason, tt.reason) {
			t.Errorf("%s: %s %v of %v, want %s %v of %v: %s", tt.what, f.Verdict, f.Value, f.Limit, tt.verdict, tt.value, tt.limit, f.Reason)
		}
	}
}

// TestFaultAlongRun: the current falls along the run. 1.5 kA at the origin is
// 0.1533 Ω; 20 m of 2.5 mm² line and neutral add 0.2964 Ω: 511 A.
func TestFaultAlongRun(t *testing.T) {
	a := judged(t, bare("{earthing: TN-S, Ze: 0.35 ohm, fault: 1.5 kA}", "20 m", "device: B20, cable: 2.5"))
	if got, want := step("adiabatic", circuitX, "I line")(a), 230/(230/1500.0+2*0.02*7.41); !near(got, want) || rounded(got, "511") != "511" {
		t.Errorf("%v, want %v", got, want)
	}
}

// TestBreaking: the device's breaking capacity where the job gives it.
func TestBreaking(t *testing.T) {
	for breaking, want := range map[string]fill.Verdict{"6 kA": fill.Pass, "3 kA": fill.Fail} {
		f := judged(t, bare("{fault: 4.2 kA}", "20 m", "device: B20, cable: 2.5, breaking: "+breaking)).finding("breaking", circuitX)
		if f.Verdict != want || f.Value != 4200 {
			t.Errorf("%s: %s %v of %v", breaking, f.Verdict, f.Value, f.Limit)
		}
	}
}
