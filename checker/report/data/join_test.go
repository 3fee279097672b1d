package data

import (
	"bytes"
	"context"
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"corerod/checker"
	"corerod/checker/report/reporttest"
	"corerod/rules"
)

// aLot is the JSON of a real review of one lot of two.
func aLot(t testing.TB, lot int, texts ...string) []byte {
	t.Helper()
	var files []checker.File
	for i, text := range texts {
		files = append(files, reporttest.File(string(rune('a'+i))+".yaml", text))
	}
	r := checker.Run(context.Background(), files, reporttest.Book(t), checker.Options{StatusAt: rules.Change, Workers: 1})
	r.Lot, r.Lots = lot, 2
	var out bytes.Buffer
	if err := writeJSON(&out, r); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// FuzzJoin: whatever two lots hold, also those of a real review that were cut and changed, they are joined or refused with a
// plain message, in either order the same. What is joined is read again, has the parts and problems of both, and the status
// that those give.
func FuzzJoin(f *testing.F) {
	const plate = "part: a\nunits: mm\nbodies: {a: {circle: {diameter: 30}, from: 0, to: 8}}\n"
	ring := plate + "cuts: {b: {circle: {diameter: 29}}}\n"
	one, found, none, bad := aLot(f, 1, plate), aLot(f, 1, ring), aLot(f, 1), aLot(f, 1, "part: A\n")
	second := aLot(f, 2, ring)
	with := func(b []byte, old, new string) []byte { return bytes.ReplaceAll(b, []byte(old), []byte(new)) }
	for _, first := range [][]byte{one, found, none, bad, one[:len(one)/2], with(found, `"grade": "`, `"grade": "x`),
		with(one, `"status": 0`, `"status": 7`), with(found, `"status": 1`, `"status": 0`),
		with(one, `"version": "0.1.0"`, `"version": "0.2.0"`), with(bad, `"status": 2`, `"status": 0`)} {
		f.Add(first, second)
	}
	f.Add(one, aLot(f, 2))
	f.Add(aLot(f, 1), aLot(f, 2))
	f.Fuzz(func(t *testing.T, a, b []byte) {
		out, status, err := Join([]Lot{{"a.json", a}, {"b.json", b}})
		out2, status2, err2 := Join([]Lot{{"b.json", b}, {"a.json", a}})
		if (err == nil) != (err2 == nil) || !bytes.Equal(out, out2) || status != status2 {
			t.Fatalf("%v and %v, status %d and %d", err, err2, status, status2)
		}
		if err != nil {
			if status != checker.Wrong || out != nil {
				t.Fatal(status, err)
			}
			reporttest.CheckQuiet(t, "the message", err.Error())
			return
		}
		j, err := decode(out)
		if err != nil || j.Status != int(status) || j.Lot != nil {
			t.Fatalf("%v: %s", err, out)
		}
		earlier, err := ReadEarlier("joined.json", out)
		if err != nil || len(earlier.Parts) != len(j.Parts) {
			t.Fatalf("%v: %s", err, out)
		}
		x, _ := decode(a)
		y, _ := decode(b)
		if len(j.Parts) != len(x.Parts)+len(y.Parts) || len(j.Unread) > len(x.Unread)+len(y.Unread) ||
			(len(j.Unread) == 0) != (len(x.Unread)+len(y.Unread) == 0) {
			t.Fatalf("%d and %d parts, %d and %d problems; joined %d and %d", len(x.Parts), len(y.Parts), len(x.Unread), len(y.Unread),
				len(j.Parts), len(j.Unread))
		}
		if !json.Valid(out) {
			t.Fatal(string(out))
		}
		switch statuses := []int{x.Status, y.Status}; {
		case slices.ContainsFunc(statuses, func(s int) bool { return s < 0 || s > int(checker.OurFault) }):
			t.Errorf("joined with statuses %v", statuses)
		case status != checker.OurFault && len(j.Unread) > 0 && status != checker.Wrong,
			status < checker.Wrong && len(j.Parts) == 0, status == checker.Nothing && len(j.Parts) > 0:
			t.Errorf("status %d of %v, with %d parts and %d problems", status, statuses, len(j.Parts), len(j.Unread))
		case status != checker.Nothing && !slices.Contains(statuses, int(status)):
			t.Errorf("status %d of %v", status, statuses)
		}
	})
}

// TestJoinRefused: lots that cannot be what a review wrote, or that no one review could have written, are refused in words.
func TestJoinRefused(t *testing.T) {
	const plate = "part: a\nunits: mm\nbodies: {a: {circle: {diameter: 30}, from: 0, to: 8}}\n"
	one, found := string(aLot(t, 1, plate)), string(aLot(t, 1, plate+"cuts: {b: {circle: {diameter: 29}}}\n"))
	second := aLot(t, 2, plate)
	if _, status, err := Join([]Lot{{"a.json", []byte(found)}, {"b.json", second}}); err != nil || status != checker.Found {
		t.Fatal(status, err)
	}
	for _, c := range []struct{ text, old, new, says string }{
		{one, `"status": 0`, `"status": 7`, "it has status 7, and 0 follows"},
		{found, `"status": 1`, `"status": 0`, "it has status 0, and 1 follows"},
		{one, `"status": 0`, `"status": 3`, "it has status 3, and 0 follows"},
		{found, `"grade": "`, `"grade": "x`, "which is none"},
		{one, `"grade": "clear"`, `"grade": "fine"`, "it has the grade `fine`, which is none"},
		{one, `"version": "` + Version, `"version": "9.` + Version, "lot 2 was reviewed by another version of corerod than lot 1"},
		{one, `"earlier": null`, `"earlier": {"from": "x", "packs_differ": false, "gone": []}`, "it was compared with an earlier review"},
	} {
		text := strings.ReplaceAll(c.text, c.old, c.new)
		if out, status, err := Join([]Lot{{"a.json", []byte(text)}, {"b.json", second}}); text == c.text || err == nil ||
			status != checker.Wrong || out != nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: status %d, %v, want %s", c.new, status, err, c.says)
		}
	}
}
