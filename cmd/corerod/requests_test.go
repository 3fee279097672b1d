package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf16"
)

// request is one pull request: what main has before it, what main gets after the change began, and what the change does.
type request struct {
	name                string
	before, after, does func(r *repository)
	status              int
	says                []string // on standard output or in review.md, lines joined
	not                 []string
}

// commit commits all that lies in the tree, without the hook.
func (r *repository) commit(message string) {
	r.t.Helper()
	r.must("git", "add", "-A")
	r.must("git", "-c", "core.hooksPath=/dev/null", "commit", "-q", "--allow-empty", "-m", message)
}

// files writes files, each followed by its text.
func files(all ...string) func(*repository) {
	return func(r *repository) {
		for i := 0; i < len(all); i += 2 {
			r.write(all[i], all[i+1])
		}
	}
}

// then does several things.
func then(all ...func(*repository)) func(*repository) {
	return func(r *repository) {
		for _, do := range all {
			do(r)
		}
	}
}

func moved(from, to string) func(*repository) {
	return func(r *repository) {
		r.must("mkdir", "-p", filepath.Dir(to))
		r.must("git", "mv", from, to)
	}
}

func linkTo(to, name string) func(*repository) {
	return func(r *repository) {
		if err := os.Symlink(to, filepath.Join(r.dir, name)); err != nil {
			r.t.Fatal(err)
		}
	}
}

// wide is text in UTF-16 with its mark.
func wide(text string) string {
	var b strings.Builder
	for _, u := range append([]uint16{0xfeff}, utf16.Encode([]rune(text))...) {
		b.WriteByte(byte(u))
		b.WriteByte(byte(u >> 8))
	}
	return b.String()
}

// replaced is a text with some parts of it replaced.
func replaced(text string, pairs ...string) string {
	return strings.NewReplacer(pairs...).Replace(text)
}

const (
	edgePack = "pack: shop\nversion: 1.0.0\ntitle: Shop\nbuilds_on: [press-and-sinter]\nsources: {qp: {title: Procedure}}\nlimits: {edge: {value: 2, unit: mm, basis: shop, source: qp}}\nrules:\n" +
		"  hole-edge: {title: Hole edge, stage: fill, over: part, need: [{grade: change, that: 'NEED'}], says: holes near the edge, because: Thin., change: move them, since: 1.0.0}\n"
	allHoles    = "part.holes.all(h, h.edge >= limits.edge)"
	eitherHoles = "part.sized || part.holes.all(h, h.edge >= limits.edge)"
)

// row is a bar with twelve holes, each so far from its edge; the first ten are near to it.
func row(edges map[int]float64) string {
	var b strings.Builder
	b.WriteString("part: bar\nunits: mm\nbodies: {bar: {rectangle: {length: 200, width: 30, corner: 3}, from: 0, to: 6}}\ncuts:\n")
	for i := range 12 {
		edge := 1.5
		if i >= 10 {
			edge = 3
		}
		if e, ok := edges[i]; ok {
			edge = e
		}
		b.WriteString("  h" + num(float64(i)) + ": {circle: {diameter: 4, at: [" + num(float64(-82+15*i)) + ", " + num(15-2-edge) + "]}}\n")
	}
	return b.String()
}

func record(lines ...string) string {
	return "concessions:\n  - {" + strings.Join(append(lines, "reason: agreed, by: engineer, until: 2028-06-30"), ", ") + "}\n"
}

const (
	oldWall  = "part: old, rule: wall-thickness, subject: {kind: wall, name: eye to plate 2}"
	wallOf09 = "accepted: [{of: eye to plate 2, wall.thickness: 0.9}]"
)

// shopWith is the shop's pack with a limit for walls.
func shopWith(limit string) string {
	return "pack: shop\nversion: 1.0.1\ntitle: Shop\nbuilds_on: [press-and-sinter]\nsources: {qp: {title: Procedure}}\nlimits: {wall_special: {value: " + limit + ", unit: mm, basis: shop, source: qp}}\n"
}

func crossed(diameter, toward string) string {
	return "part: hub\nunits: mm\nbodies: {hub: {circle: {diameter: 30}, from: 0, to: 20}}\ncuts: {bore: {circle: {diameter: 12}}}\nsides: {oil: {hole: {diameter: " + diameter + ", toward: " + toward + ", z: 10}, in: hub}}\n"
}

// requests are pull requests that try to let something worse through, and sound ones beside them.
var requests = []request{
	// What looks like a part file and is not reviewed.
	{name: "large letters", does: files("parts/new.YAML", plate("new", 0.5)), status: 2, says: []string{"parts/new.YAML", "was not reviewed, and is in the change", "give it a name that ends in .yaml"}},
	{name: "as JSON", does: files("parts/new.json", `{"part": "new", "units": "mm", "bodies": {"a": {"circle": {"diameter": 20}, "from": 0, "to": 5}}}`), status: 2, says: []string{"parts/new.json"}},
	{name: "other JSON", does: files("parts/package.json", `{"name": "x", "parts": {"part": 1}}`), status: 0},
	{name: "in UTF-16", does: files("parts/new.yaml", wide(plate("new", 0.5))), status: 2, says: []string{"Problems in parts/new.yaml", "UTF-16"}},
	{name: "a key with escapes", does: files("parts/new.yaml", replaced(plate("new", 0.5), "part:", `"p\x61rt":`)), status: 1, says: []string{"Added: the part new of parts/new.yaml, change", "change, new: wall thickness"}},
	{name: "a quoted key", does: files("parts/new.yaml", replaced(plate("new", 0.5), "part:", `'part' :`)), status: 1, says: []string{"change, new: wall thickness"}},
	{name: "a key that is asked for", does: files("parts/new.yaml", replaced(plate("new", 0.5), "part: new", "? part\n: new")), status: 1, says: []string{"change, new: wall thickness"}},
	{name: "broken braces", does: files("parts/new.yaml", "{units: mm, part: new, bodies: {a: {circle: {diameter: 20}, from: 0, to: 5}"), status: 2, says: []string{"parts/new.yaml", "cannot be read as YAML and may be a part file"}},
	{name: "a link", does: linkTo("plate.yaml", "parts/linked.yaml"), status: 2, says: []string{"parts/linked.yaml", "is a link"}},
	{name: "a part turned into a link", does: then(files("elsewhere/plate.txt", plate("plate", 0.5)), func(r *repository) { r.must("rm", "parts/plate.yaml") }, linkTo("../elsewhere/plate.txt", "parts/plate.yaml")), status: 2, says: []string{"parts/plate.yaml", "is a link"}},
	{name: "a new pack with a part", does: files("parts/deep/pack.yaml", "pack: mine\nversion: 1.0.0\ntitle: Mine\n"), status: 2, says: []string{"Problems in parts/deep/disc.yaml", "lies in the folder of a rule pack"}},
	{name: "a trial of a pack that was there", before: files("shop/trials/t.yaml", plate("t", 2), "shop/pack.yaml", shopWith("1.0")+"trials: [{rule: wall-thickness, part: trials/t.yaml, finds: none}]\n"), does: files("shop/trials/t.yaml", plate("t", 0.5)), status: 0, says: []string{"shop holds a rule pack"}},
	{name: "a part added to a pack", does: files("shop/trials/t.yaml", plate("t", 0.5)), status: 2, says: []string{"Problems in shop/trials/t.yaml", "is no part of its trials"}},
	{name: "a part beside a pack's files", does: files("shop/t.yaml", plate("t", 0.5)), status: 2, says: []string{"Problems in shop/t.yaml"}},
	{name: "a link to a folder, named like a part", does: linkTo("deep", "parts/pl.yaml"), status: 2, says: []string{"parts/pl.yaml", "is a link"}},
	{name: "a name that a rule reads", before: files("shop/pack.yaml", replaced(edgePack, "NEED", `part.holes.filter(h, h.name.startsWith("eye")).all(h, h.edge >= limits.edge)`)), does: files("parts/plate.yaml", replaced(plate("plate", 1.9), "eye:", "port:")), status: 1, says: []string{"the names of features, which the rule hole-edge reads,"}},
	{name: "what was overlooked before", before: files("parts/new.YAML", plate("new", 0.5)), does: files("parts/plate.yaml", plate("plate", 2.1)), status: 0, says: []string{"Passed over", "parts/new.YAML looks like a part file"}},

	// Rules that the change would rather not have.
	{name: "the shop file deleted", does: func(r *repository) { r.must("git", "rm", "-q", "corerod.yaml") }, status: 2, says: []string{"Problems in corerod.yaml", "is gone or moved here"}},
	{name: "the shop file moved", does: moved("corerod.yaml", "other/corerod.yaml"), status: 2, says: []string{"is gone or moved here"}},
	{name: "a part moved away from its shop file", before: then(moved("corerod.yaml", "parts/corerod.yaml"), moved("shop/pack.yaml", "parts/shop/pack.yaml"), moved("concessions.yaml", "parts/concessions.yaml")),
		does: moved("parts/old.yaml", "loose/old.yaml"), status: 2, says: []string{"it was parts/old.yaml, where the shop file parts/corerod.yaml holds, and no shop file holds here"}},
	{name: "all parts moved away", before: then(moved("corerod.yaml", "parts/corerod.yaml"), moved("shop/pack.yaml", "parts/shop/pack.yaml"), moved("concessions.yaml", "parts/concessions.yaml")),
		does: then(moved("parts/old.yaml", "loose/old.yaml"), moved("parts/plate.yaml", "loose/plate.yaml"), moved("parts/bush.yaml", "loose/bush.yaml"), moved("parts/deep/disc.yaml", "loose/disc.yaml")), status: 2, says: []string{"no shop file holds for what is reviewed"}},
	{name: "the branch is stricter now", after: files("shop/pack.yaml", shopWith("2.5")), does: files("parts/plate.yaml", "# a note\n"+plate("plate", 2)), status: 0, says: []string{"2 unchanged"}},
	{name: "worse by the rules of the branch now", after: files("shop/pack.yaml", shopWith("2.5")), does: files("parts/plate.yaml", plate("plate", 1.9)), status: 1, says: []string{"needed at least 2.5 mm"}},
	{name: "the branch has a part more", after: files("parts/later.yaml", plate("later", 2)), does: files("parts/plate.yaml", plate("plate", 2.1)), status: 0, not: []string{"later"}},
	{name: "the branch has moved its shop file", after: moved("concessions.yaml", "x/concessions.yaml"), does: files("parts/plate.yaml", plate("plate", 2.1)), status: 0},
	{name: "the pack alone differs", does: files("shop/pack.yaml", shopWith("0.1")), status: 0, says: []string{"Not in force: shop/pack.yaml."}, not: []string{"Not in force: corerod.yaml", "Not in force: concessions.yaml"}},
	{name: "the concessions alone differ", does: files("concessions.yaml", record(oldWall, wallOf09)), status: 0, says: []string{"Not in force: concessions.yaml."}, not: []string{"Not in force: corerod.yaml", "Not in force: shop/pack.yaml"}},
	{name: "nothing differs", does: files("notes.txt", "x"), status: 0, not: []string{"Not in force"}},
	{name: "a second shop file", before: files("parts/deep/corerod.yaml", "packs: [press-and-sinter]\nstatus_at: stop\n"), does: files("parts/plate.yaml", plate("plate", 0.9)), status: 1, says: []string{"change, new: wall thickness", "Shop file: corerod.yaml", "Shop file: parts/deep/corerod.yaml"}},
	{name: "a second shop file, sound", before: files("parts/deep/corerod.yaml", "packs: [press-and-sinter]\nstatus_at: stop\n"), does: files("parts/plate.yaml", plate("plate", 2.1)), status: 0},

	// Other names.
	{name: "another part name", does: files("parts/old.yaml", plate("fresh", 0.9)), status: 1, says: []string{"Added: the part fresh of parts/old.yaml, change", "Gone, which counts as worsened: the part old of parts/old.yaml", "change, new: wall thickness"}},
	{name: "another drawing number", does: files("parts/old.yaml", replaced(plate("old", 0.9), "units:", "drawing: HM-0199\nrevision: C\nunits:")), status: 1, says: []string{"Added: the part old, drawing HM-0199 revision C of parts/old.yaml, change", "Gone"}},
	{name: "a part added, clear", does: files("parts/new.yaml", replaced(plate("new", 2), "units:", "drawing: HM-0200\nrevision: A\nunits:")), status: 0, says: []string{"Added: the part new, drawing HM-0200 revision A of parts/new.yaml, clear"}},
	{name: "a feature renamed", does: files("parts/old.yaml", replaced(plate("old", 0.9), "eye:", "port:")), status: 0, says: []string{"Renamed: port was eye.", "1 unchanged"}},
	{name: "a feature renamed and worse", does: files("parts/old.yaml", replaced(plate("old", 0.85), "eye:", "port:")), status: 1},
	{name: "a machined cut renamed", does: files("parts/bush.yaml", bush("mm", "25.4", "6.35", "pin: {circle: {diameter: 5.08, at: [6.35, 0]}}", "vent: {circle: {diameter: 2.54, at: [-6.35, 0]}, made_by: machining}")), status: 0, says: []string{"Renamed: vent was port."}, not: []string{"counts as worsened"}},
	{name: "names exchanged", before: files("parts/bush.yaml", bush("mm", "30", "6", "a: {circle: {diameter: 6, at: [11.1, 0]}}", "b: {circle: {diameter: 6, at: [-9, 0]}}")),
		does: files("parts/bush.yaml", bush("mm", "30", "6", "b: {circle: {diameter: 6, at: [11.1, 0]}}", "a: {circle: {diameter: 6, at: [-9, 0]}}")), status: 1, says: []string{"change, new: wall thickness"}},
	{name: "a declared punch", does: files("parts/deep/disc.yaml", "part: disc\nunits: mm\nbodies: {disc: {circle: {diameter: 30}, from: 0, to: 6, punch: own}}\ncuts: {pin: {circle: {diameter: 4, at: [6, 0]}}}\n"), status: 0, says: []string{"Changed: punch from none to disc: own."}},

	// Needs over lists.
	{name: "an element more, beyond the eighth", before: files("shop/pack.yaml", replaced(edgePack, "NEED", allHoles), "parts/bar.yaml", row(nil)), does: files("parts/bar.yaml", row(map[int]float64{11: 1.5})), status: 1, says: []string{"change, worsened: hole edge"}},
	{name: "one worse, beyond the eighth", before: files("shop/pack.yaml", replaced(edgePack, "NEED", allHoles), "parts/bar.yaml", row(nil)), does: files("parts/bar.yaml", row(map[int]float64{9: 1.45})), status: 1, says: []string{"change, worsened: hole edge"}},
	{name: "one worse and one better", before: files("shop/pack.yaml", replaced(edgePack, "NEED", allHoles), "parts/bar.yaml", row(nil)), does: files("parts/bar.yaml", row(map[int]float64{0: 3, 9: 1.45})), status: 1, says: []string{"change, worsened: hole edge"}},
	{name: "one for another", before: files("shop/pack.yaml", replaced(edgePack, "NEED", allHoles), "parts/bar.yaml", row(nil)), does: files("parts/bar.yaml", row(map[int]float64{0: 3, 11: 1.5})), status: 1, says: []string{"change, worsened: hole edge"}},
	{name: "one better", before: files("shop/pack.yaml", replaced(edgePack, "NEED", allHoles), "parts/bar.yaml", row(nil)), does: files("parts/bar.yaml", row(map[int]float64{0: 3})), status: 0, says: []string{"change, unchanged: hole edge"}},
	{name: "an element more, where another way would do", before: files("shop/pack.yaml", replaced(edgePack, "NEED", eitherHoles), "parts/bar.yaml", row(nil)), does: files("parts/bar.yaml", row(map[int]float64{10: 1.5})), status: 1, says: []string{"change, worsened: hole edge"}},

	// Records.
	{name: "a part that may go", before: files("concessions.yaml", record("part: disc, file: parts/deep/disc.yaml, rule: part-gone, shape: SHAPE-OF parts/deep/disc.yaml")), does: func(r *repository) { r.must("git", "rm", "-q", "parts/deep/disc.yaml") }, status: 0, says: []string{"Gone: the part disc of parts/deep/disc.yaml; a concession covers it"}},
	{name: "another part than may go", before: files("concessions.yaml", record("part: disc, rule: part-gone, shape: 'shape1:0000000000000000'")), does: func(r *repository) { r.must("git", "rm", "-q", "parts/deep/disc.yaml") }, status: 1, says: []string{"Gone, which counts as worsened", "drawn otherwise than was agreed to"}},
	{name: "a finding renamed under its record", before: files("concessions.yaml", record(oldWall, wallOf09, "file: parts/old.yaml")), does: files("parts/old.yaml", replaced(plate("old", 0.9), "eye:", "port:")), status: 0, says: []string{"Concessions under new names", "subject: {kind: wall, name: plate to port 2}"}},
	{name: "a file moved under its record", before: files("concessions.yaml", record(oldWall, wallOf09, "file: parts/old.yaml")), does: moved("parts/old.yaml", "parts/deep/older.yaml"), status: 0, says: []string{"Moved: it was parts/old.yaml.", "file: \"parts/deep/older.yaml\""}},
	{name: "a file copied under its record", before: files("concessions.yaml", record(oldWall, wallOf09, "file: parts/old.yaml")), does: files("parts/copy.yaml", plate("old", 0.9)), status: 1, says: []string{"change, new: wall thickness"}},
	{name: "a copy of a part whose record names no file", before: files("concessions.yaml", record(oldWall, wallOf09)), does: files("parts/copy.yaml", plate("old", 0.9)), status: 1, says: []string{"two part files have this name, drawing and revision"}},
	{name: "a conceded hole across grows", before: files("parts/hub.yaml", crossed("2.5", "90"), "concessions.yaml", "CONCEDE parts/hub.yaml"), does: files("parts/hub.yaml", crossed("2.6", "90")), status: 1, says: []string{"crossing.width is 2.6, accepted was 2.5"}},
	{name: "a hole across grows", before: files("parts/hub.yaml", crossed("2.5", "90")), does: files("parts/hub.yaml", crossed("4", "90")), status: 1, says: []string{"worsened: cross feature"}},
	{name: "a conceded hole across becomes a thread", before: files("parts/hub.yaml", crossed("2.5", "90"), "concessions.yaml", "CONCEDE parts/hub.yaml"), does: files("parts/hub.yaml", replaced(crossed("2.5", "90"), "hole: {diameter: 2.5, toward: 90, z: 10}", "thread: {size: M4, inside: true}")), status: 1, says: []string{"it is a thread, accepted was a hole"}},
	{name: "a part behind a mile of notes", does: files("parts/new.yaml", strings.Repeat("# note\n", 200_000)+plate("new", 0.5)), status: 2, says: []string{"Problems in parts/new.yaml"}},
	{name: "a part with a zero before it", does: files("parts/new.yaml", "# \x00\n"+plate("new", 0.5)), status: 2, says: []string{"Problems in parts/new.yaml"}},
	{name: "a part behind a break that nobody sees", does: files("parts/new.yaml", "a: 1\u0085"+plate("new", 0.5)), status: 2, says: []string{"parts/new.yaml"}},
	{name: "a part in another encoding", does: files("parts/new.yaml", "\x97\x81\x99\xa3z\x81"), status: 2, says: []string{"parts/new.yaml"}},
	{name: "a part that attributes hide", does: files("parts/new.yaml", plate("new", 0.5), ".gitattributes", "parts/new.yaml filter=none\n"), status: 1, says: []string{"change, new: wall thickness"}},
	{name: "a submodule", does: func(r *repository) {
		r.must("mkdir", "parts/lib")
		r.must("git", "update-index", "--add", "--cacheinfo", "160000,0123456789012345678901234567890123456789,parts/lib")
		r.must("git", "-c", "core.hooksPath=/dev/null", "commit", "-qm", "submodule")
	}, status: 2, says: []string{"a submodule has changed"}},
	{name: "a conceded hole across turns", before: files("parts/hub.yaml", crossed("2.5", "90"), "concessions.yaml", "CONCEDE parts/hub.yaml"), does: files("parts/hub.yaml", crossed("2.5", "45")), status: 1, says: []string{"accepted was 90"}},
	{name: "a conceded hole across shrinks", before: files("parts/hub.yaml", crossed("2.5", "90"), "concessions.yaml", "CONCEDE parts/hub.yaml"), does: files("parts/hub.yaml", crossed("2.4", "90")), status: 0},
}

// agreeTo turns what stands for a digest, or for records of all findings of a part, in the concessions into them, as corerod gives them.
func (r *repository) agreeTo() {
	r.t.Helper()
	name := filepath.Join(r.dir, "concessions.yaml")
	b, err := os.ReadFile(name)
	if err != nil {
		return
	}
	if before, rest, found := strings.Cut(string(b), "SHAPE-OF "); found {
		file, after, _ := strings.Cut(rest, ",")
		r.write("concessions.yaml", "concessions: []\n")
		out, _ := r.run(r.corerod, "review", file, "--to", "json=-")
		_, shape, _ := strings.Cut(out, `"shape": "`)
		shape, _, _ = strings.Cut(shape, `"`)
		r.write("concessions.yaml", before+"'"+shape+"',"+after)
	}
	if file, found := strings.CutPrefix(string(b), "CONCEDE "); found {
		r.write("concessions.yaml", "concessions: []\n")
		out, _ := r.run(r.corerod, "review", file, "--to", "json=-")
		for _, f := range strings.Split(out, `"id": "`)[1:] {
			id, _, _ := strings.Cut(f, `"`)
			r.must(r.corerod, "concede", file, "--finding", id, "--until", "2028-06-30", "--reason", "agreed", "--by", "engineer")
		}
	}
}

// TestPlayedRequests: each pull request ends with its status and a report that says why, and no report names the folders that the
// check works in.
func TestPlayedRequests(t *testing.T) {
	for _, c := range requests {
		t.Run(c.name, func(t *testing.T) {
			r := newRepository(t)
			work := r.workIn()
			do := func(f func(*repository), message string) {
				if f != nil {
					f(r)
					r.agreeTo()
					r.commit(message)
				}
			}
			do(c.before, "before")
			r.must("git", "checkout", "-q", "-b", "change")
			do(c.does, "change")
			if c.after != nil {
				r.must("git", "checkout", "-q", "main")
				do(c.after, "after")
				r.must("git", "checkout", "-q", "change")
			}
			out, status := r.run("sh", "check-parts.sh", "main")
			page, err := os.ReadFile(filepath.Join(r.dir, "review.md"))
			if err != nil || len(page) == 0 {
				t.Errorf("no report: %v", err)
			}
			said := joinLines(out) + joinLines(string(page))
			if status != c.status {
				t.Errorf("status %d, want %d\n%s", status, c.status, out)
			}
			for _, want := range c.says {
				if !strings.Contains(said, want) {
					t.Errorf("%q is not said\n%s", want, out)
				}
			}
			for _, no := range append(c.not, work) {
				if strings.Contains(said, no) {
					t.Errorf("%q is said\n%s", no, out)
				}
			}
		})
	}
}

// workIn gives temporary folders a name of their own, which no output may have.
func (r *repository) workIn() string {
	work := filepath.Join(r.t.TempDir(), "worked-here")
	if err := os.Mkdir(work, 0o755); err != nil {
		r.t.Fatal(err)
	}
	r.env = append(r.env, "TMPDIR="+work)
	return "worked-here"
}
