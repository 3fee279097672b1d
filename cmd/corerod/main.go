// Command corerod reviews part drawings for pressing and sintering. See the README for its commands.
package main

import (
	"context"
	"os"
	"os/signal"
	"runtime/debug"
	"time"
)

func main() {
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(400) // a review is short: collect less often
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	status := Run(ctx, os.Args[1:], Streams{os.Stdin, os.Stdout, os.Stderr}, os.Getenv, System{}, time.Now())
	stop()
	os.Exit(status)
}
