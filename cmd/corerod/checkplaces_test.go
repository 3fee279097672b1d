package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// in runs a command in a folder of the repository.
func (r *repository) in(dir, name string, args ...string) (string, int) {
	other := *r
	other.dir = dir
	return other.run(name, args...)
}

// TestCheckPlaces: the check ends with the right status and leaves a report at the top of the work tree, wherever it is called and
// wherever the shop file, the packs and the script are; what is missing ends it with status 2.
func TestCheckPlaces(t *testing.T) {
	r := newRepository(t)
	r.workIn()
	all := scripts(t)
	r.write("tools/check it.sh", all["check-parts.sh"])
	r.write("run-check.sh", all["run-check.sh"])
	r.must("mkdir", "-p", "parts/shop")
	r.must("git", "mv", "corerod.yaml", "parts/corerod.yaml")
	r.must("git", "mv", "shop/pack.yaml", "parts/shop/pack.yaml")
	r.must("git", "mv", "concessions.yaml", "parts/concessions.yaml")
	r.commit("shop file beside the parts")
	r.must("git", "checkout", "-q", "-b", "worse")
	r.write("parts/plate.yaml", plate("plate", 0.9))
	r.commit("worse")
	r.must("git", "checkout", "-q", "-b", "sound", "main")
	r.write("parts/plate.yaml", plate("plate", 2.1))
	r.commit("sound")
	worktree := filepath.Join(t.TempDir(), "a tree")
	r.must("git", "worktree", "add", "-q", worktree, "worse")
	shallow := filepath.Join(t.TempDir(), "shallow")
	r.must("git", "clone", "-q", "--depth", "1", "--branch", "worse", "file://"+r.dir, shallow)
	if out, status := r.in(shallow, "git", "fetch", "-q", "--depth", "1", "origin", "main:main"); status != 0 {
		t.Fatal(out)
	}
	top := r.dir
	for _, c := range []struct {
		name, dir, top string
		args           []string
		status         int
		page           string
	}{
		{"at the top", top, top, []string{"check-parts.sh", "main"}, 0, "0 new, 0 worsened"},
		{"in a folder", filepath.Join(top, "parts/deep"), top, []string{"../../tools/check it.sh", "main"}, 0, "0 new"},
		{"a worktree", worktree, worktree, []string{"tools/check it.sh", "main"}, 1, "change, new"},
		{"a folder of a worktree", filepath.Join(worktree, "parts"), worktree, []string{"../tools/check it.sh", "main"}, 1, "change, new"},
		{"a clone without history", shallow, shallow, []string{"check-parts.sh", "main"}, 2, "the history does not reach back"},
		{"no branch", top, top, []string{"check-parts.sh"}, 2, "name the branch"},
		{"an empty branch", top, top, []string{"check-parts.sh", ""}, 2, "name the branch"},
		{"an unknown branch", top, top, []string{"check-parts.sh", "none"}, 2, "there is no such branch here"},
		{"the script of the branch", top, top, []string{"run-check.sh", "main"}, 0, "0 new"},
		{"the script elsewhere in the branch", worktree, worktree, []string{"run-check.sh", "main", "tools/check it.sh"}, 1, "change, new"},
		{"no script in the branch", top, top, []string{"run-check.sh", "main", "none.sh"}, 2, ""},
		{"the script of an unknown branch", top, top, []string{"run-check.sh", "none"}, 2, ""},
	} {
		page := filepath.Join(c.top, "review.md")
		_ = os.Remove(page)
		out, status := r.in(c.dir, "sh", c.args...)
		text, _ := os.ReadFile(page)
		if status != c.status || !strings.Contains(string(text), c.page) {
			t.Errorf("%s: status %d, want %d and %q\n%s\n%s", c.name, status, c.status, c.page, out, text)
		}
	}
	if out, status := r.in(t.TempDir(), "sh", filepath.Join(top, "check-parts.sh"), "main"); status != 2 {
		t.Errorf("outside a repository: status %d\n%s", status, out)
	}
	if out, _ := r.run("git", "worktree", "list"); strings.Count(out, "\n") != 2 {
		t.Errorf("worktrees are left\n%s", out)
	}
	empty, _ := os.ReadDir(filepath.Join(filepath.Dir(r.env[len(r.env)-1][len("TMPDIR="):]), "worked-here"))
	if len(empty) > 0 {
		t.Errorf("temporary folders are left: %v", empty)
	}
}

// TestCheckWithoutCorerod: where corerod ends without a report there is one that says so.
func TestCheckWithoutCorerod(t *testing.T) {
	r := newRepository(t)
	path, _ := exec.LookPath("git")
	r.env = append(r.env, "PATH="+filepath.Dir(path)+string(os.PathListSeparator)+"/bin")
	out, status := r.run("sh", "check-parts.sh", "main")
	page, _ := os.ReadFile(filepath.Join(r.dir, "review.md"))
	if status != 2 || !strings.Contains(string(page), "corerod wrote no report and ended with status 127") {
		t.Errorf("status %d\n%s\n%s", status, out, page)
	}
}

// TestHookReadsIndex: the hook judges the bytes that are staged, whatever attributes, filters and settings would make of them, and
// what it cannot read keeps the commit back.
func TestHookReadsIndex(t *testing.T) {
	worse := files("parts/plate.yaml", plate("plate", 0.9))
	hide := func(r *repository) {
		r.must("git", "config", "filter.hide.smudge", "sed s/11.1/10/")
		r.must("git", "config", "filter.hide.clean", "cat")
	}
	for _, c := range []struct {
		name  string
		do    func(*repository)
		args  []string
		fails bool
		says  string
	}{
		{"left out of archives", then(worse, files(".gitattributes", "parts/plate.yaml export-ignore\nparts export-ignore\n")), nil, true, "change, new: wall thickness"},
		{"filtered", then(hide, worse, files(".gitattributes", "*.yaml filter=hide\n")), nil, true, "change, new: wall thickness"},
		{"filtered before", then(hide, files(".gitattributes", "*.yaml filter=hide\n"), func(r *repository) { r.commit("attributes") }, worse), nil, true, "change, new: wall thickness"},
		{"staged for another encoding", then(worse, func(r *repository) { r.must("git", "add", "-A") }, files(".gitattributes", "*.yaml working-tree-encoding=UTF-16LE\n"), func(r *repository) { r.must("git", "add", ".gitattributes") }), nil, true, "change, new: wall thickness"},
		{"with other line ends", then(func(r *repository) { r.must("git", "config", "core.autocrlf", "true") }, files("notes.txt", "a\n", "parts/plate.yaml", plate("plate", 2.1))), nil, false, "0 new, 0 worsened"},
		{"staged, and better in the folder", then(worse, func(r *repository) { r.must("git", "add", "-A"); r.write("parts/plate.yaml", plate("plate", 2)) }), nil, true, "change, new: wall thickness"},
		{"better staged than in the folder", then(files("parts/plate.yaml", plate("plate", 2.1)), func(r *repository) { r.must("git", "add", "-A"); worse(r) }), nil, false, "0 new, 0 worsened"},
		{"of one file", worse, []string{"parts/plate.yaml"}, true, "change, new: wall thickness"},
		{"not checked out", func(r *repository) {
			r.must("git", "update-index", "--skip-worktree", "parts/old.yaml")
			r.must("rm", "parts/old.yaml")
			r.write("parts/plate.yaml", plate("plate", 2.1))
		}, nil, false, "1 unchanged"},
		{"left unmerged", func(r *repository) {
			r.must("git", "checkout", "-q", "-b", "other")
			r.write("parts/plate.yaml", plate("plate", 3))
			r.commit("other")
			r.must("git", "checkout", "-q", "main")
			r.write("parts/plate.yaml", plate("plate", 4))
			r.commit("ours")
			r.run("git", "merge", "other")
		}, nil, true, ""},
		{"in a name with blanks", files("parts/a \"b\" ü.yaml", plate("odd", 0.9)), nil, true, "change, new: wall thickness"},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := newRepository(t)
			work := r.workIn()
			c.do(r)
			if len(c.args) == 0 && !strings.Contains(c.name, "staged") && c.name != "left unmerged" {
				r.must("git", "add", "-A")
			}
			out, status := r.run("git", append([]string{"commit", "-qm", "change"}, c.args...)...)
			if (status != 0) != c.fails || !strings.Contains(joinLines(out), c.says) || strings.Contains(out, work) {
				t.Errorf("status %d, want to fail: %t, and %q\n%s", status, c.fails, c.says, out)
			}
		})
	}
}

// TestFirstCommitHook: the hook reviews a first commit by its own rules.
func TestFirstCommitHook(t *testing.T) {
	for wall, fails := range map[float64]bool{0.9: true, 2: false} {
		r := newRepository(t)
		r.must("git", "update-ref", "-d", "HEAD")
		r.must("git", "rm", "-q", "--cached", "-r", "parts")
		r.must("rm", "-r", "parts")
		r.write("parts/plate.yaml", plate("plate", wall))
		r.must("git", "add", "-A")
		if out, status := r.run("git", "commit", "-qm", "first"); (status != 0) != fails {
			t.Errorf("wall %g: status %d\n%s", wall, status, out)
		}
	}
}
