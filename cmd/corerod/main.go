// Command corerod reviews part drawings for pressing and sintering. See the README for its commands.
package main

import (
	"context"
	"os"
	"os/signal"
	"runtime/debug"
	"syscall"
	"time"
)

func main() {
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(400) // a review is short: collect less often
	}
	if os.Getenv("GOMEMLIMIT") == "" {
		debug.SetMemoryLimit(256 << 20) // but for many parts
	}
	signal.Ignore(syscall.SIGPIPE) // a reader that has gone is an error of writing, which is told
	streams := Streams{os.Stdin, os.Stdout, os.Stderr, isTerminal(os.Stdout), isTerminal(os.Stderr)}
	os.Exit(Run(context.Background(), os.Args[1:], streams, os.Getenv, System{}, time.Now()))
}
