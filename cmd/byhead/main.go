// Byhead steps the flooding of compartmented scale-model ships through time: a thin command line over its packages.
package main

import (
	"context"
	"os"
	"os/signal"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	context.AfterFunc(ctx, stop) // a second Ctrl-C ends the program at once
	status := run(ctx, os.Args[1:], os.Stdin, os.Stdout, os.Stderr, ".")
	stop()
	os.Exit(status)
}
