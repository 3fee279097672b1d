package source

import (
	"gopkg.in/yaml.v3"

	"corerod/parts/tape"
)

// Keep writes a node and all below it in a compact form that Kept reads back: a program can keep a file of its own
// that was read without problems, and need not read it again.
func (n *Node) Keep() string {
	var w tape.Writer
	n.keep(&w)
	return string(w)
}

func (n *Node) keep(w *tape.Writer) {
	flags := int(n.Shape)
	if n.Quoted {
		flags |= 4
	}
	if n.Null {
		flags |= 8
	}
	for _, v := range []int{flags, int(n.style), n.Line, n.Column} {
		w.Number(v)
	}
	w.Text(n.Value)
	for _, list := range [][]*Node{n.Keys, n.Items} {
		w.Number(len(list))
		for _, c := range list {
			c.keep(w)
		}
	}
}

// Kept reads what Keep wrote; content is the file that the nodes stand in. It returns nil where the tape is nothing of
// the kind.
func Kept(kept string, content []byte) *Node {
	r, t := tape.Reader{Rest: kept}, &text{content: content}
	n := keptNode(&r, t, 1)
	if !r.Done() {
		return nil
	}
	return n
}

func keptNode(r *tape.Reader, t *text, depth int) *Node {
	flags := r.Number()
	n := &Node{Shape: Shape(flags & 3), Quoted: flags&4 != 0, Null: flags&8 != 0, style: yaml.Style(r.Number()), Line: r.Number(), Column: r.Number(), Value: r.Text(), text: t}
	for _, list := range []*[]*Node{&n.Keys, &n.Items} {
		size := r.Number()
		if size > len(r.Rest) || depth > MostDepth {
			r.Break()
		}
		if r.Broken || size == 0 {
			continue
		}
		*list = make([]*Node, size)
		for i := range *list {
			(*list)[i] = keptNode(r, t, depth+1)
		}
	}
	return n
}
