package render

// Cautions stand on every report, sheet and page.
var Cautions = []string{
	"Isolate, lock off and prove dead before work; a competent person does the work and the tests.",
	"Inspect and test before energising. A check here names the table a figure was held against, no more.",
	"The local code in force and licensed practice govern; compare with the edition in force before relying on a figure.",
}
