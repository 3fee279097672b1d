package report

import (
	"bytes"
	"regexp"
	"strings"
	"testing"

	"corerod/checker/report/reporttest"
)

// TestColour: the words of grades in heads and counts are painted, nothing else differs, and lines break alike.
func TestColour(t *testing.T) {
	r := reporttest.Mill(t)
	var plain, colour bytes.Buffer
	if Text(&plain, r) != nil || whole(NewText(&colour, true), r) != nil {
		t.Fatal("not written")
	}
	codes := regexp.MustCompile("\x1b\\[[0-9;]*m")
	if got := codes.ReplaceAllString(colour.String(), ""); got != plain.String() {
		t.Errorf("without its codes the text differs:\n%s", got)
	}
	if strings.Contains(plain.String(), "\x1b") {
		t.Error("plain text has codes")
	}
	painted := map[string]int{}
	for _, m := range regexp.MustCompile("\x1b\\[1;3(\\d)m(\\w+)\x1b\\[0m").FindAllStringSubmatch(colour.String(), -1) {
		painted[m[2]+m[1]]++
	}
	findings := map[string]int{}
	for _, p := range r.Parts {
		for _, f := range p.Findings {
			findings[string(f.Grade)]++
		}
	}
	// Each finding, each part's count of a grade, and the tally: the mill has 2 parts with a stop, 1 with changes and an ask.
	want := map[string]int{"stop1": findings["stop"] + 2 + 1, "change3": findings["change"] + 1 + 1, "ask6": findings["ask"] + 1,
		"clear2": 4 + 1}
	for word, n := range want {
		if painted[word] != n {
			t.Errorf("%s is painted %d times, want %d", word, painted[word], n)
		}
	}
	if n := len(codes.FindAllString(colour.String(), -1)); n != 2*(painted["stop1"]+painted["change3"]+painted["ask6"]+painted["clear2"]) {
		t.Errorf("%d codes, %v", n, painted)
	}
}
