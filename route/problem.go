package route

import "errors"

// Kinds of problem with a job file, for errors.Is. Each comment holds the
// smallest job that raises the kind; a test reads and runs them.
var (
	// ErrJob is a file that is no job at all.
	//
	//	[1, 2]
	ErrJob = errors.New("not a job")

	// ErrMissing is a key that must be there.
	//
	//	job: x
	//	runs: {A: {length: 1 m}}
	ErrMissing = errors.New("key missing")

	// ErrKey is a key the job file does not have.
	//
	//	job: x
	//	rnus: {}
	ErrKey = errors.New("unknown key")

	// ErrValue is a value that cannot be read as what it should be.
	//
	//	job: x
	//	runs: {A: {in: steel conduit 20, length: long}}
	ErrValue = errors.New("value not understood")

	// ErrReference is a name that nothing bears.
	//
	//	job: x
	//	places: {a: {is: box}}
	//	runs: {A: {from: a, to: b, in: steel conduit 20, length: 1 m}}
	ErrReference = errors.New("nothing of that name")

	// ErrSize is a cable or enclosure of a size that no table has.
	//
	//	job: x
	//	runs: {A: {in: steel conduit 21, length: 1 m}}
	ErrSize = errors.New("size not in the tables")

	// ErrConflict is two statements that cannot both hold.
	//
	//	job: x
	//	runs: {A: {in: steel conduit 20, length: 1 m, path: up 1}}
	ErrConflict = errors.New("statements that exclude each other")

	// ErrClosure is a path that does not end where its place is.
	//
	//	job: x
	//	places: {a: {is: box, across: 0, height: 1 m}, b: {is: box, across: 0, height: 3 m}}
	//	runs: {A: {from: a, to: b, in: steel conduit 20, path: up 1}}
	ErrClosure = errors.New("path does not close")

	// ErrReach is a circuit whose runs do not hang together.
	//
	//	job: x
	//	places: {a: {is: box}, b: {is: box}, c: {is: box}, d: {is: box}}
	//	runs:
	//	  A: {from: a, to: b, in: steel conduit 20, length: 1 m}
	//	  B: {from: c, to: d, in: steel conduit 20, length: 1 m}
	//	circuits: {x: {device: B6, cable: 1.5, runs: [A, B]}}
	ErrReach = errors.New("circuit does not reach")

	// ErrDrawIn is a junction of three runs that cannot be drawn through.
	//
	//	job: x
	//	places: {a: {is: box}, b: {is: box}, c: {is: box}, e: {is: elbow}}
	//	runs:
	//	  A: {from: a, to: e, in: steel conduit 20, length: 1 m}
	//	  B: {from: b, to: e, in: steel conduit 20, length: 1 m}
	//	  C: {from: c, to: e, in: steel conduit 20, length: 1 m}
	ErrDrawIn = errors.New("three runs meet where cables cannot be drawn in")
)
