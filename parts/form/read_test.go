package form

import (
	"bytes"
	"corerod/parts"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

const head = "part: test\nunits: mm\n"
const bare = head + "bodies: {a: {circle: {diameter: 10}, from: 0, to: 5}}\n"

const wheel = head + "bodies: {a: {gear: {"

// refusals are part files with one fault, marked by « before its first character, and what the message says.
var refusals = []struct{ text, want string }{
	{head + "bodies: {a: {circle: {«diametr: 10, diameter: 10}, from: 0, to: 5}}", "unknown key `diametr` in circle; did you mean `diameter`?"},
	{bare + "«bodys: {}", "unknown key `bodys` in a part file; did you mean `bodies`?"},
	{bare + "title: x\n«title: y", "`title` is already given in line 4; give it once"},
	{head + "bodies: {a: {circle: {diameter: 10}, from: 0, to: 5}, «a: {circle: {diameter: 8}, from: 0, to: 5}}", "`a` is already given in line 3"},
	{bare + "cuts: {«a: {circle: {diameter: 2}}}", "the name `a` is already given in line 3"},
	{bare + "cuts: {b: {circle: {diameter: «*d}}}", "aliases (*d) are not allowed; write the value out"},
	{bare + "material: &m {density: 7}\ncuts: {b: {circle: «*m}}", "aliases (*m) are not allowed; write the value out"},
	{bare + "cuts: {b: {circle: {diameter: «&d 3}}}", "anchors (&d) are not allowed; write the value out"},
	{bare + "cuts: {b: {circle: {diameter: «!!int 3}}}", "tags (!!int) are not allowed"},
	{bare + "cuts: {b: {«<<: {}, circle: {diameter: 3}}}", "merge keys (<<) are not allowed"},
	{bare + "cuts: {b: {circle: {diameter: «.nan}}}", "diameter is .nan; only finite numbers are allowed"},
	{bare + "cuts: {b: {circle: {diameter: «-.inf}}}", "only finite numbers are allowed"},
	{bare + "cuts: {b: {circle: {diameter: «1e9}}}", "diameter is `1e9`, past 1000000 mm"},
	{bare + "cuts: {b: {circle: {diameter: «1e999}}}", "out of the range of numbers"},
	{bare + "cuts: {b: {circle: {diameter: «1e-7}}}", "under a nanometre"},
	{bare + "cuts: {b: {circle: {diameter: «0x10}}}", "write a plain decimal number"},
	{bare + "cuts: {b: {circle: {diameter: «1_000}}}", "write a plain decimal number"},
	{bare + "cuts: {b: {circle: {diameter: «010}}}", "leave out the leading zero"},
	{bare + "cuts: {b: {circle: {diameter: «'3'}}}", "needs a number, not text in quotes"},
	{bare + "cuts: {b: {circle: {diameter: «3mm}}}", "needs a number, not `3mm`"},
	{bare + "cuts:\n  b:\n    circle:\n      diameter: «1,5", "write a point, not a comma: 1.5"},
	{bare + "cuts: {b: {circle: {diameter: «-3}}}", "it must be above 0"},
	{bare + "cuts: {b: {circle: {diameter: «0}}}", "it must be above 0"},
	{bare + "cuts: {b: {circle: {diameter: «}}}", "needs a number, not nothing"},
	{bare + "cuts: {b: {circle: {diameter: 3, at: «[1, 2, 3]}}}", "at needs two numbers, [x, y], not 3"},
	{bare + "cuts: {b: {turned: {section: [[0, 1], «[9], [3, 4]]}}}", "two numbers, [radius, z]"},
	{bare + "cuts: {b: {circle: {diameter: 3, at: [1, «x]}}}", "at[1] needs a number, not `x`"},
	{bare + "cuts: {b: {rectangle: {length: 3, width: 2, turn: «400}}}", "the angle must be from -360 to 360 degrees"},
	{bare + "cuts: {b: {rectangle: «{length: 3}}}", "rectangle needs `width`"},
	{bare + "cuts: {b: «{from: 1, to: 2}}", "the cut b needs a profile: one of circle"},
	{bare + "cuts: {b: {circle: {diameter: 3}, «slot: {length: 4, width: 2}}}", "the cut b has a second profile, `slot` beside `circle`; give one"},
	{bare + "cuts: {b: «{circle: {diameter: 3}, from: 1}}", "the cut b needs `from` and `to`, or `open` and `depth`, or none of them"},
	{bare + "cuts: {b: «{circle: {diameter: 3}, open: top}}", "the cut b needs `from` and `to`, or `open` and `depth`, or none of them"},
	{bare + "cuts: {b: {circle: {diameter: 3}, from: 2, to: «2}}", "has no height: `to` `2` must be above `from` `2`"},
	{bare + "cuts: {b: {circle: {diameter: 3}, from: 0, to: «0.000001}}", "the cut b is too low: its height, from `0` to `0.000001`, must be more than 0.000001 mm"},
	{"part: test\nunits: mm\nbodies: {a: {circle: {diameter: 10}, to: «0.000001, from: 0}}", "the body a is too low: its height, from `0` to `0.000001`, must be more than 0.000001 mm"},
	{bare + "cuts: {b: {circle: {diameter: 3}, open: «up, depth: 2}}", "open is `up`; it must be one of `top`, `bottom`"},
	{bare + "cuts: {b: {circle: {diameter: 3}, made_by: «drilling}}", "made_by is `drilling`; it must be one of `pressing`, `machining`, `sizing`"},
	{bare + "cuts: {b: {circle: {diameter: 3}, punch: «shared}}", "punch is `shared`"},
	{bare + "cuts: {b: {circle: {diameter: 3}, repeat: {count: «2.5}}}", "count is `2.5`; it must be a whole number"},
	{bare + "cuts: {b: {circle: {diameter: 3}, repeat: {count: 3, step: [1, 0], «over: 90}}}", "`over` belongs to a repeat round a centre"},
	{bare + "cuts: {b: {circle: {diameter: 3}, repeat: {count: 3, step: «[0, 0]}}}", "the copies would lie on each other"},
	{bare + "cuts: {«b: {circle: {diameter: 3}, repeat: {count: 9000, step: [1, 0]}}}", "more than 10000 vertices after repeats"},
	{bare + "cuts: {b: {circle: {diameter: 3}, draft: «{angle: 5}}}", "draft needs `narrows`"},
	{bare + "cuts: {b: {circle: {diameter: 3}, draft: {angle: «90, narrows: up}}}", "the angle must be from 0 to 89 degrees"},
	{bare + "cuts: {b: {circle: {diameter: 3}, draft: {angle: 5, narrows: «in}}}", "narrows is `in`; it must be one of `up`, `down`"},
	{bare + "cuts: {b: {circle: {diameter: 3}, «section: v}}", "`section` is of a groove in a face"},
	{bare + "cuts: {b: {circle: {diameter: 3}, open: top, depth: 1, section: «square}}", "section is `square`; it must be one of `round`, `v`"},
	{bare + "cuts: {b: {circle: {diameter: 3}, open: top, depth: 1, draft: {angle: 5, narrows: up}, «section: v}}", "a groove has a `section` or a `draft`"},
	{bare + "cuts: {b: {turned: {section: «[[0, 0], [1, 1]]}}}", "section needs at least 3 points"},
	{bare + "cuts: {b: {turned: «{at: [0, 0]}}}", "turned needs `section`"},
	{bare + "cuts: {b: {turned: {section: «[[0, 0], [-1, 1], [0, 2]]}}}", "has the radius -1; it is 0 or more"},
	{bare + "cuts: {b: {turned: {section: [«{line: [0, 0]}, [1, 1], [0, 2]]}}}", "section begins with a point"},
	{bare + "cuts: {b: {turned: {section: [[0, 0], [1, 1], [0, 2]]}, «from: 0}}", "is drawn in section, which says where it begins and ends; leave `from` out"},
	{bare + "cuts: {b: {«turned: {section: [[0, 2], [1, 2], [3, 2]]}}}", "has no height"},
	{bare + "cuts: {b: {ball: {diameter: 4, band: «4}}}", "it is at least 0 and less than the diameter"},
	{bare + "cuts: {b: {ball: «{band: 1}}}", "ball needs `diameter`"},
	{bare + "cuts: {b: {circle: {diameter: 3}, «island: {circle: {diameter: 1}}}}", "an island stands in a recess of a face: the cut needs `open` and `depth`"},
	{bare + "cuts: {b: {circle: {diameter: 3}, open: top, depth: 1, section: v, «island: {circle: {diameter: 1}}}}", "has no flat floor for an island"},
	{bare + "cuts: {b: {circle: {diameter: 3}, open: top, depth: 1, island: «{}}}", "the island needs a profile"},
	{bare + "cuts: {b: {circle: {diameter: 3}, open: top, depth: 1, island: {gear: {module: 0.1, teeth: 20, «internal: true}}}}", "an island is a body; leave `internal` out"},
	{head + "bodies: {a: {circle: {diameter: 30}, from: 0, to: 9, face_stock: {top: «1}, tilt: {face: top, angle: 3, toward: 0}}}", "nothing is ground off a face with `tilt`"},
	{head + "bodies: {a: {circle: {diameter: 30}, from: 0, to: 9, tilt: {face: top, angle: 3, toward: 0}, «ramp: {face: top, start_angle: 0, end_angle: 90, rise: 1, inner: 9}}}", "has `tilt` and `ramp` in its top; one of them fits there"},
	{head + "bodies: {a: {ball: {diameter: 30}, «tilt: {face: top, angle: 3, toward: 0}}}", "is drawn in section; `tilt` needs a profile in plan"},
	{head + "bodies: {a: {polygon: {points: [[0, 0], [9, 0], [0, 9]]}, from: 0, to: 9, «ramp: {face: top, start_angle: 0, end_angle: 90, rise: 1, inner: 1}}}", "about no axis; `ramp` needs a profile with a centre"},
	{head + "bodies: {a: {circle: {diameter: 30}, from: 0, to: 9, tilt: {face: top, angle: «61, toward: 0}}}", "the angle must be from 0.01 to 60 degrees"},
	{head + "bodies: {a: {circle: {diameter: 30}, from: 0, to: 9, ramp: {face: top, start_angle: 0, end_angle: «0.5, rise: 1, inner: 9}}}", "a ramp goes round by 1 to 350 degrees, and this one by 0.5"},
	{head + "bodies: {a: {circle: {diameter: 30}, from: 0, to: 9, ramp: {face: top, start_angle: 0, end_angle: 100, rise: 1, inner: 9, count: «4}}}", "with them each may have up to 90 degrees"},
	{head + "bodies: {a: {circle: {diameter: 30}, from: 0, to: 9, ramp: {face: top, start_angle: 0, end_angle: 100, rise: 1, inner: 9, outer: «8}}}", "the outer diameter must be more than the inner one, 9"},
	{head + "bodies: {a: {circle: {diameter: 30}, from: 0, to: 9, face_teeth: {face: top, count: 12, depth: «4, angle: 60, inner: 12, outer: 30}}}", "a depth of up to 2.689 fits"}, // 6 sin 15 deg over tan 30 deg
	{bare + "edges: {e: «{of: a, chamfer: {width: 1, slope: 30}}}", "the edge e needs `face: top`, `face: bottom` or `at: foot`"},
	{bare + "edges: {e: {of: a, face: top, «at: foot, round: {radius: 1}}}", "has both `face` and `at`"},
	{bare + "edges: {e: {of: a, at: foot, «chamfer: {width: 1, slope: 30}}}", "the foot of a wall takes a `round`"},
	{bare + "edges: {e: «{of: a, face: top}}", "needs a treatment: one of chamfer, round"},
	{bare + "edges: {e: {of: a, face: top, round: {radius: 1}}, f: «{of: a, face: top, round: {radius: 2}}}", "the edge f treats the same edges as e; give one of them"},
	{bare + "edges: {e: {of: a, face: top, chamfer: {width: 1, slope: 30}, «round: {radius: 1}}}", "has a second treatment, `round` beside `chamfer`"},
	{bare + "edges: {e: {of: «b, face: top, round: {radius: 1}}}", "there is no body or cut `b`"},
	{bare + "edges: {e: {of: a, face: «side, round: {radius: 1}}}", "face is `side`; it must be one of `top`, `bottom`"},
	{bare + "edges: {e: {of: a, face: top, chamfer: «{width: 1}}}", "chamfer needs `slope`"},
	{bare + "edges: {e: {of: a, face: top, chamfer: {width: 1, slope: «90}}}", "the angle must be from 1 to 89 degrees"},
	{bare + "edges: {e: {of: a, face: top, chamfer: {width: 1, slope: 30, flat: «-1}}}", "flat is `-1`; it is 0 or more"},
	{bare + "edges: {e: {of: a, face: top, chamfer: {width: 1, slope: 30, slope_from: «wall}}}", "slope_from is `wall`; it must be one of `face`, `axis`"},
	{bare + "marks: {m: {on: «a, recessed: 0.3, box: [0, 0, 2, 1]}}", "on is `a`; write a feature's face"},
	{bare + "marks: {m: {on: a.top, recessed: 0.3, «raised: 0.2, box: [0, 0, 2, 1]}}", "has a second height, `raised` beside `recessed`"},
	{bare + "marks: {m: {on: a.top, recessed: «-0.3, box: [0, 0, 2, 1]}}", "it must be above 0"},
	{bare + "marks: {m: {on: a.top, raised: 0.3, box: «[0, 0, 2]}}", "box needs four numbers"},
	{bare + "marks: {m: {on: a.top, raised: 0.3, box: [0, 0, 2, «0]}}", "box[3] is `0`; it must be above 0"},
	{bare + "marks: {«a: {on: a.top, raised: 0.3, box: [0, 0, 2, 1]}}", "the name `a` is already given"},
	{bare + "dimensions: {d: {of: a.diameter, class: «k99}}", "class `k99` has the grade 99"},
	{bare + "dimensions: {d: {of: a.diameter, class: «zc7}}", "has the letter zc, which is not in the table"},
	{bare + "dimensions: {d: {of: a.diameter, class: «H7}}", "small letters for outsides; a is a body, so `h7`"},
	{bare + "dimensions: {d: {of: «a.radius, class: h7}}", "of is `a.radius`, but `radius` is not given there"},
	{bare + "dimensions: {d: {of: «b.diameter, class: h7}}", "but there is no feature of that name"},
	{bare + "dimensions: {d: «{of: a.diameter}}", "needs a tolerance: one of class, limits, plus_minus"},
	{bare + "dimensions: {d: {of: a.diameter, class: h7, «plus_minus: 0.1}}", "has a second tolerance"},
	{bare + "dimensions: {d: {of: a.height, plus_minus: «0}}", "it must be above 0"},
	{bare + "dimensions: {d: {of: a.height, limits: «[6, 5]}}", "the least size stands first"},
	{bare + "dimensions: {d: {of: a.height, class: «''}}", "is no tolerance class"},
	{bare + "dimensions: {d: {of: «'', plus_minus: 0.1}}", "of is ``"},
	{bare + "dimensions: {d: {of: «'', runout: 0.1, to: a}}", "there is no body or cut ``"},
	{bare + "dimensions: {d: {of: a.height, limits: «[5, 5.0000000001]}}", "limits are [5, 5.0000000001], under a nanometre apart"},
	{bare + "dimensions: {d: {of: a.height, limits: «[6]}}", "limits needs two sizes"},
	{bare + "dimensions: {d: {of: a.height, plus_minus: 0.1, «to: a}}", "`to` belongs to a runout or coaxiality"},
	{bare + "dimensions: {d: «{of: a.top, runout: 0.1}}", "needs `to`"},
	{bare + "dimensions: {d: {of: a, runout: 0.1, to: «a}}", "to is `a`, which the dimension is of"},
	{bare + "dimensions: {d: {of: a.top, runout: 0.1, to: «a}}", "to is `a`, which the dimension is of"},
	{bare + "dimensions: {d: {of: «a, flatness: 0.1}}", "flatness is of an end face"},
	{bare + "dimensions: {d: {of: «a.top, coaxiality: 0.1, to: a}}", "coaxiality is of a feature"},
	{bare + "dimensions: {d: {of: «a.top, class: h7}}", "`top` is not given there"},
	{bare + "cuts: {b: {circle: {diameter: 2, at: [1, 1]}}}\ndimensions: {d: {of: «b.at, plus_minus: 0.1}}", "which is several numbers; write one of them, such as `\"b.at[0]\"`"},
	{bare + "cuts: {b: {rectangle: {length: 2, width: 2, turn: 5}}}\ndimensions: {d: {of: «b.turn, plus_minus: 0.1}}", "which is no length"},
	{wheel + "module: 1, «tooth: 20}, from: 0, to: 5}}", "unknown key `tooth` in gear"},
	{wheel + "teeth: 20, module: «0}, from: 0, to: 5}}", "module is `0`; it must be above 0"},
	{head + "bodies: {a: {gear: «{teeth: 20}, from: 0, to: 5}}", "gear needs `module`"},
	{wheel + "module: 1, teeth: «20.5}, from: 0, to: 5}}", "teeth is `20.5`; it must be a whole number from 5 to 10000"},
	{wheel + "module: 1, teeth: «4}, from: 0, to: 5}}", "teeth is `4`; it must be a whole number from 5 to 10000"},
	{wheel + "module: 1, teeth: 20, pressure_angle: «5}, from: 0, to: 5}}", "pressure_angle is `5`; the angle must be from 10 to 45 degrees"},
	{wheel + "module: 1, teeth: 20, shift: «3}, from: 0, to: 5}}", "shift is `3`; it must be from -2 to 2, in modules"},
	{wheel + "module: 1, teeth: 20, dedendum: «0}, from: 0, to: 5}}", "dedendum is `0`; it must be from 0.1 to 3, in modules"},
	{wheel + "module: 1, teeth: 20, root_radius: «-1}, from: 0, to: 5}}", "root_radius is `-1`; it is 0 or more"},
	{wheel + "module: 1, teeth: 20, «helix: 15}, from: 0, to: 5}}", "a helical gear needs its `hand`: left or right"},
	{wheel + "module: 1, teeth: 20, helix: 15, hand: «up}, from: 0, to: 5}}", "hand is `up`; it must be one of `left`, `right`"},
	{wheel + "module: 1, teeth: 20, hand: «left}, from: 0, to: 5}}", "hand belongs to a helical gear"},
	{wheel + "module: 1, teeth: 20, helix: «-15, hand: left}, from: 0, to: 5}}", "helix is `-15`; the angle must be from 0 to 60 degrees"},
	{wheel + "module: 1, teeth: 40, «internal: true}, from: 0, to: 5}}", "is the void of a ring gear; write it in `cuts`"},
	{bare + "cuts: {b: {«gear: {module: 0.1, teeth: 20}}}", "a gear in `cuts` is the void of a ring gear; write `internal: true`"},
	{bare + "cuts: {b: {spline: «{major: 6, minor: 5, teeth: 4}}}", "spline needs `tooth_width`"},
	{bare + "cuts: {b: {spline: {major: 6, minor: 5, teeth: «1, tooth_width: 1}}}", "teeth is `1`; it must be a whole number from 2"},
	{bare + "cuts: {b: {serration: «{major: 6, minor: 5, teeth: 20}}}", "serration needs `angle`"},
	{bare + "cuts: {b: {serration: {major: 6, minor: 5, teeth: 20, angle: «180}}}", "angle is `180`; the angle must be from 1 to 170 degrees"},
	{head + "bodies: {«a: {gear: {module: 0.2, teeth: 400}, from: 0, to: 5}}", "more than 10000 vertices after repeats"},
	{wheel + "module: 1, teeth: 20}, from: 0, to: 5}}\nhold: [«a.shift]", "but `shift` is not given there"},
	{head + "bodies: {a: {circle: {diameter: 10}, from: 0, to: 5, «made_by: machining}}", "made_by stands on cuts, sides and marks, never on a body"},
	{head + "bodies: {a: «{circle: {diameter: 10}}}", "the body a needs `from` and `to`"},
	{head + "bodies: {«A: {circle: {diameter: 10}, from: 0, to: 5}}", "a name in bodies is `A`; a name is a lower-case letter"},
	{head + "bodies: «{}", "bodies is empty; a part has at least one body"},
	{head + "bodies: «[1]", "bodies needs keys with values, not a list"},
	{head + "bodies:«\n", "bodies needs keys with values, not nothing"},
	{"«part: test\nunits: mm", "a part file needs `bodies`"},
	{"«part: test\nbodies: {a: {circle: {diameter: 10}, from: 0, to: 5}}", "a part file needs `units`"},
	{"part: «Test One\nunits: mm\nbodies: {a: {circle: {diameter: 10}, from: 0, to: 5}}", "the part's name is `Test One`; the name of a part has"},
	{"part: test\nunits: «cm\nbodies: {a: {circle: {diameter: 10}, from: 0, to: 5}}", "units is `cm`; did you mean `mm`?"},
	{"part: test\nunits: «furlong\nbodies: {a: {circle: {diameter: 10}, from: 0, to: 5}}", "units is `furlong`; it must be one of `mm`, `in`"},
	{bare + "format: «2", "format `2` is not known; this version reads format 1"},
	{bare + "sized: «yes", "sized is `yes`; it must be true or false"},
	{bare + "quantity: «-5", "quantity is `-5`; it must be above 0"},
	{bare + "material: {density: «90}", "density is `90`; it must be above 0 and at most 25"},
	{bare + "pressing: «bottom", "pressing is `bottom`; it must be one of `both`, `top`"},
	{bare + "seats: [«a.side]", "write a feature's face: NAME.top or NAME.bottom"},
	{bare + "seats: [«b.top]", "there is no body or cut `b`"},
	{bare + "hold: [«b.diameter]", "but there is no feature of that name"},
	{bare + "hold: [«a.depth]", "but `depth` is not given there"},
	{bare + "hold: [«bodies.a.circle]", "which is not a number"},
	{bare + "blends: {x: {of: «[a], radius: 1}}", "of needs the names of two features, or of all that meet in a corner, not 1"},
	{bare + "blends: {x: {of: [a, «hub], radius: 1}}", "there is no body or cut `hub`"},
	{bare + "sides: {x: «{in: a}}", "needs a kind: one of hole, groove, thread, knurl, flat"},
	{bare + "sides: {x: {hole: {diameter: 2, toward: 0, z: 1}, in: «hub}}", "there is no body or cut `hub`"},
	{bare + "sides: {x: {knurl: {pattern: «diamond}, in: a}}", "pattern is `diamond`"},
	{bare + "sides: {x: {hole: «{diameter: 2, toward: 0}, in: a}}", "a hole needs `z`"},
	{head + "bodies: {a: {polygon: {points: «[[0, 0], [1, 1]]}, from: 0, to: 5}}", "points needs at least 3 points, not 2"},
	{head + "bodies: {a: {polygon: {points: [[0, 0], [1, 0], [0, 1]], corner: «[0.1, 0.1]}, from: 0, to: 5}}", "corner has 2 radii for 3 points"},
	{head + "bodies: {a: {path: {start: [0, 0], steps: [«{radius: 1}]}, from: 0, to: 5}}", "a step needs `arc`"},
	{bare + "hold: []\ndimensions: {d: {of: «hold, plus_minus: 0.1}}", "which is not a number"},
	{head + "bodies: {a: {circle: {diameter: «[]}, from: 0, to: 5}}\nhold: [a.diameter]", "diameter needs a number, not a list"},
	{bare + "dimensions: {d: {of: «d.plus_minus, plus_minus: 0.001}}", "of is `d.plus_minus`, which is a tolerance"},
	{bare + "hold: [«\"a.at[0]\"]", "but `at` is not given there"},
	{head + "bodies: {a: {path: {start: [0, 0], steps: [«{arc: [1, 0]}]}, from: 0, to: 5}}", "an arc step needs `radius`"},
	{bare + "hold: [«\"a.diameter[\"]", "`diameter` has no item `[`"},
	{head + "bodies: {a: {path: {start: [0, 0], steps: [{arc: [1, 0], radius: 1, turn: cw, «lin: 2}]}, from: 0, to: 5}}", "did you mean `line`?"},
	{"«", "the file is empty"},
	{"# nothing\n", "the file is empty"},
	{bare + "title: \"a«\u202eb\"", "bidirectional control U+202E"},
	{bare + "# x«\u2028cuts: {}", "line break U+2028 is not allowed"},
	{bare + "title: «\x07", "control character U+0007"},
	{bare + "title: «\xff", "not valid UTF-8"},
	{bare + "title: a«\ufeff", "byte-order mark U+FEFF"},
	{bare + "---\npart: two", "a second document begins here"},
	{bare + "title: [1", "not readable as YAML"},
	{head + "bodies: " + strings.Repeat("[", 45) + strings.Repeat("]", 45), "nested deeper than 40 levels"},
	{bare + "hold: [" + strings.Repeat("a.diameter, ", 21000) + "a.diameter]", "more than 20000 values"},
	{strings.Repeat("# long\n", 150000) + bare, "larger than 1048576 bytes"},
	{"\xff\xfep\x00", "save it as UTF-8"},
}

func TestRefusals(t *testing.T) {
	for _, c := range refusals {
		before, after, marked := strings.Cut(c.text, "«")
		_, ps := Parse("test.yaml", []byte(before+after))
		short := c.text[:min(len(c.text), 200)]
		if len(ps) == 0 {
			t.Errorf("%q was read", short)
			continue
		}
		found := false
		for _, p := range ps {
			line := 1 + strings.Count(before, "\n")
			column := len([]rune(before[strings.LastIndex(before, "\n")+1:])) + 1
			if strings.Contains(p.Message, c.want) && (!marked || p.Line == line && p.Column == column) {
				found = true
			}
		}
		if !found {
			t.Errorf("%q:\n got %v\nwant %q", short, ps, c.want)
		}
	}
}

// TestTogether: all faults of one file come in one reading, in order, the count of the rest after the fiftieth.
func TestTogether(t *testing.T) {
	_, ps := Parse("test.yaml", []byte("part: T 1\nunits: mn\nbodies: {a: {circle: {diameter: x}, from: 1, to: 0}}\ncolour: red\n"))
	if len(ps) != 5 {
		t.Errorf("%d problems, want 5: %v", len(ps), ps)
	}
	var many strings.Builder
	many.WriteString(bare)
	for i := range 80 {
		fmt.Fprintf(&many, "key-%d: 1\n", i)
	}
	_, ps = Parse("test.yaml", []byte(many.String()))
	if len(ps) != 51 || ps[50].Message != "30 more problems are not listed" {
		t.Errorf("%d problems, the last %v", len(ps), ps[len(ps)-1])
	}
}

func TestKeptAsWritten(t *testing.T) {
	p, ps := Parse("test.yaml", []byte(bare+"title: 1e5\ndrawing: 007\nrevision: 0x1F\nmaterial: {name: 1_0}\n"))
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	if p.Title != "1e5" || p.Drawing != "007" || p.Revision != "0x1F" || p.Material.Name != "1_0" {
		t.Errorf("%+v", p)
	}
	for _, nl := range []string{"\n", "\r\n"} {
		q, ps := Parse("test.yaml", []byte("\ufeff"+strings.ReplaceAll(bare, "\n", nl)))
		if len(ps) > 0 || q.Bodies[0].Place.Line != 3 || q.Bodies[0].Place.Column != 10 {
			t.Errorf("with %q: %v, %+v", nl, ps, q.Bodies[0])
		}
	}
	in, ps := Parse("test.yaml", []byte("part: test\nunits: in\nbodies: {a: {circle: {diameter: 1, at: [2, -1]}, from: 0, to: 0.5}}"))
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	if c := in.Bodies[0].Profile.(parts.Circle); c.Diameter != 25.4 || c.At != (parts.Point{X: 50.8, Y: -25.4}) ||
		in.Bodies[0].Extent.To != 12.7 {
		t.Errorf("inches: %+v", in.Bodies[0])
	}
}

// FuzzPart: whatever the bytes, reading ends in a part, in problems that stand inside the file, or in both; twice
// gives the same.
func FuzzPart(f *testing.F) {
	for _, c := range refusals {
		if len(c.text) < 2000 {
			f.Add([]byte(strings.Replace(c.text, "«", "", 1)))
		}
	}
	mill, err := filepath.Glob("../../testdata/mill/*.yaml")
	if err != nil || len(mill) == 0 {
		f.Fatal("no demo parts", err)
	}
	for _, name := range mill {
		b, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(b)
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		p, ps := Parse("fuzz.yaml", b)
		if p == nil && len(ps) == 0 {
			t.Fatal("neither a part nor a problem")
		}
		lines := 2 + bytes.Count(b, []byte("\n")) + bytes.Count(b, []byte("\r"))
		for _, q := range ps {
			if q.File != "fuzz.yaml" || q.Line < 0 || q.Line > lines || q.Column < 0 || q.Column > len(b)+2 || q.Message == "" {
				t.Fatalf("a problem outside the file: %+v", q)
			}
		}
		if len(ps) == 0 && (p.Name == "" || len(p.Bodies) == 0) {
			t.Fatalf("a part without a name or body: %+v", p)
		}
		_, again := Parse("fuzz.yaml", b)
		if fmt.Sprint(again) != fmt.Sprint(ps) {
			t.Fatalf("read twice: %v, then %v", ps, again)
		}
	})
}

// TestToothed: what a file says of a gear, in its own unit, with the basic rack's factors where it says nothing; its
// numbers can be held by short names.
func TestToothed(t *testing.T) {
	p, ps := Parse("test.yaml",
		[]byte(
			"part: test\nunits: in\nbodies:\n  a: {gear: {module: 0.1, teeth: 20, helix: 15, hand: left, tip_radius: 0.01, at: [1, 0]}, from: 0, to: 1}\n"+
				"  b: {spline: {major: 2, minor: 1, teeth: 6, tooth_width: 0.25, corner: 0.02, turn: 30}, from: 0, to: 2}\n"+
				"cuts:\n  c: {serration: {major: 0.5, minor: 0.4, teeth: 30, angle: 60}}\n"+
				"hold: [a.teeth, a.module, a.helix, a.at, b.tooth_width, c.angle, bodies.a.gear.tip_radius]\n"))
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	if g, want := p.Bodies[0].Profile.(parts.Gear), (parts.Gear{Module: 2.54, Teeth: 20, PressureAngle: 20, Addendum: 1, Dedendum: 1.25,
		TipRadius: 0.254, RootRadius: -1, Helix: 15, Hand: "left", At: parts.Point{X: 25.4, Y: 0}}); g != want {
		t.Errorf("got %+v, want %+v", g, want)
	}
	if s, want := p.Bodies[1].Profile.(parts.Spline),
		(parts.Spline{Major: 50.8, Minor: 25.4, ToothWidth: 6.35, Corner: 0.508, Teeth: 6, Turn: 30}); s != want {
		t.Errorf("got %+v, want %+v", s, want)
	}
	if s, want := p.Cuts[0].Profile.(parts.Serration), (parts.Serration{Major: 12.7, Minor: 10.16, Angle: 60, Teeth: 30}); s != want {
		t.Errorf("got %+v, want %+v", s, want)
	}
	if len(p.Hold) != 7 {
		t.Errorf("held: %q", p.Hold)
	}
}

// TestToldOnce: a fault is told once, and nothing else is told of what follows from it.
func TestToldOnce(t *testing.T) {
	for _, text := range []string{
		head + "bodies: {a: {ball: {diameter: 9}, from: 0}}",
		bare + "cuts: {b: {circle: {diameter: 2}}}\ndimensions: {d: {of: a, runout: 0.1, to: [1]}}",
		head + "bodies: {a: {turned: {section: [foot, [1, 0], [1, 1], [0, 1]]}}}",
		bare + "hold: [a.diameter, «a.tint]",
		head + "bodies: {a: {circle: {diameter: 9}, from: 0, to: 5, depth: 3}}",
		head + "bodies: {a: {turned: {section: [{at: 1}, [1, 0], [1, 1], [0, 1]]}}}",
		head + "bodies: {a: {polygon: {corner: [1, 1, 1]}, from: 0, to: 5}}",
	} {
		if _, ps := Parse("test.yaml", []byte(strings.Replace(text, "«", "", 1))); len(ps) != 1 {
			t.Errorf("%s: %v", text, ps)
		}
	}
	const named = head + "bodies: {hold: {circle: {diameter: 9}, from: 0, to: 2}, seats: {circle: {diameter: 9}, from: 2, to: 4}}\n"
	if p, ps := Parse("test.yaml", []byte(named+"hold: [hold.diameter, seats.height]\n")); len(ps) > 0 || len(p.Hold) != 2 {
		t.Errorf("%v", ps)
	}
}
