package data

import (
	"corerod/checker"
	"corerod/rules"
)

type jsonVersion struct {
	Version string `json:"version" doc:"Version of the program."`
	Format  int    `json:"format" doc:"Version of this format; it rises when a reader must change."`
}

// jsonForce is what a result stands on.
type jsonForce struct {
	Packs      many[jsonPack]     `json:"packs" doc:"The packs, with those they build on."`
	ShopFile   *string            `json:"shop_file" doc:"The shop file; null for none."`
	ShopSHA256 *string            `json:"shop_sha256" doc:"Digest of the shop file."`
	LeftOut    many[jsonLeftOut]  `json:"left_out" doc:"Rules that packs leave out."`
	Regraded   many[jsonRegraded] `json:"regraded" doc:"Rules whose grade packs bound."`
}

type jsonInForce struct {
	jsonForce
	Concessions       *string              `json:"concessions" doc:"The file of concessions; null for none."`
	ConcessionsSHA256 *string              `json:"concessions_sha256" doc:"Digest of that file."`
	NotInForce        []string             `json:"not_in_force" doc:"Shop files, packs and concessions that the tree has otherwise than the folder of --rules-from; they do not hold."`
	StatusAt          string               `json:"status_at" doc:"The grade from which findings set status 1."`
	Others            many[jsonOtherForce] `json:"others,omitempty" doc:"What holds for parts under further shop files; left out where one holds for all."`
}

type jsonOtherForce struct {
	jsonForce
	Concessions       *string `json:"concessions" doc:"The file of concessions; null for none."`
	ConcessionsSHA256 *string `json:"concessions_sha256" doc:"Digest of that file."`
	StatusAt          string  `json:"status_at" doc:"The grade from which findings set status 1."`
}

// forceJSON names packs with those they build on, what they leave out and change, and the shop file.
func forceJSON(packs []*rules.Pack, shop *rules.Shop) jsonForce {
	j := jsonForce{Packs: []jsonPack{}, LeftOut: []jsonLeftOut{}, Regraded: []jsonRegraded{}}
	for _, p := range rules.InForce(packs) {
		j.Packs = append(j.Packs, jsonPack{p.Name, p.Version, p.Digest})
	}
	if shop != nil {
		j.ShopFile, j.ShopSHA256 = &shop.File, &shop.SHA256
	}
	for _, p := range packs {
		for _, x := range p.LeftOut {
			j.LeftOut = append(j.LeftOut, jsonLeftOut{x.Rule, x.Reason, x.Pack})
		}
		for _, x := range p.Regraded {
			j.Regraded = append(j.Regraded, jsonRegraded{x.Rule, string(x.Grade), x.Pack})
		}
	}
	return j
}

type jsonLeftOut struct {
	Rule   string `json:"rule" doc:"Name of the rule."`
	Reason string `json:"reason" doc:"Why it does not hold."`
	Pack   string `json:"pack" doc:"The pack that leaves it out."`
}

type jsonRegraded struct {
	Rule  string `json:"rule" doc:"Name of the rule."`
	Grade string `json:"grade" doc:"The worst grade of its findings."`
	Pack  string `json:"pack" doc:"The pack that says so."`
}

type jsonPack struct {
	Pack    string `json:"pack" doc:"Name of the pack."`
	Version string `json:"version" doc:"Its version."`
	SHA256  string `json:"sha256" doc:"Digest of its files."`
}

// inForceJSON tells what a review stands on.
func inForceJSON(r *checker.Review) jsonInForce {
	j := jsonInForce{NotInForce: append([]string{}, r.NotInForce...)}
	for i, f := range r.Forces {
		x := jsonOtherForce{jsonForce: forceJSON(f.Book.Packs, f.Shop), StatusAt: string(f.StatusAt)}
		if f.Concede != nil {
			x.Concessions, x.ConcessionsSHA256 = &f.Concede.File, &f.Concede.SHA256
		}
		if i == 0 {
			j.jsonForce, j.Concessions, j.ConcessionsSHA256, j.StatusAt = x.jsonForce, x.Concessions, x.ConcessionsSHA256, x.StatusAt
		} else {
			j.Others = append(j.Others, x)
		}
	}
	return j
}

// shopOf names the shop file of a part where several hold.
func shopOf(p *checker.PartReview, h *checker.Head) *string {
	switch {
	case len(h.Forces) < 2:
		return nil
	case p.Force.Shop == nil:
		return new(string)
	}
	return &p.Force.Shop.File
}
