package uk_test

import (
	"os"
	"strings"
	"testing"
	"time"

	"tubewright/factors"
	"tubewright/factors/uk"
)

// TestTables holds every data file to what a table must say of itself.
func TestTables(t *testing.T) {
	ids := uk.Tables().IDs()
	if len(ids) < 60 {
		t.Fatalf("%d tables", len(ids))
	}
	for _, id := range ids {
		table := uk.Tables().Table(id)
		for what, s := range map[string]string{"title": table.Title, "standard": table.Standard, "ref": table.Ref, "unit": table.Unit, "checked": table.Checked, "detail": table.Detail} {
			if s == "" {
				t.Errorf("%s: no %s", id, what)
			}
		}
		if _, err := time.Parse(time.DateOnly, table.Checked); err != nil {
			t.Errorf("%s: %v", id, err)
		}
		if table.Prov == 0 || table.Prov == factors.Read && len(table.Sources) == 0 {
			t.Errorf("%s: %s without a source", id, table.Prov)
		}
		cells := 0
		table.Cells(func(v factors.Value, keys []factors.Key) {
			cells++
			if v.Num <= 0 && id != "conduit-temperature" {
				t.Errorf("%s: %v is %v", id, keys, v.Num)
			}
			if got, err := table.At(keys...); err != nil || got != v {
				t.Errorf("%s: %v reads %v, %v; the cell has %v", id, keys, got, err, v)
			}
		})
		if cells == 0 {
			t.Errorf("%s: no figures", id)
		}
	}
}

// TestEdition keeps the one sentence about editions and the table behind it
// together.
func TestEdition(t *testing.T) {
	for amendment, year := range map[string]string{"A2": "2022", "A4": "2026"} {
		v, err := uk.Tables().Table("edition").At(factors.Word(amendment))
		if err != nil || factors.Num(v.Num).String() != year || !strings.Contains(uk.Edition, amendment+":"+year) {
			t.Errorf("%s: %v, %v", amendment, v.Num, err)
		}
	}
}

// BenchmarkReadAll reads every table, which no job needs.
func BenchmarkReadAll(b *testing.B) {
	for b.Loop() {
		family := factors.NewFamily("uk", os.DirFS("."), "data")
		for _, id := range family.IDs() {
			family.Table(id)
		}
	}
}
