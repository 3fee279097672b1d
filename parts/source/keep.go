package source

import (
	"encoding/binary"
	"strings"

	"gopkg.in/yaml.v3"
)

// Keep writes a node and all below it in a compact form that Kept reads back: a program can keep a file of its own
// that was read without problems, and need not read it again.
func (n *Node) Keep() []byte { return n.keep(nil) }

func (n *Node) keep(b []byte) []byte {
	flags := uint64(n.Shape)
	if n.Quoted {
		flags |= 4
	}
	if n.Null {
		flags |= 8
	}
	for _, v := range []uint64{flags, uint64(n.style), uint64(n.Line), uint64(n.Column), uint64(len(n.Value))} {
		b = binary.AppendUvarint(b, v)
	}
	b = append(b, n.Value...)
	for _, list := range [][]*Node{n.Keys, n.Items} {
		b = binary.AppendUvarint(b, uint64(len(list)))
		for _, c := range list {
			b = c.keep(b)
		}
	}
	return b
}

// Kept reads what Keep wrote; content is the file that the nodes stand in. It returns nil where b is nothing of the
// kind.
func Kept(b, content []byte) *Node {
	k := keeper{rest: b, text: &text{lines: split(content)}}
	n := k.node(1)
	if k.broken || len(k.rest) > 0 {
		return nil
	}
	return n
}

type keeper struct {
	rest   []byte
	text   *text
	broken bool
}

// number takes one number, at most the bytes that are left, off what is left.
func (k *keeper) number() int {
	v, w := binary.Uvarint(k.rest)
	if w <= 0 || v > MostBytes {
		k.broken = true
		return 0
	}
	k.rest = k.rest[w:]
	return int(v)
}

func (k *keeper) node(depth int) *Node {
	flags := k.number()
	n := &Node{Shape: Shape(flags & 3), Quoted: flags&4 != 0, Null: flags&8 != 0, style: yaml.Style(k.number()), Line: k.number(), Column: k.number(), text: k.text}
	size := k.number()
	if k.broken || size > len(k.rest) || depth > MostDepth {
		k.broken = true
		return n
	}
	n.Value, k.rest = string(k.rest[:size]), k.rest[size:]
	for _, list := range []*[]*Node{&n.Keys, &n.Items} {
		for range k.number() {
			if k.broken {
				break
			}
			*list = append(*list, k.node(depth+1))
		}
	}
	return n
}

// split divides a file into lines, without their ends.
func split(content []byte) []string {
	return strings.Split(strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(string(content)), "\n")
}
