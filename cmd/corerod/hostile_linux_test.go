package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"testing"
	"time"
	"unicode"
)

// hostile is one input that could do harm, and the status with which it must end.
type hostile struct {
	name   string
	text   string
	status int
	args   []string // of the command; review of the file where there are none
	file   string   // name of the file, part.yaml where it is ""
}

// sound is a part with a place for something else: X in a comment, N a number, T a text, and A for keys at the end.
const sound = "part: plate # X\ntitle: T\nunits: mm\nbodies: {plate: {rectangle: {length: 40, width: 30, corner: 3}, from: 0, to: N}}\nA"

func partWith(x, n, t, a string) string {
	return strings.NewReplacer("X", x, "N", n, "T", t, "A", a).Replace(sound)
}

// hostileSet is every hostile input: what YAML allows and a reader could misread, sizes, numbers, characters, packs, shop
// files, concessions, earlier reviews.
func hostileSet() (all []hostile) {
	add := func(name, text string, status int, more ...string) {
		h := hostile{name: name, text: text, status: status}
		if len(more) > 0 {
			h.file, h.args = more[0], more[1:]
		}
		all = append(all, h)
	}
	for _, n := range []string{"1e400", "-1e400", "0o17", "017", "0x1F", "0b11", "1_000", "1,5", ".inf", "-.inf", ".nan", "NaN", "Infinity",
		"1e-400", "12345678901234567890123456789012345", "0.000000000000000000000000000001", "2026-11-25",
		"12:30:45", "1.2.3", "--1", "+-1", "1e", "e1", ".", "-", "+", "~", "null", "true", "'6'", "\"6\"", "[6]", "{a: 6}", "6 mm", "6mm", "٦", "６", "1e308", "999999999", "-6", "0", "1e-7", "!!float 6", "&a 6", "*a", "|\n  6", ">\n  6", "6 # x", "% 6", "@6", "`6`"} {
		status := 2
		if n == "6 # x" {
			status = 2 // the comment takes the closing braces
		}
		add("number "+n, partWith("", n, "t", ""), status)
	}
	for _, c := range []rune{0, 1, 7, 8, 0x1b, 0x7f, 0x80, 0x85, 0x9b, 0x200e, 0x200f, 0x202a, 0x202e, 0x2066, 0x2069, 0x2028,
		0x2029, 0xfeff, 0x61c} {
		add(fmt.Sprintf("%U in a comment", c), partWith("note "+string(c)+"part: other", "6", "t", ""), 2)
		add(fmt.Sprintf("%U in a text", c), partWith("", "6", "\"a"+string(c)+"b\"", ""), 2)
	}
	for _, esc := range []string{`\e[31m`, `\x1b]8;;x\x07`, `\u202e`, `\0`, `\a\b`, `\N`, `\L\P`, `\U0001F600`, `\r\r\r`, `\t`} {
		add("escape "+esc+" in a text", partWith("", "6", "\""+esc+"\"", ""), 0)
		add("escape "+esc+" as a name", strings.Replace(partWith("", "6", "t", ""), "part: plate", "part: \""+esc+"\"", 1), 2)
		add("escape "+esc+" as a key", partWith("", "6", "t", "\""+esc+"\": 1\n"), 2)
	}
	bomb := "a: &a [x, x, x, x, x, x, x, x, x]\n"
	for i := 'b'; i < 'k'; i++ {
		bomb += fmt.Sprintf("%c: &%c [*%c, *%c, *%c, *%c, *%c, *%c, *%c, *%c]\n", i, i, i-1, i-1, i-1, i-1, i-1, i-1, i-1, i-1)
	}
	add("alias bomb", bomb+partWith("", "6", "t", ""), 2)
	add("a cycle", "a: &a [*a]\n"+partWith("", "6", "t", ""), 2)
	add("merge key", partWith("", "6", "t", "<<: {part: b}\n"), 2)
	add("a key twice", partWith("", "6", "t", "units: in\n"), 2)
	add("two documents", partWith("", "6", "t", "---\npart: b\n"), 2)
	add("a tag", partWith("", "6", "!!binary dA==", ""), 2)
	add("a local tag", partWith("", "6", "!x t", ""), 2)
	add("directive", "%YAML 1.2\n---\n"+partWith("", "6", "t", ""), 2)
	add("byte order mark", "\ufeff"+partWith("", "6", "t", ""), 0)
	add("UTF-16", "\xff\xfep\x00a\x00r\x00t\x00", 2)
	add("bad UTF-8", partWith("\xff\xfe\xc3", "6", "t", ""), 2)
	add("overlong UTF-8", partWith("", "6", "\xc0\xaf", ""), 2)
	add("deep lists", partWith("", "6", "t", "hold: "+strings.Repeat("[", 5000)+strings.Repeat("]", 5000)+"\n"), 2)
	add("deep maps", partWith("", "6", "t", "cuts: "+strings.Repeat("{a: ", 5000)+"1"+strings.Repeat("}", 5000)+"\n"), 2)
	add("deep lines", deepLines(400), 2)
	add("many keys", partWith("", "6", "t", "cuts:\n"+manyKeys(60_000)), 2)
	add("a million keys", partWith("", "6", "t", "cuts:\n"+manyKeys(1_000_000)), 2)
	add("many items", partWith("", "6", "t", "hold: ["+strings.Repeat("a, ", 200_000)+"a]\n"), 2)
	add("a long name", strings.Replace(partWith("", "6", "t", ""), "part: plate", "part: "+strings.Repeat("a", 65536), 1), 2)
	add("a long text", partWith("", "6", strings.Repeat("t", 65536), ""), 0)
	add("a long key", partWith("", "6", "t", strings.Repeat("k", 65536)+": 1\n"), 2)
	add("a long number", partWith("", strings.Repeat("9", 65536), "t", ""), 2)
	add("a long comment", partWith(strings.Repeat("c", 900_000), "6", "t", ""), 0)
	add("50 MB", strings.Repeat("# x\n", 13_000_000), 2)
	add("empty", "", 2)
	add("blanks", strings.Repeat(" \n", 100_000), 2)
	add("tabs", "part:\tplate\n\tunits: mm\n", 2)
	add("unclosed", "part: plate\nbodies: {a: {circle: {diameter: 1", 2)
	add("many vertices", "part: a\nunits: mm\nbodies:\n  a: {from: 0, to: 6, polygon: {points: ["+
		strings.Repeat("[1, 1], ", 15_000)+"[0, 0]]}}\n", 2)
	add("many copies", partWith("", "6", "t", "cuts: {a: {circle: {diameter: 1}, repeat: {count: 1e9}}}\n"), 2)
	add("copies past the vertices", partWith("", "6", "t", "cuts: {a: {circle: {diameter: 1}, repeat: {count: 9999}}}\n"), 2)
	add("a huge gear", "part: a\nunits: mm\nbodies: {a: {gear: {module: 1, teeth: 100000}, from: 0, to: 6}}\n", 2)
	add("600 circles over each other", manyCircles(600), 2)
	add("a part half a metre across", strings.Replace(partWith("", "6", "t", ""), "length: 40", "length: 501", 1), 2)
	for name, pack := range map[string]string{
		"no pack": "x: 1\n", "a pattern": packWith("hole.width.matches('(a+)+$')"), "a long expression": packWith(strings.Repeat("hole.width > 1 && ", 3000) + "true"), "deep expression": packWith(strings.Repeat("(", 900) + "true" + strings.Repeat(")", 900)),
		"nested loops": packWith("part.holes.all(a, part.holes.all(b, part.holes.all(c, part.holes.all(d, a.width > b.width))))"), "an unknown function": packWith("system('x')"),
		"division": packWith("hole.width / 0.0 > 1"), "a list": packWith("[1, 2, 3][9] > 1"), "builds on itself": "pack: p\nversion: 1.0.0\ntitle: P\nbuilds_on: [p.yaml]\n", "leads out": "pack: p\nversion: 1.0.0\ntitle: P\nbuilds_on: [../../../etc/passwd]\n",
		"a huge pack": "pack: p\nversion: 1.0.0\ntitle: P\nlimits:\n" + manyLimits(50_000),
	} {
		add("pack: "+name, pack, 2, "p.yaml", "review", "part.yaml", "--pack", "p.yaml")
	}
	add("pack: an escape in a text", packWith(`hole.name == "\x1b[31m"`), 0, "p.yaml", "review", "part.yaml", "--pack", "p.yaml")
	for name, shop := range map[string]string{"no map": "x\n", "out": "packs: [../x]\n", "absolute": "packs: [/etc]\n",
		"unknown": "packs: [nothing]\n", "concessions out": "concessions: ../x.yaml\n", "concessions are a folder": "concessions: dir\n", "an anchor": "packs: &a []\n", "huge": "packs: [" + strings.Repeat("a, ", 100_000) + "]\n"} {
		add("shop file: "+name, shop, 2, "corerod.yaml", "review", "part.yaml")
	}
	for name, text := range map[string]string{"deep": strings.Repeat("[", 1_000_000), "objects": strings.Repeat(`{"parts":`, 100_000),
		"a bomb of numbers": `{"corerod":{"version":"1","format":1},"parts":[` + strings.Repeat("1,", 500_000) + "1]}", "nothing": "", "null": "null", "another": `{"a": 1}`} {
		add("earlier review: "+name, text, map[bool]int{true: 2, false: 2}[true], "earlier.json", "review", "part.yaml",
			"--earlier", "earlier.json")
	}
	for name, text := range map[string]string{"deep": strings.Repeat("[", 100_000), "null": "null", "cut": `{"corerod":`} {
		add("lot: "+name, text, 2, "lot.json", "join", "lot.json")
	}
	return all
}

func deepLines(n int) string {
	var b strings.Builder
	for i := range n {
		b.WriteString(strings.Repeat(" ", i) + "a:\n")
	}
	return b.String()
}

func manyKeys(n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, "  k%d: 1\n", i)
	}
	return b.String()
}

func manyLimits(n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, "  l%d: {value: 1, basis: memory}\n", i)
	}
	return b.String()
}

func manyCircles(n int) string {
	var b strings.Builder
	b.WriteString("part: a\nunits: mm\nbodies: {a: {circle: {diameter: 100}, from: 0, to: 6}}\ncuts:\n")
	for i := range n {
		fmt.Fprintf(&b, "  c%d: {circle: {diameter: %g, at: [%g, %g]}, repeat: {count: 8}}\n", i, 20+float64(i)/100,
			float64(i%7)/10, float64(i%11)/10)
	}
	return b.String()
}

func packWith(that string) string {
	return "pack: p\nversion: 1.0.0\ntitle: P\nrules:\n  r: {title: R, stage: tool, over: hole, basis: memory, need: [{grade: ask, that: '" + strings.ReplaceAll(that, "'", "''") + "'}], says: x, because: x, change: x}\n"
}

// TestHostileFiles: every hostile input ends in a process of its own with its status, without a control character on what it
// prints, in bounded time and memory. .ci/long, with COREROD_LONG set, holds the times and the memory and records them.
func TestHostileFiles(t *testing.T) {
	if testing.Short() || runtime.GOOS != "linux" {
		t.Skip("starts many processes")
	}
	bin := built(t)
	set := hostileSet()
	if len(set) < 120 {
		t.Errorf("%d hostile inputs", len(set))
	}
	slowest, largest := time.Duration(0), int64(0)
	for _, h := range set {
		dir := t.TempDir()
		file, args := h.file, h.args
		if file == "" {
			file, args = "part.yaml", []string{"review", "part.yaml", "--no-shop"}
		} else if err := os.WriteFile(filepath.Join(dir, "part.yaml"),
			[]byte(partWith("", "6", "t", "cuts: {a: {circle: {diameter: 5}}}\n")), 0o644); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, file), []byte(h.text), 0o644); err != nil {
			t.Fatal(err)
		}
		if err := os.Mkdir(filepath.Join(dir, "dir"), 0o755); err != nil {
			t.Fatal(err)
		}
		out, status, took, memory := child(t, bin, dir, args)
		if status != h.status {
			t.Errorf("%s: status %d, want %d\n%.300s", h.name, status, h.status, out)
		}
		if status == 2 && len(out) == 0 {
			t.Errorf("%s: nothing is said", h.name)
		}
		if i := bytes.IndexFunc(out, func(r rune) bool {
			return r != '\n' && (unicode.IsControl(r) || unicode.Is(unicode.Cf, r))
		}); i >= 0 {
			t.Errorf("%s: a control character is printed: %q", h.name, out[max(0, i-20):min(len(out), i+20)])
		}
		slowest, largest = max(slowest, took), max(largest, memory)
		if took > time.Second || memory > 150<<20 {
			t.Logf("%s: %v, %d MB", h.name, took.Round(time.Millisecond), memory>>20)
		}
		if os.Getenv("COREROD_LONG") != "" && (took > 2*time.Second || memory > 256<<20) {
			t.Errorf("%s: %v, %d MB", h.name, took, memory>>20)
		}
	}
	t.Logf("%d hostile inputs: slowest %v, largest %d MB", len(set), slowest.Round(time.Millisecond), largest>>20)
}

// child runs a command in a folder and gives what it prints, its status, its time and the memory it took.
func child(t *testing.T, bin, dir string, args []string) (out []byte, status int, took time.Duration, memory int64) {
	t.Helper()
	c := exec.Command(bin, args...)
	c.Dir = dir
	start := time.Now()
	out, err := c.CombinedOutput()
	took = time.Since(start)
	if _, ok := err.(*exec.ExitError); err != nil && !ok {
		t.Fatal(err)
	}
	if u, ok := c.ProcessState.SysUsage().(*syscall.Rusage); ok {
		memory = int64(u.Maxrss) << 10
	}
	return out, c.ProcessState.ExitCode(), took, memory
}

// TestHostilePlaces: what is no plain file is refused or passed over, and no link leads out of a folder or round in it.
func TestHostilePlaces(t *testing.T) {
	if runtime.GOOS != "linux" {
		t.Skip("links, pipes and devices as Linux has them")
	}
	t.Chdir(t.TempDir())
	must := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	must(os.MkdirAll("in/deep", 0o755))
	must(os.WriteFile("in/part.yaml", []byte(partWith("", "6", "t", "")), 0o644))
	must(os.WriteFile("out.yaml", []byte(partWith("", "6", "t", "")), 0o644))
	must(os.Symlink("..", "in/deep/loop"))
	must(os.Symlink("loop.yaml", "in/loop.yaml"))
	must(os.Symlink("../out.yaml", "in/away.yaml"))
	must(os.Symlink("/dev/zero", "in/zero.yaml"))
	must(syscall.Mkfifo("in/pipe.yaml", 0o644))
	out, errs, status := run([]string{"review", "in"}, "")
	if status != "0" || strings.Count(out, "across") != 1 {
		t.Errorf("status %s\n%s%s", status, out, errs)
	}
	for _, name := range []string{"in/pipe.yaml", "/dev/zero", "/dev/stdin", "in/loop.yaml", "in/zero.yaml", "none.yaml"} {
		if out, errs, status := run([]string{"review", name}, ""); status != "2" || !strings.Contains(out+errs, "cannot be read") {
			t.Errorf("%s: status %s\n%s%s", name, status, out, errs)
		}
	}
}

// TestRealFaults: the command itself on a full device, behind a reader that has gone, and without a place for temporary files.
func TestRealFaults(t *testing.T) {
	if testing.Short() {
		t.Skip("builds the command")
	}
	bin := built(t)
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "part.yaml"), []byte(partWith("", "6", "t", "")), 0o644); err != nil {
		t.Fatal(err)
	}
	device, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
	if err != nil {
		t.Skip(err)
	}
	defer device.Close()
	read, write, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	read.Close()
	defer write.Close()
	for name, out := range map[string]*os.File{"no space left on device": device, "broken pipe": write} {
		for _, args := range [][]string{{"review", "part.yaml"}, {"review", "part.yaml", "--to", "json=-"}, {"--version"},
			{"schema", "part"}} {
			var errs bytes.Buffer
			c := exec.Command(bin, args...)
			c.Dir, c.Stdout, c.Stderr = dir, out, &errs
			err := c.Run()
			if want := "corerod: standard output cannot be written: " + name + "\n"; c.ProcessState.ExitCode() != 2 ||
				errs.String() != want {
				t.Errorf("%v: status %d, %v\n%s", args, c.ProcessState.ExitCode(), err, errs.String())
			}
		}
	}
}
