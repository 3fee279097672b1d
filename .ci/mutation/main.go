// Command mutation changes the code of packages in small ways, one at a time, and counts how many of the changes the tests of
// the same package notice: a comparison turned round or moved by its equality, a number shifted, a statement dropped, && for ||.
//
// A mutant is laid over the tree by go test -overlay, so that no file is touched. Which ones are made follows from the seed and
// the text round them, whatever other functions hold. One that does not compile is replaced by the next; one that is
// listed in equivalent.txt, with the reason for which no test can notice it, does not count.
package main

import (
	"cmp"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"time"
)

// counted are the folders that the goals are for. One that is not there is told of.
var counted = []string{"parts/plane", "parts/blank", "parts/measure", "parts/tooling", "rules", "checker/change"}

// Goals: of the mutants of all counted folders, and of those of each one, percent.
const (
	goalTogether = 80
	goalEach     = 70
)

func main() {
	r := run{}
	flag.IntVar(&r.most, "n", 40, "mutants a package; 0 for all")
	flag.Uint64Var(&r.seed, "seed", 1, "which mutants are made")
	flag.IntVar(&r.jobs, "p", 2, "mutants judged at a time")
	flag.StringVar(&r.command, "go", cmp.Or(os.Getenv("GO"), "go"),
		"the go command that runs the tests; GO in the environment names it too")
	flag.BoolVar(&r.full, "full", false, "run the long tests too; without it tests run with -short")
	flag.DurationVar(&r.limit, "limit", 0, "the time a mutant has; 0 for ten seconds and five times what the tests take, in tens of "+
		"seconds")
	flag.StringVar(&r.file, "file", "", "only mutants of the file of this name")
	flag.BoolVar(&r.tell, "v", false, "tell of each survivor at once too")
	list := flag.Bool("list", false, "list the mutants and run none")
	skipped := flag.String("equivalent", ".ci/mutation/equivalent.txt", "the list of equivalent mutants")
	flag.Usage = func() {
		fmt.Fprintln(flag.CommandLine.Output(), "usage: bash .ci/mutate [options] [folder ...]")
		flag.PrintDefaults()
	}
	flag.Parse()
	same, err := readEquivalent(*skipped)
	if err != nil {
		fail(err)
	}
	r.same = same
	start := time.Now()
	good, err := r.folders(flag.Args(), *list)
	if err != nil {
		fail(err)
	}
	if !*list {
		fmt.Printf("%v\n", time.Since(start).Round(time.Second))
	}
	if !good {
		os.Exit(1)
	}
}

// fail ends the run: nothing can be said of the mutants.
func fail(err error) {
	fmt.Fprintln(os.Stderr, "mutate:", err)
	os.Exit(2)
}

// folders judges the mutants of folders, of the counted ones by default, and tells whether the goals are reached.
func (r *run) folders(named []string, list bool) (good bool, err error) {
	folders := named
	if len(named) == 0 {
		folders = counted
	}
	good = true
	var together score
	for _, folder := range folders {
		folder = filepath.ToSlash(filepath.Clean(folder))
		if found, _ := filepath.Glob(filepath.Join(folder, "*.go")); len(found) == 0 {
			if len(named) > 0 {
				return false, fmt.Errorf("%s holds no Go files", folder)
			}
			fmt.Printf("%s is not there\n", folder)
			continue
		}
		s, err := r.folder(folder, list)
		if err != nil {
			return false, err
		}
		if len(s.stale) > 0 {
			good = false
		}
		if isCounted(folder) {
			together.killed, together.all = together.killed+s.killed, together.all+s.all
			good = good && s.percent() >= goalEach
		}
	}
	if !list && together.all > 0 {
		fmt.Printf("together %d of %d killed, %.0f %%; asked for: %d %%, and %d %% in each\n", together.killed, together.all,
			together.percent(), goalTogether, goalEach)
		good = good && together.percent() >= goalTogether
	}
	return good, nil
}

// isCounted tells whether the goals are for a folder.
func isCounted(folder string) bool { return slices.Contains(counted, folder) }
