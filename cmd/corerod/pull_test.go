package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// scriptNames are the shell scripts of the pages, each run below.
var scriptNames = []string{"check-parts.sh", "run-check.sh", "pre-commit", "lots.sh", "comment.sh"}

// scripts are those of docs/pull-requests.md and docs/comparing.md.
func scripts(t *testing.T) map[string]string {
	t.Helper()
	all := map[string]string{}
	for _, page := range []string{"docs/pull-requests.md", "docs/comparing.md"} {
		for _, block := range strings.Split(pages(t)[page], "```sh ")[1:] {
			name, rest, _ := strings.Cut(block, "\n")
			body, _, _ := strings.Cut(rest, "```")
			all[name] = body
		}
	}
	return all
}

// repository is a git repository with two parts, a shop file, a pack and concessions, and corerod on the path.
type repository struct {
	t       *testing.T
	dir     string
	env     []string
	corerod string
}

func newRepository(t *testing.T) *repository {
	t.Helper()
	if testing.Short() {
		t.Skip("builds the command")
	}
	for _, tool := range []string{"git", "sh", "tar"} {
		if _, err := exec.LookPath(tool); err != nil {
			t.Skip(tool + " is not here")
		}
	}
	r := &repository{t: t, dir: t.TempDir(), corerod: built(t)}
	bin := filepath.Dir(r.corerod)
	r.env = append(os.Environ(), "PATH="+bin+string(os.PathListSeparator)+os.Getenv("PATH"), "GIT_CONFIG_GLOBAL=/dev/null",
		"GIT_CONFIG_SYSTEM=/dev/null",
		"GIT_AUTHOR_NAME=a", "GIT_AUTHOR_EMAIL=a@example.invalid", "GIT_COMMITTER_NAME=a", "GIT_COMMITTER_EMAIL=a@example.invalid")
	r.must("git", "init", "-q", "-b", "main")
	for name, text := range map[string]string{
		"corerod.yaml":          "packs: [shop]\nconcessions: concessions.yaml\n",
		"shop/pack.yaml":        "pack: shop\nversion: 1.0.0\ntitle: Shop\nbuilds_on: [press-and-sinter]\nsources: {qp: {title: Procedure}}\nlimits: {wall_special: {value: 1.0, unit: mm, basis: shop, source: qp}}\n",
		"concessions.yaml":      "concessions: []\n",
		"parts/plate.yaml":      plate("plate", 2),
		"parts/old.yaml":        plate("old", 0.9), // a finding that was there before
		"parts/deep/disc.yaml":  "part: disc\nunits: mm\nbodies: {disc: {circle: {diameter: 30}, from: 0, to: 6}}\ncuts: {pin: {circle: {diameter: 4, at: [6, 0]}}}\n",
		"parts/bush.yaml":       bush("mm", "25.4", "6.35", "pin: {circle: {diameter: 5.08, at: [6.35, 0]}}", "port: {circle: {diameter: 2.54, at: [-6.35, 0]}, made_by: machining}"),
		"check-parts.sh":        scripts(t)["check-parts.sh"],
		".git/hooks/pre-commit": scripts(t)["pre-commit"],
	} {
		r.write(name, text)
	}
	r.must("git", "add", ".")
	r.must("git", "-c", "core.hooksPath=/dev/null", "commit", "-qm", "parts")
	return r
}

// plate is a plate with a wall beside its eye.
func plate(name string, wall float64) string {
	return strings.NewReplacer("NAME", name, "AT",
		num(12-wall)).Replace(
		"part: NAME\nunits: mm\nbodies: {plate: {rectangle: {length: 40, width: 30, corner: 3}, from: 0, to: 4}}\ncuts: {eye: {circle: {diameter: 6, at: [0, AT]}}}\n")
}

// bush is a disc with cuts.
func bush(unit, diameter, height string, cuts ...string) string {
	return fmt.Sprintf("part: bush\nunits: %s\nbodies: {disc: {circle: {diameter: %s}, from: 0, to: %s}}\ncuts:\n  %s\n", unit, diameter,
		height, strings.Join(cuts, "\n  "))
}

func (r *repository) write(name, text string) {
	r.t.Helper()
	to := filepath.Join(r.dir, filepath.FromSlash(name))
	if err := os.MkdirAll(filepath.Dir(to), 0o755); err != nil {
		r.t.Fatal(err)
	}
	if err := os.WriteFile(to, []byte(text), 0o755); err != nil {
		r.t.Fatal(err)
	}
}

func (r *repository) run(name string, args ...string) (string, int) {
	r.t.Helper()
	c := exec.Command(name, args...)
	c.Dir, c.Env = r.dir, r.env
	out, err := c.CombinedOutput()
	if _, ok := err.(*exec.ExitError); err != nil && !ok {
		r.t.Fatal(err)
	}
	return string(out), c.ProcessState.ExitCode()
}

func (r *repository) must(name string, args ...string) {
	r.t.Helper()
	if out, status := r.run(name, args...); status != 0 {
		r.t.Fatalf("%s %v: %s", name, args, out)
	}
}

// changes are what a branch does to the parts, and whether the check must keep it back.
var branchChanges = []struct {
	name  string
	do    func(r *repository)
	fails bool
	says  string
}{
	{"a note", func(r *repository) { r.write("parts/plate.yaml", "# a note\n\n"+plate("plate", 2)) }, false, "0 new, 0 worsened, 1 unchanged"},
	{"a file renamed", func(r *repository) { r.must("git", "mv", "parts/old.yaml", "parts/older.yaml") }, false, "1 unchanged"},
	{"a finding brought", func(r *repository) { r.write("parts/plate.yaml", plate("plate", 0.9)) }, true, "change, new: wall thickness"},
	{"a finding worsened", func(r *repository) { r.write("parts/old.yaml", plate("old", 0.85)) }, true, "change, worsened: wall thickness"},
	{"a finding cleared", func(r *repository) { r.write("parts/old.yaml", plate("old", 2)) }, false, "1 cleared"},
	{"its own pack softened", func(r *repository) {
		r.write("parts/plate.yaml", plate("plate", 0.9))
		r.write("shop/pack.yaml",
			"pack: shop\nversion: 1.0.1\ntitle: Shop\nbuilds_on: [press-and-sinter]\nsources: {qp: {title: Procedure}}\nlimits: {wall_special: {value: 0.1, unit: mm, basis: shop, source: qp}}\n")
	}, true, "needed at least 1 mm"},
	{"a nearer shop file", func(r *repository) {
		r.write("parts/plate.yaml", plate("plate", 0.9))
		r.write("parts/corerod.yaml", "packs: [press-and-sinter]\nstatus_at: stop\n")
	}, true, "Not in force: parts/corerod.yaml."},
	{"its own concession", func(r *repository) {
		r.write("parts/plate.yaml", plate("plate", 0.9))
		r.write("concessions.yaml",
			"concessions: [{part: plate, rule: wall-thickness, subject: {kind: wall, name: eye to plate 2}, accepted: {wall.thickness: 0.5}, reason: x, by: y, until: 2027-06-30}]\n")
	}, true, "change, new: wall thickness"},
	{"a cut said to be machined", func(r *repository) {
		r.write("parts/plate.yaml", strings.Replace(plate("plate", 2), "at: [0, 10]}", "at: [0, 10]}, made_by: machining", 1))
	}, true, "Changed: made after pressing to machining eye; this counts as worsened, unless a person agrees"},
	{"a pressed cut under the name of a machined one that is gone", func(r *repository) {
		r.write("parts/bush.yaml", bush("mm", "25.4", "6", "port: {circle: {diameter: 5.08, at: [11.5, 0]}, made_by: machining}"))
	}, true, "Changed: the shape of what is made after pressing to machining port; this counts as worsened, unless a person agrees"},
	{"a machined cut in inches", func(r *repository) {
		r.write("parts/bush.yaml", bush("in", "1", "0.25", "pin: {circle: {diameter: 0.2, at: [0.25, 0]}}",
			"port: {circle: {diameter: 0.1, at: [-0.25, 0]}, made_by: machining}"))
	}, false, "0 new, 0 worsened"},
	{"a part that is none any more", func(r *repository) {
		r.write("parts/plate.yaml", strings.Replace(plate("plate", 2), "part:", "drawn:", 1))
	}, true, "Gone, which counts as worsened: the part plate"},
	{"a part taken out", func(r *repository) { r.must("git", "rm", "-q", "parts/deep/disc.yaml") }, true, "the part disc"},
	{"all parts taken out", func(r *repository) { r.must("git", "rm", "-q", "-r", "parts") }, true, "the part plate"},
	{"a pack beside the parts, so that its folder is passed over", func(r *repository) {
		r.write("parts/pack.yaml", "pack: mine\nversion: 1.0.0\ntitle: Mine\n")
	}, true, "Problems in parts/plate.yaml: was not reviewed, and is in the change: it lies in the folder of a rule pack"},
	{"a material that no pack has", func(r *repository) {
		r.write("parts/plate.yaml", strings.Replace(plate("plate", 2), "units: mm", "units: mm\nmaterial: {name: none-such}", 1))
	}, false, "Changed: material from none to none-such."},
	{"another density", func(r *repository) {
		r.write("parts/plate.yaml", strings.Replace(plate("plate", 2), "units: mm", "units: mm\nmaterial: {density: 6.8}", 1))
	}, false, "Changed: density from none to 6.8 g/cm3."},
	{"a part that cannot be read", func(r *repository) { r.write("parts/plate.yaml", "part: plate\nunits: cm\n") }, true, "Problems in parts/plate.yaml"},
}

// TestPullRequest: the documented check keeps back what brings a finding or hides one, and nothing else.
func TestPullRequest(t *testing.T) {
	r := newRepository(t)
	for i, c := range branchChanges {
		branch := "change-" + num(float64(i))
		r.must("git", "checkout", "-q", "-b", branch, "main")
		c.do(r)
		r.must("git", "add", "-A")
		r.must("git", "-c", "core.hooksPath=/dev/null", "commit", "-qm", "change")
		out, status := r.run("sh", "check-parts.sh", "main")
		if (status != 0) != c.fails || !strings.Contains(joinLines(out), c.says) {
			t.Errorf("%s: status %d, want to fail: %t, and %q\n%s", c.name, status, c.fails, c.says, out)
		}
		if b, err := os.ReadFile(filepath.Join(r.dir, "review.md")); err != nil || len(b) == 0 {
			t.Errorf("%s: no review.md: %v", c.name, err)
		}
		r.must("git", "clean", "-qfd")
		r.must("git", "checkout", "-q", "main")
	}
}

// TestCommitHook: the documented hook keeps back the same commits.
func TestCommitHook(t *testing.T) {
	r := newRepository(t)
	for _, c := range branchChanges {
		c.do(r)
		r.must("git", "add", "-A")
		out, status := r.run("git", "commit", "-qm", "change")
		if (status != 0) != c.fails || !strings.Contains(joinLines(out), c.says) {
			t.Errorf("%s: status %d, want to fail: %t, and %q\n%s", c.name, status, c.fails, c.says, out)
		}
		if status == 0 {
			r.must("git", "reset", "-q", "--hard", "HEAD~1")
		}
		r.must("git", "reset", "-q", "--hard")
	}
}

// joinLines joins lines that were broken.
func joinLines(s string) string { return strings.Join(strings.Fields(s), " ") }

func num(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }

// TestLotsScript: the lots of docs/pull-requests.md are one review, in content and status.
func TestLotsScript(t *testing.T) {
	r := newRepository(t)
	r.write("lots.sh", scripts(t)["lots.sh"])
	out, status := r.run("sh", "lots.sh")
	joined, err := os.ReadFile(filepath.Join(r.dir, "review.json"))
	if err != nil {
		t.Fatal(err, out)
	}
	one, want := r.run("sh", "-c", "corerod review parts --to json=-")
	if string(joined) != one || status != want || status != 1 {
		t.Errorf("status %d, want %d\n%s", status, want, out)
	}
}

// TestCommentScript: the revision before comes from version control, as docs/comparing.md has it.
func TestCommentScript(t *testing.T) {
	r := newRepository(t)
	r.write("parts/latch.yaml", plate("latch", 2))
	r.must("git", "add", ".")
	r.must("git", "-c", "core.hooksPath=/dev/null", "commit", "-qm", "latch")
	r.write("parts/latch.yaml", plate("latch", 0.9))
	r.write("comment.sh", scripts(t)["comment.sh"])
	out, status := r.run("sh", "comment.sh")
	page, err := os.ReadFile(filepath.Join(r.dir, "comment.md"))
	if err != nil || status != 1 || !strings.Contains(string(page), "1 gained") {
		t.Errorf("status %d, %v\n%s%s", status, err, page, out)
	}
}
