// Command roombrief designs room-by-room automation in a home: interview, bill, rules, papers.
package main

import (
	"context"
	"fmt"
	"os"
	"os/signal"
	"runtime/debug"
	"syscall"
	"time"
	_ "time/tzdata" // sun times need time zones on machines that have none installed
)

// grace is what whoever is told to end has for it: the notebook saves in far less, and nothing that is left half done has
// been written. What waits for input, or is deep in a reckoning, doesn't hear of it at all.
const grace = 2 * time.Second

func main() {
	// A proof makes much that lives for a moment. Collecting it later makes a home a quarter quicker to prove, and costs memory up to a bound.
	debug.SetGCPercent(400)
	debug.SetMemoryLimit(512 << 20)
	ctx, stop := signal.NotifyContext(context.Background(), syscall.SIGTERM, syscall.SIGHUP)
	context.AfterFunc(ctx, func() {
		time.Sleep(grace)
		fmt.Fprintln(os.Stderr, "roombrief: "+stopped)
		os.Exit(badCall)
	})
	code := run(ctx, process{
		args: os.Args[1:], in: os.Stdin, out: os.Stdout, err: os.Stderr,
		inFile: os.Stdin, outFile: os.Stdout, env: os.Getenv,
	})
	stop()
	os.Exit(code)
}
