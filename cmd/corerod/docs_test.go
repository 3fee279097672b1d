package main

import (
	"fmt"
	"maps"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"corerod/checker"
	"corerod/checker/concession"
	"corerod/parts/form"
	"corerod/parts/source"
	"corerod/rules"
)

// pages are README.md, DEVELOPERS.md and all pages below docs, by their paths from the root.
func pages(t *testing.T) map[string]string {
	t.Helper()
	all := map[string]string{}
	for _, pattern := range []string{"*.md", "docs/*.md", "docs/*/*.md"} {
		names, err := filepath.Glob("../../" + pattern)
		if err != nil || len(names) == 0 {
			t.Fatal(pattern, err)
		}
		for _, name := range names {
			b, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			all[strings.TrimPrefix(filepath.ToSlash(name), "../../")] = string(b)
		}
	}
	return all
}

// TestDocKeys: every key of the files that are read is shown in an example of the pages of that file, or stands in backquotes
// in a passage that names what it is a key of.
func TestDocKeys(t *testing.T) {
	all := pages(t)
	for _, f := range []struct {
		of    string
		form  *source.Form
		pages []string
	}{
		{"part", form.File(), []string{"docs/part-file.md", "docs/shapes.md"}},
		{"pack", rules.PackForm(), []string{"docs/rule-pack.md", "docs/writing-rules.md"}},
		{"shop file", rules.ShopForm(), []string{"docs/rule-pack.md", "docs/writing-rules.md"}},
		{"file of concessions", concession.Form, []string{"docs/concessions.md"}},
	} {
		k := &keyed{names: map[*source.Form][]string{}, shown: map[key]bool{}}
		k.name(f.form, "")
		for _, p := range f.pages {
			for _, block := range yamlBlocks(all[p]) {
				k.show(t, f.form, block)
			}
		}
		for form, names := range k.names {
			for _, name := range form.Known() {
				if !k.shown[key{form, name}] && !slices.ContainsFunc(f.pages, func(p string) bool { return told(all[p], name, names) }) {
					t.Errorf("%s: the key `%s`, under %q in a %s, is not told of", strings.Join(f.pages, " and "), name, names, f.of)
				}
			}
		}
	}
}

type key struct {
	of   *source.Form
	name string
}

// keyed are the maps of a form with the keys under which they stand, and the keys that examples show.
type keyed struct {
	names map[*source.Form][]string
	shown map[key]bool
}

// name collects the maps of a form, and what each is called.
func (k *keyed) name(f *source.Form, under string) {
	if f.Type == source.FormMap {
		names, known := k.names[f]
		if !slices.Contains(names, under) {
			names = append(names, under)
		}
		k.names[f] = names
		if known {
			return
		}
	}
	for _, x := range f.Keys {
		k.name(x.Form, x.Name)
	}
	for _, x := range append(f.Either, f.Each) {
		if x != nil {
			k.name(x, under)
		}
	}
}

// show marks the keys that an example has.
func (k *keyed) show(t *testing.T, f *source.Form, block string) {
	n, ps := source.Parse("example", []byte(block))
	if len(ps) > 0 {
		t.Fatal(ps, block)
	}
	for _, x := range n.Keys {
		if f.Key(x.Value) == nil {
			return // of another kind of file
		}
	}
	k.walk(f, n)
}

func (k *keyed) walk(f *source.Form, n *source.Node) {
	for _, x := range f.Either {
		k.walk(x, n)
	}
	for i, item := range n.Items {
		switch {
		case n.Shape == source.Map && f.Type == source.FormMap:
			if of := f.Key(n.Keys[i].Value); of != nil {
				k.shown[key{f, n.Keys[i].Value}] = true
				k.walk(of, item)
			}
		case f.Each != nil:
			k.walk(f.Each, item)
		}
	}
}

// yamlBlocks are the YAML blocks of a page.
func yamlBlocks(page string) (all []string) {
	for _, block := range strings.Split(page, "```yaml")[1:] {
		block, _, _ = strings.Cut(block, "```")
		_, text, _ := strings.Cut(block, "\n")
		all = append(all, text)
	}
	return all
}

var (
	inCode = regexp.MustCompile("`[^`]+`")
	word   = regexp.MustCompile(`[A-Za-z0-9_]+`)
)

// told tells whether a passage of a page has a key in backquotes, and one of some names in it or in the heading above. A
// passage is a paragraph, an item of a list or a row of a table; no name is that of the page.
func told(page, key string, names []string) bool {
	heading := ""
	for _, p := range regexp.MustCompile(`\n\n|\n(?:- |\|)`).Split(page, -1) {
		if strings.HasPrefix(strings.TrimSpace(p), "#") {
			heading, p, _ = strings.Cut(strings.TrimSpace(p), "\n")
		}
		words := word.FindAllString(strings.ToLower(heading+" "+p), -1)
		named := func(n string) bool {
			return n == "" || slices.Contains(words, n) || slices.Contains(words, strings.TrimSuffix(n, "s")) ||
				n == "bodies" && slices.Contains(words, "body")
		}
		for _, code := range inCode.FindAllString(p, -1) {
			if slices.Contains(word.FindAllString(code, -1), key) && slices.ContainsFunc(names, named) {
				return true
			}
		}
	}
	return false
}

// TestDocOptions: every command has its section in docs/commands.md, with all its options and the statuses it can end with,
// and the README names it. COREROD_UPDATE=1 writes the page.
func TestDocOptions(t *testing.T) {
	const file = "../../docs/commands.md"
	var want strings.Builder
	want.WriteString(commandsHead + statusTable())
	readme := pages(t)["README.md"]
	for _, cmd := range commands() {
		if cmd.Short == "" {
			t.Errorf("%s does not say what it does", cmd.CommandPath())
		}
		for _, f := range optionsOf(cmd) {
			if f.Usage == "" {
				t.Errorf("%s --%s does not say what it does", cmd.CommandPath(), f.Name)
			}
		}
		if !strings.Contains(readme, "`"+cmd.CommandPath()) {
			t.Errorf("README.md does not name `%s`", cmd.CommandPath())
		}
		want.WriteString(sectionOf(cmd))
	}
	if os.Getenv("COREROD_UPDATE") != "" {
		if err := os.WriteFile(file, []byte(want.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if got, err := os.ReadFile(file); err != nil || string(got) != want.String() {
		t.Errorf("docs/commands.md is stale (%v); run COREROD_UPDATE=1 go test ./cmd/corerod", err)
	}
}

// TestDocNoOthers: the pages name no command and no option that is none.
func TestDocNoOthers(t *testing.T) {
	known, found := map[string]bool{}, 0
	for _, cmd := range commands() {
		known[cmd.CommandPath()] = true
		for _, f := range ownOptions(cmd) {
			known["--"+f] = true
		}
	}
	for name, page := range pages(t) {
		for _, code := range inCode.FindAllString(fence.ReplaceAllString(page, ""), -1) {
			if strings.HasPrefix(code, "`git ") {
				continue
			}
			for _, what := range regexp.MustCompile(`--[a-z][a-z-]*|corerod [a-z]+`).FindAllString(code, -1) {
				if found++; !known[what] {
					t.Errorf("%s names %s, which is not there", name, what)
				}
			}
		}
	}
	if found < 100 {
		t.Errorf("only %d commands and options are named", found)
	}
}

// TestDocStatuses: the README, the help and docs/commands.md say what each exit status means; status 1 has words for each command
// that can end with it.
func TestDocStatuses(t *testing.T) {
	all := pages(t)
	help, _, _ := run([]string{"help"}, "")
	for status, says := range []string{checker.Clear: "clear", checker.Found: "findings", checker.Wrong: "an invalid command line",
		checker.Nothing: "nothing was", checker.OurFault: "a fault of corerod itself"} {
		for where, text := range map[string]string{"README.md": all["README.md"], "the help": help} {
			_, text, _ = strings.Cut(text, "Exit status:")
			if text, _, _ = strings.Cut(text, "\n\n"); !strings.Contains(strings.Join(strings.Fields(text), " "),
				fmt.Sprintf("%d %s", status, says)) {
				t.Errorf("%s does not say that status %d is %s", where, status, says)
			}
		}
		if !regexp.MustCompile(fmt.Sprintf(`\n\| %d \| [^|\n]*%s`, status, says)).MatchString(all["docs/commands.md"]) {
			t.Errorf("docs/commands.md does not say that status %d is %s", status, says)
		}
	}
	for cmd, statuses := range statusesOf {
		if strings.Contains(statuses, "1") != (foundBy[cmd] != "") {
			t.Errorf("what status 1 of %s says: %q", cmd, foundBy[cmd])
		}
	}
}

var (
	link  = regexp.MustCompile(`\]\(([^()\s]+)\)`)
	title = regexp.MustCompile(`(?m)^#+ (.*)$`)
	fence = regexp.MustCompile("(?ms)^```.*?^```")
)

// TestDocLinks: every link to a file of the repository leads to one, and to a heading of it.
func TestDocLinks(t *testing.T) {
	all, links := pages(t), 0
	for _, page := range slices.Sorted(maps.Keys(all)) {
		for _, m := range link.FindAllStringSubmatch(fence.ReplaceAllString(all[page], ""), -1) {
			if strings.Contains(m[1], ":") {
				continue // another place
			}
			links++
			file, anchor, _ := strings.Cut(m[1], "#")
			to := page
			if file != "" {
				to = path.Join(path.Dir(page), file)
			}
			if _, err := os.Stat("../../" + to); err != nil || strings.HasPrefix(to, "..") {
				t.Errorf("%s links to %s, which is not there", page, m[1])
			} else if anchor != "" && !slices.Contains(anchors(all[to]), anchor) {
				t.Errorf("%s links to %s, which has no such heading", page, m[1])
			}
		}
	}
	if links < 100 {
		t.Errorf("only %d links were found", links)
	}
}

// anchors are those of a page's headings: small letters, digits, hyphens for spaces.
func anchors(page string) (all []string) {
	for _, m := range title.FindAllStringSubmatch(fence.ReplaceAllString(page, ""), -1) {
		a := regexp.MustCompile(`[^a-z0-9 _-]`).ReplaceAllString(strings.ToLower(m[1]), "")
		all = append(all, strings.ReplaceAll(strings.TrimSpace(a), " ", "-"))
	}
	return all
}
