package rules

import (
	"strings"
	"sync"

	"corerod/parts/source"
	"corerod/parts/stock"
)

// Pack is one rule pack as read. It is not changed after loading and may be used from several goroutines.
type Pack struct {
	Name, Version, Title string
	Digest               string  // see digest
	Bases                []Base  // packs it builds on, as named
	On                   []*Pack // the same, found
	Sources              map[string]Source
	Limits               map[string]*Limit
	Tables               map[string]*Table
	Materials            map[string]*StockMaterial
	Curves               map[string]*Curve
	Presses              map[string]*Press
	Rules                []*Rule // in order of name
	Trials               []Trial // in order of file and line
	LeftOut              []LeftOut
	Regraded             []Regraded

	env     func() *environment // made on first use
	grades  []change
	leaves  []change
	refused map[string]bool // while it is read: "section" or "section name" of what has a problem already
}

// isRefused tells whether a named thing of a section has a problem already, so that its uses need none.
func (p *Pack) isRefused(section, name string) bool {
	return p.refused[section] || p.refused[section+" "+strings.ToLower(name)]
}

// Origin is where in a pack's files something is written, counted from 1.
type Origin struct {
	File         string
	Line, Column int
	Pack         string // by name
}

// Source is a book, standard or document that figures are taken from.
type Source struct {
	Title, By, At string
	Origin        Origin
}

// Limit is one figure of a pack, in the unit that expressions use: an inch figure is kept in mm.
type Limit struct {
	stock.Limit
	Name   string
	Shift  float64 // by how much a proof moves it: one unit of the last digit written, where the pack says no other
	Origin Origin
}

// Table is one table of a pack, in the units that expressions use.
type Table struct {
	stock.Table
	Name   string
	Origin Origin

	cells []cells // by row, as read from YAML
}

// cells are by how much a proof moves the x and y of a row, and where they stand.
type cells struct {
	by [2]float64
	at [2]Origin
}

// stated is by how much a proof moves a figure that a material states, and where it stands.
type stated struct {
	by float64
	at Origin
}

// StockMaterial is one material of a pack, with what is known of it.
type StockMaterial struct {
	stock.Material
	Name   string
	Origin Origin

	stated map[string]stated // by its name in expressions, as read from YAML
}

// Curve is one curve of pressure and green density of a pack.
type Curve struct {
	stock.Curve
	Name   string
	Origin Origin
}

// Press is one press of a pack.
type Press struct {
	stock.Press
	Name   string
	Origin Origin
}

// Cited is one ground of a rule or finding: a source of the pack, "" where the basis needs none, and the basis.
type Cited struct {
	Key   string      `json:"key"`
	Basis stock.Basis `json:"basis"`
}

// Need is one condition of a rule and the grade of a finding where it fails.
type Need struct {
	Grade Grade
	That  string
	at    phrase
}

// Rule is one rule of a pack.
type Rule struct {
	Name, Title, Stage string
	From               *Pack  // that gives it; Pack is the one whose figures it reads
	Over               string // kind of subject
	When               string // "" where the rule always applies
	Needs              []Need // worst grade first
	Says               string // text with { } expressions
	Because, Change    string
	Sources            []Cited  // the rule's own, apart from those of the limits it reads
	Adjust             []string // measures that a verified change may move, as written
	With               []string // rules that may find the same fault, by name, the first first
	Since              string
	Pack               *Pack
	File               string
	Line, Column       int

	when   *phrase
	says   []piece
	adjust []*source.Node
	with   []*source.Node
}

// Stages in the order in which a part meets them.
var Stages = []string{"fill", "press", "eject", "handle", "sinter", "size", "tool"}

// phrase is one expression of a pack and where it stands: text begins at the rune `from` of a node's value.
type phrase struct {
	rule string // that it belongs to
	text string
	file string
	node *source.Node
	from int
	at   Origin // its start, of a kept one, which has no node
}

// origin is the place of the i-th rune of the phrase; of a kept one that of its start.
func (p *phrase) origin(i int) Origin {
	if p.node == nil {
		return Origin{File: p.file, Line: p.at.Line, Column: p.at.Column}
	}
	line, column := p.node.Inside(p.from + i)
	return Origin{File: p.file, Line: line, Column: column}
}

// problem is a problem at the i-th rune of the phrase.
func (p *phrase) problem(i int, message string) source.Problem {
	o := p.origin(i)
	return source.Problem{File: o.File, Line: o.Line, Column: o.Column, Message: "rule `" + p.rule + "`: " + message}
}

// shown is the phrase on one line, safe to print.
func (p *phrase) shown() string { return source.Plain(strings.Join(strings.Fields(p.text), " ")) }

// ready prepares a pack's expression environment, to be made when it is first needed.
func (p *Pack) ready() {
	p.env = sync.OnceValue(func() *environment { return newEnvironment(p) })
}
