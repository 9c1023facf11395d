package uk_test

import (
	"os"
	"testing"

	"tubewright/factors"
	"tubewright/factors/uk"
)

func BenchmarkConduitFactor(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := uk.ConduitFactor(nil, 5.2, 2, 25); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkCableFactor(b *testing.B) {
	b.ReportAllocs()
	c := single(2.5, factors.Stranded)
	for b.Loop() {
		if _, err := uk.CableFactor(c, true); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkRating(b *testing.B) {
	b.ReportAllocs()
	c := single(2.5, factors.Stranded)
	for b.Loop() {
		if _, err := uk.Rating(c, uk.MethodB, 2); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkGrouping(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := uk.Grouping(11); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkTrunkingFactor(b *testing.B) {
	b.ReportAllocs()
	e := trunking(factors.Steel, 100, 50)
	for b.Loop() {
		if _, err := uk.TrunkingFactor(e); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkReadTable reads the largest table from its file's text.
func BenchmarkReadTable(b *testing.B) {
	b.ReportAllocs()
	text, err := os.ReadFile("data/conduit-factor-long-or-bent.yaml")
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := factors.ParseTable("E4", text); err != nil {
			b.Fatal(err)
		}
	}
}
