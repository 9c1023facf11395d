package route

import (
	"bytes"
	_ "embed"
	"slices"
	"strings"
	"sync"

	"gopkg.in/yaml.v3"
)

// KeyPart is a part of the job file: what may stand in a place, a run, a circuit.
type KeyPart struct {
	Name  string `yaml:"part"`
	Where string // in the file
	Keys  []KeyInfo
}

// KeyInfo is one key of a part.
type KeyInfo struct {
	Key, Takes, Means string
	Example           string // YAML that may stand in the part
}

//go:embed keys.yaml
var keyFile []byte

// KeyParts lists every key of the job file, part by part. It panics where the
// built-in list cannot be read.
var KeyParts = sync.OnceValue(func() []KeyPart {
	var parts []KeyPart
	d := yaml.NewDecoder(bytes.NewReader(keyFile))
	d.KnownFields(true)
	if err := d.Decode(&parts); err != nil {
		panic("keys.yaml: " + err.Error())
	}
	return parts
})

// names lists the keys of a part.
func (k *KeyPart) names() []string {
	out := make([]string, len(k.Keys))
	for i := range k.Keys {
		out[i] = k.Keys[i].Key
	}
	return out
}

// partOf finds the part that has these keys, "" where none is listed.
func partOf(known []string) string {
	for _, p := range KeyParts() {
		if len(p.Keys) == len(known) && !slices.ContainsFunc(p.names(), func(k string) bool { return !slices.Contains(known, k) }) {
			return p.Name
		}
	}
	return ""
}

// allKeys is how a reader sees every key of a part.
func allKeys(part string) string {
	if part == "" {
		return ""
	}
	return " (all: tubewright keys " + part + ")"
}

// elsewhere says where a key belongs that is right in another part, "" where
// it is none or is a slip for near: cables for cable.
func elsewhere(key, near string) string {
	if near != "" && (strings.HasPrefix(key, near) || strings.HasPrefix(near, key)) {
		return ""
	}
	var parts []string
	for _, p := range KeyParts() {
		if slices.Contains(p.names(), key) {
			parts = append(parts, p.Name)
		}
	}
	if len(parts) == 0 {
		return ""
	}
	return key + " belongs to: " + strings.Join(parts, ", ")
}
