package route_test

import (
	"testing"

	"tubewright/factors/sum"
)

// BenchmarkSetOut: a captive run of two sets and two right angles, with and
// without its steps.
func BenchmarkSetOut(b *testing.B) {
	j := heldJob(b, "steel conduit 20", "right 2, set 60 mm out, right 2, up 3, double set 60 mm out, up 2, left 1", "tools: {formers: {20: 80 mm}}\n")
	b.Run("figures", func(b *testing.B) {
		for b.Loop() {
			j.Shape(0)
		}
	})
	b.Run("steps", func(b *testing.B) {
		for b.Loop() {
			j.SetOut(&sum.Work{}, 0)
		}
	})
}
