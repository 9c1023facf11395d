package render

import (
	"bufio"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"tubewright/route"
)

// keyColumn is where what a key takes starts, in characters.
const keyColumn = 20

// WriteKeys prints keys of the job file part by part: what each takes, what it
// means, and an example under it.
func WriteKeys(to io.Writer, parts []route.KeyPart) error {
	w := bufio.NewWriter(to)
	for i, p := range parts {
		if i > 0 {
			fmt.Fprintln(w)
		}
		fmt.Fprintf(w, "%s: %s\n", p.Name, p.Where)
		for _, k := range p.Keys {
			writeKey(w, k)
		}
	}
	return w.Flush()
}

func writeKey(w io.Writer, k route.KeyInfo) {
	name := "  " + k.Key
	name += strings.Repeat(" ", max(1, keyColumn-utf8.RuneCountInString(name)))
	rest := strings.Repeat(" ", keyColumn)
	_ = writeWrapped(w, name, rest, k.Takes)
	_ = writeWrapped(w, rest, rest, k.Means)
	fmt.Fprintf(w, "%s%s\n", rest, k.Example)
}

type keyJSON struct {
	Key     string `json:"key"`
	Takes   string `json:"takes"`
	Means   string `json:"means"`
	Example string `json:"example"`
}

type keyPartJSON struct {
	Part  string    `json:"part"`
	Where string    `json:"where"`
	Keys  []keyJSON `json:"keys"`
}

// WriteKeysJSON writes what WriteKeys prints.
func WriteKeysJSON(w io.Writer, parts []route.KeyPart) error {
	out := make([]keyPartJSON, len(parts))
	for i, p := range parts {
		out[i] = keyPartJSON{Part: p.Name, Where: p.Where}
		for _, k := range p.Keys {
			out[i].Keys = append(out[i].Keys, keyJSON(k))
		}
	}
	return writeJSON(w, struct {
		Parts []keyPartJSON `json:"parts"`
	}{out})
}
