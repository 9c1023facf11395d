package cut

import "testing"

func BenchmarkPublished(b *testing.B) {
	for _, set := range []string{"binpack1", "binpack3", "triplets", "kerf"} {
		for _, p := range problems(b, set) {
			b.Run(p.name, func(b *testing.B) {
				for b.Loop() {
					plan, err := Solve(p.pieces, p.stock)
					if err != nil {
						b.Fatal(err)
					}
					b.ReportMetric(float64(plan.New-p.optimum), "over")
					b.ReportMetric(float64(p.optimum-plan.Bound), "gap")
				}
			})
		}
	}
}
