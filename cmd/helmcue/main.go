// Command helmcue coaches a sailor by voice: it listens to a phone or to
// instruments on the boat, works out the wind, and speaks short cues.
//
// Messages go to standard error: one line what, one line what to do. The exit
// status is 0 when done, 1 when it failed, 2 when it was used wrongly.
package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/signal"
	"syscall"

	"github.com/alecthomas/kong"
)

type commands struct {
	Serve  serveCmd  `cmd:"" help:"The service: hears the boats, speaks the cues, serves the pages."`
	Replay replayCmd `cmd:"" help:"Put a log through the engine as fast as it goes."`
	Report reportCmd `cmd:"" help:"A debrief of a log as one self-contained page."`
	Sim    simCmd    `cmd:"" help:"Write a simulated session, with its truth if asked."`
	Check  checkCmd  `cmd:"" help:"Is this machine ready to go sailing?"`
	Draft  draftCmd  `cmd:"" name:"chart-draft" help:"Make a first chart, or add to one, from logs of sailing there."`
}

// usageError is a mistake in how the program was called.
type usageError struct{ error }

func (u usageError) Unwrap() error { return u.error }

// hinted is an error with the line that says what to do about it.
type hinted struct {
	error
	hint string
}

func hint(err error, what string) error {
	if err == nil {
		return nil
	}
	return hinted{err, what}
}

func (h hinted) Unwrap() error { return h.error }

func main() { os.Exit(run(os.Args[1:])) }

func run(args []string) int {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	var cli commands
	exited := -1
	parser, err := kong.New(&cli, kong.Name("helmcue"),
		kong.Description("A voice in the boat for people who learn to sail.\n\nKeep a lookout first. Local rules and a licensed instructor's word outrank this program; its silence is never an all-clear."),
		kong.ConfigureHelp(kong.HelpOptions{Compact: true}),
		kong.BindTo(ctx, (*context.Context)(nil)), kong.Exit(func(code int) { exited = code }))
	if err != nil {
		return complain(err)
	}
	kctx, err := parser.Parse(args)
	if exited >= 0 { // --help was answered
		return exited
	}
	if err != nil {
		return complain(usageError{hint(err, "helmcue --help lists the commands, helmcue COMMAND --help their options")})
	}
	return complain(kctx.Run())
}

// complain writes an error and what to do, and returns the exit status.
func complain(err error) int {
	if err == nil {
		return 0
	}
	fmt.Fprintf(os.Stderr, "helmcue: %v\n", err)
	var h hinted
	if errors.As(err, &h) {
		fmt.Fprintf(os.Stderr, "  %s\n", h.hint)
	}
	var u usageError
	if errors.As(err, &u) {
		return 2
	}
	return 1
}
