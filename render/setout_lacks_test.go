package render

import (
	"bytes"
	"errors"
	"strings"
	"testing"

	"tubewright/fill"
	"tubewright/route"
)

// wordsOf are the texts of sheets, in order.
func wordsOf(sheets []*Sheet) (words string) {
	for _, s := range sheets {
		for _, m := range s.List {
			if m, ok := m.(textMark); ok {
				words += m.S + "\n"
			}
		}
	}
	return words
}

// TestNotToBeMade: a tube that cannot be made has no marks, saddles or steps, on
// the sheet or in the text; a tube beside it that can be made has them.
func TestNotToBeMade(t *testing.T) {
	j, runs := setOutDemo(t, "job: v\ntools: {formers: {20: 80 mm}}\nplaces: {a: {is: box}, b: {is: socket}}\nruns:\n"+
		"  A: {from: a, to: b, in: steel conduit 20, path: \"down 0.8, set 25 mm, down 0.1\"}\n  B: {in: steel conduit 20, path: \"right 1, up 1\"}\n")
	if s := j.SetOut(nil, 0); len(s.Lacks) == 0 || len(s.Pieces) == 0 || len(s.Pieces[0].Bends) != 2 {
		t.Fatalf("the demo is to have pieces that cannot be made: %+v", s)
	}
	for what, want := range map[int][2]bool{0: {true, false}, 1: {false, true}} {
		sheets, err := SetOutSheets(j, runs[what:what+1], A4)
		if err != nil {
			t.Fatal(err)
		}
		words := wordsOf(sheets)
		if void := strings.Contains(words, "NOT TO BE MADE"); void != want[0] || strings.Contains(words, "1 start") != want[1] || strings.Contains(words, "saddle 1") != want[1] {
			t.Errorf("run %d: %s", what, words)
		}
		var b bytes.Buffer
		if err := WriteSetOut(&b, j, runs[what:what+1], false); err != nil {
			t.Fatal(err)
		}
		text := b.String()
		if strings.Contains(text, "CANNOT BE MADE") != want[0] || strings.Contains(text, "mark the tube") != want[1] || strings.Contains(text, "supports spaced by") != want[1] {
			t.Errorf("run %d:\n%s", what, text)
		}
	}
}

// TestTurnHandWhereATubeTurns: which way a turn goes is said where a tube is
// turned to a side between two bends, and nowhere else: a note that says
// nothing about the page is read past, and then the one that does.
func TestTurnHandWhereATubeTurns(t *testing.T) {
	for path, want := range map[string]bool{"right 1, up 1": false, "right 1, up 1, right 1": false, "right 1, up 1, out 1": true, "right 4": false} {
		j, runs := setOutDemo(t, "job: v\nruns:\n  A: {in: steel conduit 20, path: \""+path+"\"}\n")
		sheets, err := SetOutSheets(j, runs, A4)
		if err != nil {
			t.Fatal(err)
		}
		var text, data bytes.Buffer
		if err := errors.Join(WriteSetOut(&text, j, runs, false), WriteSetOutJSON(&data, j, runs, fill.Pass)); err != nil {
			t.Fatal(err)
		}
		for what, got := range map[string]string{"sheet": strings.ReplaceAll(wordsOf(sheets), "\n", " "), "text": text.String(), "JSON": data.String()} {
			if strings.Contains(got, turnHand) != want {
				t.Errorf("%s, %s: says which way a turn goes: %v", path, what, !want)
			}
		}
	}
}

// TestTubeIsItsPieces: the tube of a run is what its pieces add up to: 6500 mm
// of way less two box faces of 32 mm and a gap of 31.25 mm (50 mm of movement
// at 15 of 0 to 40 °C), by hand.
func TestTubeIsItsPieces(t *testing.T) {
	j, runs := setOutDemo(t, "job: p\nexpansion: {lowest: 0 C, highest: 40 C, fitted at: 15 C}\nplaces: {a: {is: box}, b: {is: box}}\nruns:\n  P: {from: a, to: b, in: plastic conduit 25, path: right 6.5}\n")
	var b bytes.Buffer
	if err := WriteSetOut(&b, j, runs, false); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"6405 mm of tube", "cut to 405 mm", "ends set 31.25 mm apart"} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("no %q in\n%s", want, b.String())
		}
	}
	sheets, err := SetOutSheets(j, runs, A3)
	if err != nil {
		t.Fatal(err)
	}
	if words := strings.ReplaceAll(wordsOf(sheets), "\n", " "); !strings.Contains(words, "gap 31 mm, fixed end, 19 mm home") || !strings.Contains(words, "gap 31 mm, slides, in to the mark at 44 mm") || !strings.Contains(words, "in to here  44") {
		t.Errorf("the gap is not told at both ends: %s", words)
	}
}

// TestEndTexts: where a tube ends is told from what the path starts at.
func TestEndTexts(t *testing.T) {
	for want, e := range map[string]route.TubeEnd{
		"tube ends 38 mm from the centre line of the trunking":                      {From: "centre line of the trunking", FaceMM: 51, ThreadMM: 13},
		"tube ends 13 mm from the point where the path meets the edge of the board": {From: "point where the path meets the edge of the board", FaceMM: 26, ThreadMM: 13},
		"tube ends 13 mm beyond the face, inside the box":                           {From: "point where the path meets the edge of the board", ThreadMM: 13},
		"tube ends 3 mm beyond the centre":                                          {From: "centre", FaceMM: 10, ThreadMM: 13},
	} {
		if got := endText(e); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// TestLeanIsWhole: a rolled set says from what its plane leans and which way, in
// the text and, in full, over its view on the smallest sheet.
func TestLeanIsWhole(t *testing.T) {
	j, runs := setOutDemo(t, "job: v\ntools: {formers: {20: 80 mm}}\nruns:\n  A: {in: steel conduit 20, path: \"right 1, up 1, set 40 mm right and 30 mm out, up 1\"}\n")
	const want = "40 mm right and 30 mm out; its plane leans 36.9° from right towards out"
	var b bytes.Buffer
	if err := WriteSetOut(&b, j, runs, false); err != nil {
		t.Fatal(err)
	}
	sheets, err := SetOutSheets(j, runs, A4)
	if err != nil {
		t.Fatal(err)
	}
	for _, text := range []string{b.String(), wordsOf(sheets)} {
		if !strings.Contains(strings.Join(strings.Fields(text), " "), want) {
			t.Errorf("no %q in\n%s", want, text)
		}
	}
}
