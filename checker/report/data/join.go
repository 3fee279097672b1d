package data

import (
	"bytes"
	"errors"
	"fmt"
	"reflect"
	"slices"

	"corerod/checker"
	"corerod/parts/source"
	"corerod/rules"
)

// Lot is the JSON of a review of one lot, with the name of its file.
type Lot struct {
	Name string
	JSON []byte
}

// Join joins the JSON of all lots of a review to that of one review of all files, byte for byte.
func Join(lots []Lot) ([]byte, checker.Status, error) {
	all := make([]*jsonReview, len(lots))
	for _, l := range lots {
		j, err := decode(l.JSON)
		if err == nil {
			err = placeLot(all, j)
		}
		if err == nil && j.Status != int(checker.OurFault) && j.Status != int(lotStatus(j)) {
			err = fmt.Errorf("it has status %d, and %d follows from its parts and problems", j.Status, lotStatus(j))
		}
		if err != nil {
			return nil, checker.Wrong, fmt.Errorf("%s: %w", source.Plain(l.Name), err)
		}
	}
	out := *all[0]
	out.Lot, out.Parts, out.Unread, out.Faults = nil, []jsonPart{}, []jsonUnread{}, nil
	var ps source.Problems
	for i, j := range all {
		if !reflect.DeepEqual(j.InForce, all[0].InForce) {
			return nil, checker.Wrong, fmt.Errorf("lot %d was reviewed by other packs, concessions or grades than lot 1", i+1)
		}
		if !slices.Equal(j.Passed, all[0].Passed) {
			return nil, checker.Wrong, fmt.Errorf("lot %d passed over other files than lot 1: the lots are not of one tree", i+1)
		}
		if j.Corerod != all[0].Corerod {
			return nil, checker.Wrong, fmt.Errorf("lot %d was reviewed by another version of corerod than lot 1", i+1)
		}
		out.Parts = append(out.Parts, j.Parts...)
		out.Faults = append(out.Faults, j.Faults...)
		for _, u := range j.Unread {
			ps = append(ps, source.Problem{File: u.File, Line: u.Line, Column: u.Column, Message: u.Message})
		}
	}
	for _, p := range lotProblems(ps) {
		out.Unread = append(out.Unread, jsonUnread{p.File, p.Line, p.Column, p.Message})
	}
	out.Status = int(joinedStatus(all, len(out.Parts)))
	var b bytes.Buffer
	err := indented(&b, out)
	return b.Bytes(), checker.Status(out.Status), err
}

// placeLot puts a lot where it belongs.
func placeLot(all []*jsonReview, j *jsonReview) error {
	switch {
	case j.Lot == nil:
		return errors.New("it is no lot: it was reviewed without --lot")
	case j.Earlier != nil:
		return errors.New("it was compared with an earlier review")
	case j.Lot.Lots != len(all):
		return fmt.Errorf("it is lot %d of %d, and %d files are given", j.Lot.Lot, j.Lot.Lots, len(all))
	case j.Lot.Lot < 1 || j.Lot.Lot > len(all):
		return fmt.Errorf("it is lot %d of %d", j.Lot.Lot, j.Lot.Lots)
	case all[j.Lot.Lot-1] != nil:
		return fmt.Errorf("lot %d is given twice", j.Lot.Lot)
	}
	all[j.Lot.Lot-1] = j
	return nil
}

// lotStatus is what a lot's parts and problems come to, but for faults of corerod itself.
func lotStatus(j *jsonReview) checker.Status {
	counts := func(p jsonPart) bool {
		g, ok := rules.ParseGrade(p.Grade)
		return ok && !j.InForce.statusAt(p.Shop).Worse(g)
	}
	switch {
	case len(j.Unread) > 0:
		return checker.Wrong
	case len(j.Parts) == 0:
		return checker.Nothing
	case slices.ContainsFunc(j.Parts, counts):
		return checker.Found
	}
	return checker.Clear
}

// statusAt is the grade from which findings of a part count, by the shop file that holds for it.
func (j *jsonInForce) statusAt(shop *string) rules.Grade {
	for _, o := range j.Others {
		if shop != nil && (o.ShopFile == nil && *shop == "" || o.ShopFile != nil && *shop == *o.ShopFile) {
			return rules.Grade(o.StatusAt)
		}
	}
	return rules.Grade(j.StatusAt)
}

// lotProblems are the problems of all lots in the order of one review. Lists that were cut stay as they are: a file is in one lot.
func lotProblems(ps source.Problems) source.Problems {
	slices.SortStableFunc(ps, func(a, b source.Problem) int {
		switch {
		case a.File < b.File:
			return -1
		case a.File > b.File:
			return 1
		}
		return 0
	})
	return slices.Compact(ps)
}

// joinedStatus follows from the lots' as that of one review: what is worst of 4, 2 and 1, and 3 where no part was reviewed.
func joinedStatus(all []*jsonReview, parts int) checker.Status {
	has := func(s checker.Status) bool {
		return slices.ContainsFunc(all, func(j *jsonReview) bool { return j.Status == int(s) })
	}
	switch {
	case has(checker.OurFault):
		return checker.OurFault
	case has(checker.Wrong):
		return checker.Wrong
	case parts == 0:
		return checker.Nothing
	case has(checker.Found):
		return checker.Found
	}
	return checker.Clear
}
