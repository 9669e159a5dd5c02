package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"
)

// onePlan wants the plan's file and nothing else.
func onePlan(cmd *cobra.Command, args []string) error {
	if len(args) == 0 {
		return fmt.Errorf("which plan? 'stowfit %s PLAN'", cmd.Name())
	}
	return planOrNone(cmd, args)
}

// planOrNone wants at most one file.
func planOrNone(cmd *cobra.Command, args []string) error {
	if len(args) > 1 {
		return fmt.Errorf("one plan at a time; %q and %q were given. A path with spaces needs quotes", args[0], args[1])
	}
	return nil
}

// somePlans wants one plan's file or more.
func somePlans(cmd *cobra.Command, args []string) error {
	if len(args) == 0 {
		return fmt.Errorf("which plans? 'stowfit %s PLAN...'", cmd.Name())
	}
	return nil
}

// noSuchCommand refuses a word that is no command, with the nearest ones.
func noSuchCommand(root *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	like := root.SuggestionsFor(args[0])
	if len(like) == 0 {
		return fmt.Errorf("there is no command %q; 'stowfit --help' lists them", args[0])
	}
	return fmt.Errorf("there is no command %q; did you mean %s?", args[0], strings.Join(like, " or "))
}

// flagTrouble says where the flags of a command are listed.
func flagTrouble(cmd *cobra.Command, err error) error {
	return fmt.Errorf("%w; '%s --help' lists the flags", err, cmd.CommandPath())
}
