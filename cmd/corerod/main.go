// Command corerod reviews part drawings for pressing and sintering. See the README for its commands.
package main

import (
	"context"
	"os"
	"runtime/debug"
	"time"
)

func main() {
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(400) // a review is short: collect less often
	}
	os.Exit(Run(context.Background(), os.Args[1:], Streams{os.Stdin, os.Stdout, os.Stderr}, os.Getenv, System{}, time.Now()))
}
