package render

// symbols follow the architectural and topographical symbols of IEC 60617 as
// the trade draws them (from memory; the standard is not quoted). Those marked
// "ours" have no symbol there that we know of.
var symbols = []symbol{
	{"board", "distribution board", []stroke{
		box(1, 0.6), solid(-1, 0.6, 1, 0.6, 1, -0.6),
	}, 0},
	{"box", "box", []stroke{
		ring(0, 0, 0.5),
	}, 0},
	{"through box", "through box", []stroke{ // ours
		line(-1, 0, -0.5, 0), line(0.5, 0, 1, 0), ring(0, 0, 0.5), line(-0.5, 0, 0.5, 0),
	}, 0},
	{"joint box", "box, cores joined in it", []stroke{
		ring(0, 0, 0.5), dot(0, 0, 0.2),
	}, 0},
	{"draw-in box", "draw-in box", []stroke{ // ours
		line(-1, 0, -0.55, 0), line(0.55, 0, 1, 0), box(0.55, 0.55), line(-0.55, 0.55, 0.55, -0.55),
	}, 0},
	{"socket", "socket-outlet", socket(), 0},
	{"twin socket", "socket-outlet, twin", socket(letter("2", 0.42, -0.68, 0.5)), 0},
	{"switched socket", "socket-outlet, switched", socket(arm(0, -0.62, 0, 0.75, -30, 1)), 0},
	{"switched twin socket", "socket-outlet, twin, switched", socket(
		arm(0, -0.62, 0, 0.75, -30, 1), letter("2", -0.42, -0.68, 0.5)), 0},
	{"luminaire", "luminaire", []stroke{
		ring(0, 0, 0.7), line(-0.495, -0.495, 0.495, 0.495), line(-0.495, 0.495, 0.495, -0.495),
	}, 0},
	{"emergency luminaire", "emergency luminaire, self-contained", []stroke{
		box(0.65, 0.65), line(-0.65, -0.65, 0.65, 0.65), line(-0.65, 0.65, 0.65, -0.65), dot(0, 0, 0.25),
	}, 0},
	{"isolator", "isolator, switches all poles", []stroke{
		arm(-0.3, 0.5, 0.22, 1.5, -60, 2), ring(-0.3, 0.5, 0.22),
	}, 0},
	{"fused unit", "fused connection unit", []stroke{ // ours
		box(0.85, 0.55), line(-0.85, 0, 0.85, 0), fuse(0.5, 0.2),
	}, 0},
	{"cooker switch", "cooker switch", []stroke{ // ours
		box(1, 0.7), arm(-0.3, 0.38, 0.16, 1.1, -50, 2), ring(-0.3, 0.38, 0.16),
	}, 0},
	{"motor", "motor", []stroke{
		ring(0, 0, 0.75), letter("M", 0, 0, 0.7),
	}, 0},
	{"heater", "heater", []stroke{
		box(0.9, 0.4), line(-0.45, -0.4, -0.45, 0.4), line(0, -0.4, 0, 0.4), line(0.45, -0.4, 0.45, 0.4),
	}, 0},
	{"fan", "fan", []stroke{
		ring(0, 0, 0.75),
		arc(-0.275, 0.2165, 0.35, 218.2, 321.8), arc(-0.275, -0.2165, 0.35, 38.2, 141.8),
		arc(0.275, 0.2165, 0.35, 218.2, 321.8), arc(0.275, -0.2165, 0.35, 38.2, 141.8),
	}, 0},
	{"equipment", "equipment, fixed", []stroke{
		line(0, -1, 0, -0.6), box(0.7, 0.6),
	}, 0},
	{"outlet", "cable outlet", []stroke{ // ours
		line(0, -1, 0, -0.3), ring(0, 0.15, 0.45), dot(0, 0.15, 0.12),
	}, 0},
	{"wiring up", "wiring going upwards", []stroke{
		dot(0, 0, 0.22), arrow(0, 0, 0.85, -0.85),
	}, 0},
	{"wiring down", "wiring going downwards", []stroke{
		dot(0, 0, 0.22), arrow(0, 0, -0.85, 0.85),
	}, 0},
	{"wiring through", "wiring going up and down", []stroke{
		dot(0, 0, 0.22), arrow(0, 0, 0.85, -0.85), arrow(0, 0, -0.85, 0.85),
	}, 0},
	{"earth", "earth", []stroke{
		line(0, -0.9, 0, 0), line(-0.75, 0, 0.75, 0), line(-0.48, 0.3, 0.48, 0.3), line(-0.2, 0.6, 0.2, 0.6),
	}, 0},
}

// socket is a half circle on a stem, the bar across it for the protective
// contact.
func socket(more ...stroke) []stroke {
	return append([]stroke{
		line(0, -1, 0, -0.25), line(-0.65, -0.25, 0.65, -0.25), arc(0, 0.4, 0.65, 180, 360),
	}, more...)
}

// fuse is a small rectangle on the line through it.
func fuse(halfWide, halfHigh float64) stroke {
	return line(-halfWide, -halfHigh, halfWide, -halfHigh, halfWide, halfHigh, -halfWide, halfHigh, -halfWide, -halfHigh)
}
