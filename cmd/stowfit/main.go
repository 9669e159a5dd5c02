// Command stowfit packs, checks and reports plans without a screen.
//
// Exit codes: 0 all rules hold, 1 some finding fails, 2 bad input (nothing is written).
package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/signal"

	"github.com/spf13/cobra"
)

// Exit codes.
const (
	exitFindings = 1
	exitBadInput = 2
)

// errFindings says that the work was done and some finding fails.
var errFindings = errors.New("some findings fail")

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	os.Exit(run(ctx, os.Args[1:]))
}

func run(ctx context.Context, args []string) int {
	root := command()
	root.SetArgs(args)
	switch err := root.ExecuteContext(ctx); {
	case err == nil:
		return 0
	case errors.Is(err, errFindings):
		return exitFindings
	default:
		fmt.Fprintln(os.Stderr, err)
		return exitBadInput
	}
}

func command() *cobra.Command {
	root := &cobra.Command{
		Use:           "stowfit",
		Short:         "Pack, check and report battery layouts for converted road vehicles",
		Long:          "stowfit packs battery modules into the bays of a donor vehicle, checks the arrangement and writes the fit report.\n\nExit codes: 0 all rules hold, 1 some finding fails, 2 bad input (nothing is written).",
		SilenceUsage:  true,
		SilenceErrors: true,
		Args:          noSuchCommand,
		RunE:          func(cmd *cobra.Command, _ []string) error { return cmd.Help() },
	}
	root.SuggestionsMinimumDistance = 2
	root.SetFlagErrorFunc(flagTrouble)
	root.AddCommand(demoCommand(), newCommand(), packCommand(), checkCommand(), compareCommand(), searchCommand(), reportCommand(), recordCommand(), stepsCommand(), donorsCommand(), modulesCommand(), gearCommand(), fieldsCommand())
	return root
}
