// Command roombrief designs room-by-room automation in a home: interview, bill, rules, papers.
package main

import (
	"context"
	"os"
	"os/signal"
	"runtime/debug"
	"syscall"
	_ "time/tzdata" // sun times need time zones on machines that have none installed
)

func main() {
	// A proof makes much that lives for a moment. Collecting it later makes a home a quarter quicker to prove, and costs memory up to a bound.
	debug.SetGCPercent(400)
	debug.SetMemoryLimit(512 << 20)
	ctx, stop := signal.NotifyContext(context.Background(), syscall.SIGTERM, syscall.SIGHUP)
	code := run(ctx, process{
		args: os.Args[1:], in: os.Stdin, out: os.Stdout, err: os.Stderr,
		inFile: os.Stdin, outFile: os.Stdout, env: os.Getenv,
	})
	stop()
	os.Exit(code)
}
