package route

import (
	"tubewright/factors/sum"
	"tubewright/factors/units"
)

// MarksOfSet are the marks of a set, in mm.
func MarksOfSet(radiusMM, depthMM float64, a units.Degrees) SetMarks {
	return setMarks(nil, sum.Term{Value: radiusMM}, sum.Term{Value: depthMM}, a, "")
}

// MarksOfBubble are the marks of a bubble set of three bends, in mm.
func MarksOfBubble(radiusMM, depthMM float64, a units.Degrees) SetMarks {
	return bubbleMarks(nil, sum.Term{Value: radiusMM}, sum.Term{Value: depthMM}, a, "")
}
