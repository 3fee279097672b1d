//go:build ignore

// Command cold times a command from a cold start: median and least of several runs and the most memory of one, output thrown
// away. With -most and -memory it fails where the median or the memory is above.
package main

import (
	"flag"
	"fmt"
	"os"
	"os/exec"
	"slices"
	"strconv"
	"syscall"
	"time"
)

func main() {
	most := flag.Duration("most", 0, "the longest median that is allowed; 0 for any")
	memory := flag.Int64("memory", 0, "the most memory that is allowed, MB; 0 for any")
	flag.Parse()
	n, err := strconv.Atoi(flag.Arg(0))
	if err != nil {
		panic(err)
	}
	var took []time.Duration
	var largest int64
	for range n {
		c := exec.Command(flag.Arg(1), flag.Args()[2:]...)
		start := time.Now()
		_ = c.Run() // a status of 1 is a finding
		took = append(took, time.Since(start))
		if u, ok := c.ProcessState.SysUsage().(*syscall.Rusage); ok {
			largest = max(largest, int64(u.Maxrss)<<10/1_000_000)
		}
	}
	slices.Sort(took)
	fmt.Printf("median %v, least %v of %d runs, %d MB\n", took[n/2].Round(10*time.Microsecond),
		took[0].Round(10*time.Microsecond), n, largest)
	if *most > 0 && took[n/2] > *most || *memory > 0 && largest > *memory {
		fmt.Printf("more than %v or %d MB\n", *most, *memory)
		os.Exit(1)
	}
}
