package uk_test

import (
	"testing"

	"tubewright/factors"
	"tubewright/factors/uk"
)

// TestSupportBandsCited: a row of the support tables is for a band of sizes and is
// cited so: a 20 mm conduit stands in the guide's row over 16 to 25 mm, a 16 mm
// one in that up to 16 mm, and 50x50 trunking in that over 1500 to 2500 mm².
func TestSupportBandsCited(t *testing.T) {
	for want, e := range map[string]factors.Enclosure{
		"OSG D3: rigid metal, over 16 to 25 mm, horizontal (from memory)": {Kind: factors.Conduit, Material: factors.Steel, Size: 20},
		"OSG D3: rigid metal, up to 16 mm, horizontal (from memory)":      {Kind: factors.Conduit, Material: factors.Steel, Size: 16},
		"OSG D4: metal, over 1500 to 2500 mm², horizontal":                {Kind: factors.Trunking, Material: factors.Steel, Width: 50, Depth: 50},
	} {
		v, err := uk.SupportSpacing(e, true, false)
		if err != nil || v.Cite.String() != want {
			t.Errorf("%v: %v, %v, want %q", e, v.Cite, err, want)
		}
	}
}
