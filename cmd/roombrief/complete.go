package main

import (
	"strings"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model/projectfile"

	"github.com/spf13/cobra"
)

// completion of what stands on a command line: files by their ending, rooms from the file, parts from the catalogue.
type completion = func(c *cobra.Command, args []string, start string) ([]string, cobra.ShellCompDirective)

// projectFiles offers files that a project may be in, and nothing behind the first.
func projectFiles(c *cobra.Command, args []string, start string) ([]string, cobra.ShellCompDirective) {
	if len(args) > 0 {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	return []string{"yaml", "yml"}, cobra.ShellCompDirectiveFilterFileExt
}

// roomsOf offers the rooms of the file that the command is about; a file with mistakes in it has those that can be read.
func roomsOf(p process) completion {
	return func(c *cobra.Command, args []string, start string) ([]string, cobra.ShellCompDirective) {
		if len(args) == 0 || args[0] == "-" {
			return nil, cobra.ShellCompDirectiveNoFileComp
		}
		src, err := source(p, args[0])
		if err != nil {
			return nil, cobra.ShellCompDirectiveNoFileComp
		}
		var out []string
		for _, r := range projectfile.Parse(src).Project().Rooms {
			if strings.HasPrefix(r.ID, start) {
				out = append(out, r.ID+"\t"+r.Title())
			}
		}
		return out, cobra.ShellCompDirectiveNoFileComp | cobra.ShellCompDirectiveKeepOrder
	}
}

func partIDs(c *cobra.Command, args []string, start string) ([]string, cobra.ShellCompDirective) {
	var out []string
	if len(args) == 0 {
		for _, x := range fixtures.Catalogue().Parts {
			if strings.HasPrefix(x.ID, start) {
				out = append(out, x.ID+"\t"+x.Name)
			}
		}
	}
	return out, cobra.ShellCompDirectiveNoFileComp
}

func partKinds(c *cobra.Command, args []string, start string) ([]string, cobra.ShellCompDirective) {
	kinds := map[string]bool{}
	for _, x := range fixtures.Catalogue().Parts {
		if strings.HasPrefix(x.Kind, start) {
			kinds[x.Kind] = true
		}
	}
	return sorted(kinds), cobra.ShellCompDirectiveNoFileComp
}

// complete gives every command that reads a project its files and rooms.
func complete(p process, root *cobra.Command) {
	for _, c := range append(root.Commands(), root) {
		if strings.Contains(c.Use, "FILE") {
			c.ValidArgsFunction = projectFiles
		}
		if c.Flags().Lookup("room") != nil {
			_ = c.RegisterFlagCompletionFunc("room", roomsOf(p)) // fails only for a flag that isn't there
		}
	}
}
