package report

import (
	"fmt"
	"strings"

	"corerod/checker"
	"corerod/checker/report/words"
	"corerod/parts/source"
)

// since tells what became of a part since an earlier review.
func (t *textWriter) since(p *checker.PartReview) {
	if from := p.Moved(); from != "" {
		t.line("  Moved: it was %s.", source.Plain(from))
	}
	for _, x := range p.Renamed {
		t.line("  Renamed: %s was %s.", source.Plain(x.To), source.Plain(x.From))
	}
	for i := range p.Restated {
		t.line("  %s", source.Plain(words.Restated(&p.Restated[i])))
	}
	for i, x := range p.Cleared {
		if i == 0 {
			t.line("")
		}
		t.line("  Cleared: %s, %s, %s.", source.Plain(string(x.Grade)), words.Rule(source.Plain(x.Rule)), source.Plain(x.Name))
	}
}

// renewed are the records of a part that a change with new names needs once it is merged.
func renewed(p *checker.PartReview) (all []*checker.Conceded) {
	for _, k := range p.Concessions {
		if k.Next != nil {
			all = append(all, k)
		}
	}
	return all
}

// renewedHead leads to such records.
const renewedHead = "Concessions under new names. This change needs these records instead of the old ones, unless it has them already:"

// renewed prints the records that a change needs once it is merged.
func (t *textWriter) renewed(p *checker.PartReview) {
	for i, k := range renewed(p) {
		if i == 0 {
			t.line("")
			t.line("  %s", renewedHead)
		}
		t.line("    in place of line %d:", k.Line)
		for _, l := range k.Next.Lines() {
			t.line("    %s", source.Plain(l))
		}
	}
}

// renewed is the same on a page: lines set in, which are shown as they are.
func (p *reviewPage) renewed() string {
	var b strings.Builder
	for _, x := range p.r.Parts {
		for _, k := range renewed(x) {
			text := fmt.Sprintf("\n%s, in place of line %d:\n\n", p.text(x.Part.Name), k.Line)
			for _, l := range k.Next.Lines() {
				text += "    " + source.Plain(l) + "\n"
			}
			if b.Len()+len(text) > mostSince {
				return "\n" + p.text(renewedHead) + "\n" + b.String() + "\nThe text has more of them.\n"
			}
			b.WriteString(text)
		}
	}
	if b.Len() == 0 {
		return ""
	}
	return "\n" + p.text(renewedHead) + "\n" + b.String()
}

// against tells what a review was compared with, what was added and what is gone.
func (t *textWriter) against(r *checker.Review) {
	a := r.Against
	if a == nil {
		return
	}
	count := map[checker.Since]int{}
	cleared := 0
	for _, p := range r.Parts {
		cleared += len(p.Cleared)
		for _, f := range p.Findings {
			count[f.Since]++
		}
	}
	t.line("")
	t.line("Since %s: %d new, %d worsened, %d unchanged, %d cleared; new and worsened findings count.", source.Plain(a.From), count[checker.SinceNew], count[checker.SinceWorse], count[checker.SinceSame], cleared)
	switch {
	case a.Parts == 0:
		t.line("There was no part before: every part is new. A folder to compare with must hold the same tree.")
	case a.Paired == 0:
		t.line("Not one earlier part was found again. Check that the earlier review is of the same tree.")
	}
	for i := range a.Gone {
		t.line("%s", words.Gone(&a.Gone[i]))
	}
	for _, p := range r.Parts {
		if p.Added {
			t.line("Added: the part %s of %s, %s.", source.Plain(named(p)), source.Plain(p.File), words.Grade(p.Grade))
		}
	}
	if a.PacksDiffer {
		t.line("Other packs, or other versions of them, were in force then. Compare the digests.")
	}
}
