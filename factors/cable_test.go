package factors_test

import (
	"testing"

	"tubewright/factors"
)

func TestNames(t *testing.T) {
	tests := []struct{ got, want string }{
		{factors.Cable{Form: factors.Single, CSA: 2.5, Strands: factors.Stranded, Insulation: factors.Thermosetting}.String(), "2.5 mm² stranded thermosetting"},
		{factors.Cable{Form: factors.Single, CSA: 1, Strands: factors.Solid, Insulation: factors.Thermoplastic}.String(), "1 mm² solid"},
		{factors.Cable{Form: factors.TwinEarth, CSA: 2.5}.String(), "2.5 mm² twin and earth"},
		{factors.Cable{Form: factors.Round, OD: 6.1}.String(), "cable ⌀6.1 mm"},
		{factors.Enclosure{Kind: factors.Conduit, Material: factors.Steel, Size: 20}.String(), "steel conduit 20"},
		{factors.Enclosure{Kind: factors.Trunking, Material: factors.Plastic, Width: 50, Depth: 38}.String(), "plastic trunking 50x38"},
	}
	for _, tt := range tests {
		if tt.got != tt.want {
			t.Errorf("%s, want %s", tt.got, tt.want)
		}
	}
	steel := factors.Enclosure{Kind: factors.Conduit, Material: factors.Steel, Size: 20}
	if plastic := (factors.Enclosure{Kind: factors.Conduit, Material: factors.Plastic, Size: 20}); !steel.Ferromagnetic() || plastic.Ferromagnetic() {
		t.Error("steel is ferromagnetic and plastic is not")
	}
	if factors.Thermoplastic.MaxTemp() != 70 || factors.Thermosetting.MaxTemp() != 90 {
		t.Error("70 °C and 90 °C are the temperatures of BS 7671 Tables 4D1A and 4E1A")
	}
}

func TestTerm(t *testing.T) {
	table := parse(t, head+"axes: [{name: a, between: exact}]\nrows: {1: 24}\n")
	v, err := table.At(factors.Num(1))
	if err != nil {
		t.Fatal(err)
	}
	if term := v.Term("It"); term.Symbol != "It" || term.Value != 24 || term.Unit != "A" || term.Cite.String() != "T1: 1 a" {
		t.Errorf("%+v", term)
	}
	if term := (factors.Value{Num: 0.8, Unit: "1"}).Term("Cg"); term.Unit != "" || term.Cite != nil {
		t.Errorf("%+v", term)
	}
}
