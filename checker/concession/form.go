package concession

import "corerod/parts/source"

var (
	concessionForm = &source.Form{Doc: "One finding that somebody has agreed to live with for a time.", Type: source.FormMap,
		Keys: []source.Key{
			{Name: "part", Required: true, Form: plainText("The part's name.")},
			{Name: "drawing", Form: plainText("The drawing it was agreed for.")},
			{Name: "revision", Form: plainText("The revision it was agreed for.")},
			{Name: "file", Form: plainText("The part file, from the folder of this file.")},
			{Name: "rule", Required: true,
				Form: plainText("The rule's name; part-gone for a part that may go, newly-machined for a feature that " +
					"may be made after pressing.")},
			{Name: "shape", Form: plainText("Of part-gone and newly-machined: the digest of the shape, as corerod concede writes it.")},
			{Name: "subject", Form: &source.Form{Doc: "What the finding is of.", Type: source.FormMap, Keys: []source.Key{
				{Name: "kind", Required: true, Form: plainText("Such as wall.")},
				{Name: "name", Required: true, Form: plainText("As the finding names it.")}}}},
			{Name: "accepted",
				Form: &source.Form{Doc: "The measured values that were agreed to, each with what it is of: [{of: eye to plate, " +
					"wall.thickness: 0.7}]; in mm, degrees and so on as rules see them.", Type: source.FormAny}},
			{Name: "places", Form: &source.Form{Doc: "At how many places alike; 1 by default.", Type: source.FormNumber}},
			{Name: "reason", Required: true, Form: plainText("Why.")},
			{Name: "by", Required: true, Form: plainText("Who agreed: a role.")},
			{Name: "until", Required: true, Form: plainText("The last day, such as 2027-03-31; within 24 months.")},
		}}

	// Form is the form of a file of concessions.
	Form = &source.Form{Doc: "Concessions.", Type: source.FormMap, Keys: []source.Key{
		{Name: "changed_revision",
			Form: &source.Form{Doc: "Whether a record goes on when the drawing or its revision changes; it ends by " +
				"default.", Type: source.FormWord, Words: []string{"ends", "keeps"}}},
		{Name: "concessions", Form: &source.Form{Doc: "The records.", Type: source.FormList, Each: concessionForm}},
	}}
)

func plainText(doc string) *source.Form { return &source.Form{Doc: doc} }
