package render

import (
	"io"
	"os"
	"testing"
)

// look writes a picture for the eye when RENDER_LOOK names a folder.
func look(t *testing.T, name string, s *Sheet, dpi int) {
	t.Helper()
	dir := os.Getenv("RENDER_LOOK")
	if dir == "" {
		return
	}
	err := WriteFile(dir+"/"+name+".png", func(w io.Writer) error { return WritePNG(w, s, dpi) })
	if err != nil {
		t.Error(err)
	}
}

func TestLookFull(t *testing.T) { look(t, "full", fullSheet(), 110) }
func TestLookFull300(t *testing.T) { look(t, "full300", fullSheet(), 300) }
