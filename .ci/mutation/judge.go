package main

import (
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"time"
)

// run is how mutants are made and judged.
type run struct {
	most    int
	seed    uint64
	jobs    int
	command string
	full    bool
	limit   time.Duration
	file    string
	tell    bool // tell of each survivor at once too, on the standard error
	same    []listed
}

// score counts what became of mutants.
type score struct {
	killed, all int
	stale       []listed
}

func (s score) percent() float64 {
	if s.all == 0 {
		return 100
	}
	return 100 * float64(s.killed) / float64(s.all)
}

// verdict is what the tests say of a mutant.
type verdict int

const (
	pending verdict = iota
	killed
	survived
	refused // by the compiler
)

// folder judges the mutants of one package and prints what survives.
func (r *run) folder(folder string, list bool) (s score, err error) {
	all, err := find(folder, r.seed)
	if err != nil {
		return s, err
	}
	kept, left, stale := leaveOut(all, r.same, folder)
	if r.file != "" {
		var of []mutant
		for _, m := range kept {
			if filepath.Base(m.file) == r.file {
				of = append(of, m)
			}
		}
		kept = of
	}
	if list {
		for _, m := range kept {
			fmt.Printf("%s:%d %s\n  %s\n", m.file, m.line, m.function, m.change)
		}
		return s, nil
	}
	limit, err := r.limitOf(folder)
	if err != nil {
		return s, err
	}
	verdicts, err := r.judge(folder, kept, limit)
	if err != nil {
		return s, err
	}
	s.stale = stale
	broken := 0
	for _, v := range verdicts {
		switch v {
		case killed:
			s.killed++
			s.all++
		case survived:
			s.all++
		case refused:
			broken++
		}
	}
	fmt.Printf("%s: %d of %d killed, %.0f %%; %d possible, %d did not compile, %d equivalent left out\n", folder, s.killed, s.all,
		s.percent(), len(all), broken, left)
	for i, v := range verdicts {
		if m := kept[i]; v == survived {
			fmt.Printf("  survived: %s:%d %s\n    %s\n", m.file, m.line, m.function, m.change)
		}
	}
	for _, e := range stale {
		fmt.Printf("  listed as equivalent, but not there: %s %s\n    %s\n", e.file, e.function, e.change)
	}
	return s, nil
}

// took finds the time that the tests of a package took.
var took = regexp.MustCompile(`(?m)^ok\s+\S+\s+([0-9.]+)s`)

// limitOf is the time that a mutant has, from a run of the tests of the package as it is: they must pass.
func (r *run) limitOf(folder string) (time.Duration, error) {
	out, err := r.test(folder, "", "-count=1")
	if err != nil {
		return 0, fmt.Errorf("the tests of %s do not pass: %v\n%s", folder, err, out)
	}
	if r.limit > 0 {
		return r.limit, nil
	}
	m := took.FindStringSubmatch(out)
	if m == nil {
		return 0, fmt.Errorf("%s has no tests: %s", folder, out)
	}
	seconds, err := strconv.ParseFloat(m[1], 64)
	if err != nil {
		return 0, err
	}
	const ten = 10 * time.Second
	return (ten + time.Duration(5*seconds*float64(time.Second))).Truncate(ten) + ten, nil
}

// test runs the tests of one package.
func (r *run) test(folder, overlay string, options ...string) (out string, err error) {
	args := append([]string{"test", "-vet=off", "-failfast"}, options...)
	if !r.full {
		args = append(args, "-short")
	}
	if overlay != "" {
		args = append(args, "-overlay", overlay)
	}
	b, err := exec.Command(r.command, append(args, "./"+folder)...).CombinedOutput()
	return string(b), err
}

// judge runs the tests against mutants in their order, until as many as asked for have compiled. A mutant is begun only where
// those before it, were all of them to compile, would not be enough: which are judged does not hang on which end first.
func (r *run) judge(folder string, all []mutant, limit time.Duration) ([]verdict, error) {
	verdicts := make([]verdict, len(all))
	var mu sync.Mutex
	free := sync.NewCond(&mu)
	var failed error
	next, counts := 0, 0 // counts are those that compiled or still may
	var workers sync.WaitGroup
	for range r.jobs {
		workers.Go(func() {
			mu.Lock()
			defer mu.Unlock()
			for {
				for failed == nil && next < len(all) && r.most > 0 && counts >= r.most && pendingBefore(verdicts, next) {
					free.Wait()
				}
				if failed != nil || next >= len(all) || r.most > 0 && counts >= r.most {
					return
				}
				i := next
				next++
				counts++
				mu.Unlock()
				v, err := r.verdict(folder, &all[i], limit)
				mu.Lock()
				verdicts[i] = v
				if v == refused {
					counts--
				}
				if r.tell && v == survived {
					fmt.Fprintf(os.Stderr, "%s:%d %s\n  %s\n", all[i].file, all[i].line, all[i].function, all[i].change)
				}
				if err != nil {
					failed = err
				}
				free.Broadcast()
			}
		})
	}
	workers.Wait()
	return verdicts[:next], failed
}

// pendingBefore tells whether a mutant that was begun is not judged yet.
func pendingBefore(verdicts []verdict, next int) bool {
	for _, v := range verdicts[:next] {
		if v == pending {
			return true
		}
	}
	return false
}

// verdict judges one mutant.
func (r *run) verdict(folder string, m *mutant, limit time.Duration) (verdict, error) {
	dir, err := os.MkdirTemp("", "mutant")
	if err != nil {
		return pending, err
	}
	defer os.RemoveAll(dir)
	was, err := os.ReadFile(m.file)
	if err != nil {
		return pending, err
	}
	changed := filepath.Join(dir, filepath.Base(m.file))
	if err := os.WriteFile(changed, m.text(was), 0o600); err != nil {
		return pending, err
	}
	place, err := filepath.Abs(m.file)
	if err != nil {
		return pending, err
	}
	overlay, err := json.Marshal(map[string]map[string]string{"Replace": {place: changed}})
	if err != nil {
		return pending, err
	}
	over := filepath.Join(dir, "overlay.json")
	if err := os.WriteFile(over, overlay, 0o600); err != nil {
		return pending, err
	}
	out, err := r.test(folder, over, "-timeout", limit.String())
	switch {
	case err == nil:
		return survived, nil
	case strings.Contains(out, "[build failed]") || strings.Contains(out, "[setup failed]"):
		return refused, nil
	case !strings.Contains(out, "FAIL"):
		return pending, fmt.Errorf("%s:%d: %v\n%s", m.file, m.line, err, out)
	}
	return killed, nil
}
