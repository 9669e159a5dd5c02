package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"stowbay/layout"
	"stowbay/layout/check"
	"stowbay/vehicles"
)

// chosen is the --arrangement option shared by several commands.
type chosen struct{ id string }

func (c *chosen) flag(cmd *cobra.Command) {
	cmd.Flags().StringVarP(&c.id, "arrangement", "a", "", "only this arrangement, by its id")
}

// of returns the arrangements chosen.
func (c *chosen) of(p *layout.Plan) ([]*layout.Arrangement, error) {
	if c.id == "" {
		return p.Arrangements, nil
	}
	for _, a := range p.Arrangements {
		if a.ID == c.id {
			return []*layout.Arrangement{a}, nil
		}
	}
	return nil, fmt.Errorf("the plan has no arrangement %q; it has %s", c.id, strings.Join(arrangementIDs(p), ", "))
}

func arrangementIDs(p *layout.Plan) []string {
	var ids []string
	for _, a := range p.Arrangements {
		ids = append(ids, a.ID)
	}
	return ids
}

// library returns the catalogue with the plan's own records in front.
func library(p *layout.Plan) *vehicles.Library {
	return p.LibraryOver(vehicles.Catalogue())
}

func evaluate(p *layout.Plan, as []*layout.Arrangement) []*check.Evaluation {
	lib := library(p)
	out := make([]*check.Evaluation, len(as))
	for i, a := range as {
		out[i] = check.Evaluate(p, a, lib, nil)
	}
	return out
}

// verdict is errFindings where some finding fails.
func verdict(es []*check.Evaluation) error {
	for _, e := range es {
		if e.Counts()[check.Fails] > 0 {
			return errFindings
		}
	}
	return nil
}
