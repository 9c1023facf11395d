// Package jobs holds the demo jobs, one copy for the program, the tests and
// the README. Their scenarios and figures are invented.
package jobs

import _ "embed"

// Demo is the job that commands take when none is named, and the commented job
// that new writes.
//
//go:embed boatstore.yaml
var Demo []byte
