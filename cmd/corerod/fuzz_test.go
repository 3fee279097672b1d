package main

import (
	"bytes"
	"encoding/json"
	"io"
	"io/fs"
	"path"
	"strings"
	"testing"
	"testing/fstest"
	"unicode"
)

// held are files in memory; nothing can be written to them.
type held struct {
	System
	files fstest.MapFS
}

func (h held) Open(name string) (io.ReadCloser, error)    { return open(h.files, path.Clean(name)) }
func (h held) Root(folder string) (fs.FS, error)          { return fs.Sub(h.files, path.Clean(folder)) }
func (h held) MakeFolder(name string) error               { return fs.ErrPermission }
func (h held) Write(name string, content io.Reader) error { return fs.ErrPermission }
func (h held) IsFolder(name string) (bool, error) {
	i, err := fs.Stat(h.files, path.Clean(name))
	return err == nil && i.IsDir(), err
}

// worse orders grades.
var worse = map[string]int{"clear": 0, "ask": 1, "change": 2, "stop": 3}

// FuzzShopFolder: whatever a shop file and a pack beside it say, a review ends in status 0, 1 or 2, twice with the same words and
// none that acts on a terminal. What was judged is told: the shop file and its grade for status 1, nothing found by a rule that
// is left out, nothing worse than the grade that a rule was given.
func FuzzShopFolder(f *testing.F) {
	for _, shop := range []string{"", "packs: [hilltop]\n", "packs: [hilltop]\nstatus_at: ask\n",
		"packs: [./hilltop]\nstatus_at: stop\nconcessions: c.yaml\n", "packs: [press-and-sinter, hilltop]\n", "packs: [{pack: hilltop, sha256: ab}]\n", "status_at: ask\n", "packs: [hilltop/pack.yaml]\n", "packs: [a.yaml]\n"} {
		for _, pack := range []string{shopHead, shopHead + "limits: {wall_least: {value: 20, unit: mm, basis: shop, source: qp}}\n",
			shopHead + "grades: {wall-thickness: ask}\nlimits: {wall_least: {value: 20, unit: mm, basis: shop, source: qp}}\n",
			shopHead +
				"leave_out: {wall-thickness: we do not press it}\nlimits: {wall_least: {value: 20, unit: mm, basis: shop, source: qp}}\n", strings.Replace(shopHead, "press-and-sinter", "hilltop", 1), strings.Replace(shopHead, "press-and-sinter", "plain-bearings", 1) + "leave_out: {quantty: x}\ngrades: {\"\\e[31m\": stop}\n",
			shopHead +
				"rules:\n  own: {title: Q, stage: tool, over: part, basis: practice, need: [{grade: ask, that: part.height > 100}], says: q, because: q, change: q}\n"} {
			f.Add([]byte(shop), []byte(pack))
		}
	}
	_, part, _ := strings.Cut(disc, "-- disc.yaml --\n")
	f.Fuzz(func(t *testing.T, shop, pack []byte) {
		files := held{files: fstest.MapFS{"disc.yaml": {Data: []byte(part)}, "corerod.yaml": {Data: shop},
			"hilltop/pack.yaml": {Data: pack}}}
		review := func() (string, string, int) {
			var out, errs bytes.Buffer
			status := runIn([]string{"review", "disc.yaml", "--shop", "corerod.yaml", "--to", "json=-"},
				Streams{In: strings.NewReader(""), Out: &out, Err: &errs}, files)
			return out.String(), errs.String(), status
		}
		out, errs, status := review()
		if out2, errs2, status2 := review(); out != out2 || errs != errs2 || status != status2 {
			t.Fatalf("twice: status %d, %s%s, then %d, %s%s", status, out, errs, status2, out2, errs2)
		}
		if i := strings.IndexFunc(out+errs, func(r rune) bool { return r != '\n' && !unicode.IsPrint(r) }); i >= 0 {
			t.Fatalf("%q acts on a terminal", (out + errs)[i:])
		}
		if status == 2 {
			if errs == "" && !strings.Contains(out, `"message"`) {
				t.Fatal("refused without a word")
			}
			return
		}
		var j struct {
			Parts []struct {
				Findings []struct {
					Rule, Grade string
					Concession  any
				}
			}
			InForce struct {
				ShopFile *string                        `json:"shop_file"`
				StatusAt string                         `json:"status_at"`
				LeftOut  []struct{ Rule string }        `json:"left_out"`
				Regraded []struct{ Rule, Grade string } `json:"regraded"`
			} `json:"in_force"`
			Status int
		}
		if err := json.Unmarshal([]byte(out), &j); err != nil || len(j.Parts) != 1 || j.InForce.ShopFile == nil ||
			*j.InForce.ShopFile != "corerod.yaml" || j.Status != status {
			t.Fatalf("status %d, %v: %s%s", status, err, out, errs)
		}
		counts := 0
		for _, x := range j.Parts[0].Findings {
			if x.Concession == nil && worse[x.Grade] >= worse[j.InForce.StatusAt] {
				counts = 1
			}
			for _, l := range j.InForce.LeftOut {
				if l.Rule == x.Rule {
					t.Errorf("%s is left out, and found something", x.Rule)
				}
			}
			for _, g := range j.InForce.Regraded {
				if g.Rule == x.Rule && worse[x.Grade] > worse[g.Grade] {
					t.Errorf("%s found a %s, and can be a %s", x.Rule, x.Grade, g.Grade)
				}
			}
		}
		if status != counts {
			t.Errorf("status %d, and %d by the findings at %s", status, counts, j.InForce.StatusAt)
		}
	})
}
