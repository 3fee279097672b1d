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
	files := System{&unfinished{names: map[string]bool{}}}
	stop := make(chan os.Signal, 1)
	signal.Notify(stop, os.Interrupt, syscall.SIGTERM, syscall.SIGHUP)
	go files.held.endAt(stop)
	streams := Streams{os.Stdin, os.Stdout, os.Stderr, isTerminal(os.Stdout), isTerminal(os.Stderr)}
	os.Exit(Run(context.Background(), os.Args[1:], streams, os.Getenv, files, time.Now()))
}

// endAt ends the process when it is interrupted, and leaves no temporary file and no lock behind. A file that was being written is
// whole or as it was.
func (h *unfinished) endAt(stop <-chan os.Signal) {
	status := 130
	switch <-stop {
	case syscall.SIGTERM:
		status = 143
	case syscall.SIGHUP:
		status = 129
	}
	h.end()
	os.Exit(status)
}
