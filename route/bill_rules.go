package route

// How things are counted. A fact of the trade without a published source says
// so.
const (
	ruleLength    = "metres along the centre line, corner to corner, plus the allowance for waste, in whole stock lengths, and not by the cut list: none of its runs is drawn, or can be made as drawn, so that where it is cut is not known; command cut lays the measured lengths out without the allowance and may show fewer (common practice, no source)"
	ruleCutLength = "metres along the centre line, corner to corner; gross is whole stock lengths by the cut list (command cut), without an allowance, after the offcuts at hand; it may be less than net where offcuts cover part, or where bends take less tube than their corners (arithmetic)"
	ruleCutSome   = ruleCutLength + "; but metres and the allowance for waste, in whole lengths, for the runs that are not drawn, or cannot be made as drawn, whose pieces command cut lays out without that allowance: "
	ruleCoupler   = "one at each joint of stock lengths within a run, by the set-out where it is drawn, two a steel bend that is bought, one where the job names a coupler, and for steel one at each conduit end that takes a male bush; steel lengths usually come with one coupler each (common practice, no source)"
	ruleRunning   = "one where a steel run screws into the spouts of two boxes that other runs hold as well, so that neither turns (common practice, no source)"
	ruleExpansion = "plastic conduit on a surface: straight lengths no longer than one coupler takes up (makers' notes, read): 6 m, or less by the temperature range where the job gives it"
	ruleBox       = "circular conduit box by the number and the directions of the conduits that enter it, where they are drawn; adaptable box where no circular box has spouts that way (common practice, no source)"
	ruleReducer   = "one for each conduit smaller than its circular box (common practice, no source)"
	ruleSurface   = "one surface box an accessory, but none for an isolator with an enclosure; up to three switch gangs on a one-gang box (common practice, no source)"
	ruleAccessory = "one at each place that the job names as such (the job's own word)"
	ruleEntry     = "at each conduit end in a box, board or trunking without a spout: adaptor with lock-ring for plastic, which the spout of a steel box takes too; for steel coupler and male bush, or two lock-rings and a female bush where the job says so (choices: {bushes: female}) (common practice, no source)"
	ruleBoard     = "one of each that the board part of the job names; poles, neutral and earth bars, and links to section devices as the board's maker supplies them (the job's own word); a way is one pole, and a three-phase board has its line busbars built in (common practice, no source)"
	ruleDevice    = "one a circuit of a job that describes its board; leave out what is there already (the job's own word)"
	ruleBlank     = "one for each way without a device and each spare module of the rail (common practice, no source)"
	ruleBusbar    = "single-phase board: one for the ways behind each main switch or section device, cut to length, ends capped; a link where there is one way (common practice, no source)"
	ruleTrunkBox  = "one an accessory that stands on trunking alone: box or mounting plate fixed in or on the trunking (common practice, no source)"
	rulePoles     = "one at each place that the job names as such; a pole for each live conductor on its load side: line, switched line, neutral (the job's own word); on a three-phase circuit it comes in its own enclosure and takes no accessory box (common practice, no source)"
	ruleFitting   = "one where the job names the fitting (the job's own word)"
	ruleBend      = "bends formed in the tube, counted from the path or as given: labour, not an item to buy (geometry)"
	ruleFold      = "corners of trunking other than 90° and 45°, those of a set, and all where the job says bends: formed: cut out and folded from the length, labour, not an item to buy (common practice, no source)"
	ruleMade      = "one at each right angle of a run whose bends are made (the job's own word)"
	ruleSaddle    = "as placed by the set-out where the run is drawn; elsewhere on each straight leg spaces between the end saddles, plus one, a run counting as equal level legs between its bends"
	ruleScrew     = "one screw and plug a saddle (two a strap saddle), two a trunking fixing, two a circular or accessory box or an isolator with an enclosure, four an adaptable box (common practice, no source)"
	ruleTail      = "box to accessory where the enclosure is the circuit protective conductor (BS 7671, 543.2.7, memory)"
	ruleConnector = "one for each conductor that is joined where no accessory has a terminal for it (common practice, no source)"
	ruleTrunkJoin = "one at each joint of two lengths and on each open side of a bend, tee, four-way or reducer; none at an entry, which is a hole in the side (common practice, no source)"
	ruleTrunkBend = "one at each change of direction: flat in the plane of the back, internal towards the lid, external away from it; the lid starts out from the wall (geometry)"
	ruleTrunkEnd  = "stop end where one trunking ends in the open, flanged connector at a board or equipment (common practice, no source)"
	ruleLid       = "two a piece of the cut list, or a stock length or part of one where there is none (common practice, no source)"
	ruleCable     = "length of the run for each core in it, a tail for each core that ends at a board or accessory, plus the allowance for waste, in whole reels (common practice, no source)"
)

const screwAndPlug = "screw and plug"
