//go:build ignore

// Command cold times a command from a cold start: median and least of several runs, output thrown away.
package main

import (
	"fmt"
	"os"
	"os/exec"
	"slices"
	"strconv"
	"time"
)

func main() {
	n, err := strconv.Atoi(os.Args[1])
	if err != nil {
		panic(err)
	}
	var took []time.Duration
	for range n {
		start := time.Now()
		_ = exec.Command(os.Args[2], os.Args[3:]...).Run() // a status of 1 is a finding
		took = append(took, time.Since(start))
	}
	slices.Sort(took)
	fmt.Printf("median %v, least %v of %d runs\n", took[n/2].Round(10*time.Microsecond), took[0].Round(10*time.Microsecond), n)
}
