package rules

import (
	"sync"

	"corerod/parts/source"
	"corerod/parts/stock"
	"corerod/parts/subject"
)

// formSet are the forms of packs and shop files: what each key is, for the readers and for editors. They are built when
// they are first needed.
type formSet struct {
	head, body                                                []source.Key // of pack.yaml alone, of every file of a pack
	basis, of, note, unit, grades, materials, curves, presses *source.Form // of values and sections that several forms take

	pack, base, source, limit, table, material, curve, press, rule, need, trial, shop *source.Form
}

// PackForm is the form of a pack's main file.
func PackForm() *source.Form { return forms().pack }

// ShopForm is the form of a shop file.
func ShopForm() *source.Form { return forms().shop }

// Patterns of names.
const (
	plainName  = "^[a-z][a-z0-9-]{0,63}$"
	figureName = "^[a-z][a-z0-9_]{0,63}$"
	stockName  = "^[A-Za-z][A-Za-z0-9-]{0,63}$"
	threeParts = `^[0-9]{1,6}\.[0-9]{1,6}\.[0-9]{1,6}$`
)

func may(name string, f *source.Form) source.Key { return source.Key{Name: name, Form: f} }
func must(name string, f *source.Form) source.Key {
	return source.Key{Name: name, Form: f, Required: true}
}

func text(doc string) *source.Form { return &source.Form{Doc: doc} }

func shaped(doc, pattern string) *source.Form { return &source.Form{Doc: doc, Pattern: pattern} }

func word(doc string, words ...string) *source.Form {
	return &source.Form{Doc: doc, Type: source.FormWord, Words: words}
}

func number(doc string) *source.Form { return &source.Form{Doc: doc, Type: source.FormNumber} }

func above(doc string, most float64) *source.Form {
	return &source.Form{Doc: doc, Type: source.FormNumber, Bounded: true, Open: true, Bounds: [2]float64{0, most}}
}

func listOf(doc string, least, most int, each *source.Form) *source.Form {
	return &source.Form{Doc: doc, Type: source.FormList, Items: [2]int{least, most}, Each: each}
}

func keys(doc string, all ...source.Key) *source.Form {
	return &source.Form{Doc: doc, Type: source.FormMap, Keys: all}
}

// namedSection is a section of named things; it may be left empty.
func namedSection(doc, names string, each *source.Form) *source.Form {
	return &source.Form{Doc: doc, Type: source.FormNamed, Names: names, Each: each, Null: true}
}

var forms = sync.OnceValue(func() *formSet {
	f := &formSet{
		basis: &source.Form{
			Doc: "On what the figure stands: read in the named source, common practice, memory, arithmetic on a published " +
				"figure, the shop's own.", Type: source.FormWord, Words: stock.Bases, Shared: "basis"},
		of:   text("Key of `sources`."),
		note: text("A remark that is shown with it; of a derived figure the sum."),
		unit: &source.Form{Doc: "Its unit; that of the pack where none is stated.", Type: source.FormWord, Words: figureUnits,
			Shared: "unit"},
		grades: word("The grade of a finding.", string(Stop), string(Change), string(Ask)),
	}
	f.ofFigures()
	f.ofStock()
	f.ofRules()
	f.ofFiles()
	return f
})

// ofFigures sets the forms of limits and tables, and of what they are from.
func (f *formSet) ofFigures() {
	f.source = keys("A book, standard or document.",
		must("title", text("Its title.")),
		may("by", text("Its author.")),
		may("at", text("Chapter, page or clause.")),
	)
	f.limit = keys("One figure that rules compare with.",
		must("value", number("The figure.")),
		may("unit", f.unit),
		must("basis", f.basis),
		may("source", f.of),
		may("note", f.note),
		may("shift", above("By how much a proof moves it, instead of its last digit.", 1e6)),
	)
	f.table = keys("A value for each of several others.",
		must("x", text("What is looked up, in words.")),
		may("x_unit", f.unit),
		must("y", text("What is found, in words.")),
		may("unit", f.unit),
		must("between", word("What holds between two rows.", string(stock.NextRow), string(stock.PreviousRow), string(stock.Line))),
		must("rows", listOf("[x, y] each, x rising.", 1, 0, listOf("", 2, 2, number("")))),
		must("basis", f.basis),
		may("source", f.of),
		may("note", f.note),
	)
}

// ofStock sets the forms of materials, curves and presses, and of their sections.
func (f *formSet) ofStock() {
	span := func(doc string) *source.Form { return listOf(doc, 2, 2, number("")) }
	bases := keys("The basis of single figures, where it is another.")
	for _, k := range materialFigures {
		bases.Keys = append(bases.Keys, may(k, f.basis))
	}
	f.material = keys("One powder mix, pressed and sintered. What is not known is left out.",
		may("density", span("Usual range sintered, g/cm3.")),
		may("apparent", above("Of the loose powder, g/cm3.", 25)),
		may("pore_free", above("Sintered and without pores, g/cm3; by the rule of mixtures where it is left out.", 25)),
		may("pore_free_green", above("The same with lubricant, g/cm3.", 25)),
		may("size_change", span("Of size, to sintered, percent, growth above zero.")),
		may("size_change_from", word("From which size: that of the die (the default), which counts springback in, or of the green part.",
			sizesFrom...)),
		may("composition", &source.Form{Doc: "Percent of the mass without lubricant, by element.", Type: source.FormNamed,
			Names: "^[A-Z][a-z]?$", Each: above("", 100)}),
		may("lubricant", above("Percent of the mass.", 10)),
		may("family", word("What kind of material it is.", stock.Families...)),
		may("curve", text("Its curve of pressure and green density.")),
		must("basis", f.basis),
		may("source", f.of),
		may("note", f.note),
		may("bases", bases),
	)
	f.curve = keys("Green density by pressure.",
		must("points", listOf("[MPa, g/cm3] each, both rising.", 2, 0, listOf("", 2, 2, above("", 1e5)))),
		may("strength", listOf("Green strength: [g/cm3, MPa] each, both rising.", 2, 0, listOf("", 2, 2, above("", 1e5)))),
		must("basis", f.basis),
		may("source", f.of),
		may("note", f.note),
	)
	f.press = keys("One press of the shop.",
		must("capacity", above("kN.", 1e6)),
		must("fill", above("Deepest, mm.", 1e6)),
		must("eject", above("Ejection force, kN.", 1e6)),
		must("upper", above("Punches driven from above.", 1e6)),
		must("lower", above("Punches driven from below.", 1e6)),
		must("ejection_stroke", above("mm.", 1e6)),
		may("basis", f.basis),
		may("source", f.of),
		may("note", f.note),
	)
	f.materials = namedSection("Powder mixes.", stockName, f.material)
	f.curves = namedSection("Curves of pressure and green density.", plainName, f.curve)
	f.presses = namedSection("Presses of the shop.", stockName, f.press)
}

// ofRules sets the forms of rules and of their trials.
func (f *formSet) ofRules() {
	var kinds []string
	for _, k := range subject.Kinds() {
		kinds = append(kinds, k.Name)
	}
	f.need = keys("A condition, and the grade of a finding where it fails.",
		must("grade", f.grades),
		must("that", text("A CEL expression that must hold.")),
	)
	f.rule = keys("One rule.",
		must("title", text("In plain words.")),
		must("stage", word("When a part meets it.", Stages...)),
		must("over", word("The kind of subject that is judged, one by one.", kinds...)),
		may("when", text("A CEL expression; the rule is not applicable where it is false.")),
		may("sources", listOf("Keys of `sources` for a rule without a limit.", 0, 0, text(""))),
		may("basis", f.basis),
		must("need", listOf("Worst grade first; the first that fails gives the finding.", 1, 0, f.need)),
		must("says", text("What is found: text with CEL expressions in braces.")),
		must("because", text("Why it matters in the die.")),
		must("change", text("What to draw instead.")),
		may("adjust", listOf("Measures that a change may move.", 0, 0, text(""))),
		may("with", listOf("Rules that may find the same fault: where one of them finds something in the same place, both are one "+
			"finding.", 0, 0, text(""))),
		may("since", shaped("Version of the pack that brought it.", threeParts)),
	)
	f.trial = keys("A part on which a rule must find something, or nothing.",
		must("rule", text("The rule.")),
		must("part", text("File of the part, below the pack's folder.")),
		may("set", &source.Form{Doc: "Values of the part that differ, by path or short name; null takes one out.", Type: source.FormNamed,
			Names: ".", Each: &source.Form{Type: source.FormAny}}),
		may("materials", f.materials),
		may("curves", f.curves),
		may("presses", f.presses),
		must("finds", word("The worst grade it finds.", string(Stop), string(Change), string(Ask), none)),
		may("on", text("Name of the subject that is found, as findings show it.")),
	)
}

// ofFiles sets the forms of the files: of any of a pack, of its main one, and of a shop file.
func (f *formSet) ofFiles() {
	f.base = keys("A pack and the digest that its files must have.",
		must("pack", text("A built-in pack, or a path below the shop file.")),
		may("sha256", text("Of its .yaml files.")),
	)
	base := &source.Form{Type: source.FormEither,
		Either: []*source.Form{text("A built-in pack, or a path below the shop file."), f.base}, Shared: "base"}
	f.head = []source.Key{
		must("pack", shaped("Its name.", plainName)),
		must("version", shaped("Three numbers.", threeParts)),
		must("title", text("In plain words.")),
		may("units", word("Of limits and table columns that state none.", subject.MM, unitInch)),
		may("builds_on", listOf("Packs that it takes in and changes.", 0, 0, base)),
	}
	f.body = []source.Key{
		may("sources", namedSection("Books and documents.", plainName, f.source)),
		may("limits", namedSection("Figures.", figureName, f.limit)),
		may("tables", namedSection("Tables.", figureName, f.table)),
		may("materials", f.materials),
		may("curves", f.curves),
		may("presses", f.presses),
		may("rules", namedSection("Rules.", plainName, f.rule)),
		may("trials", listOf("Trials that prove the rules.", 0, 0, f.trial)),
		may("grades", namedSection("Worst grade of a rule of a pack below.", ".", f.grades)),
		may("leave_out", namedSection("Rules of a pack below that do not hold here, with the reason.", ".", text("The reason."))),
	}
	f.pack = keys("A rule pack: limits with their ground, and rules that compare measures with them.",
		append(append([]source.Key{}, f.head...), f.body...)...)
	f.shop = keys("Which packs judge the parts below this file.",
		may("packs", listOf("Built-in packs, or paths below this file; press-and-sinter where it is left out.", 1, 0, base)),
		may("status_at", word("The grade from which findings set status 1.", string(Stop), string(Change), string(Ask))),
		may("concessions", text("File of the concessions, below this file.")),
	)
}
