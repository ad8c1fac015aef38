package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"runtime/debug"
	"strings"
	"syscall"
	"time"

	"example.org/roombrief/tui/theme"

	"github.com/spf13/cobra"
)

// process is all that a command may touch of the world outside.
type process struct {
	args            []string
	in              io.Reader
	out, err        io.Writer
	inFile, outFile *os.File // the terminal, where there is one
	env             func(string) string
}

// Exit statuses, as --help states them.
const (
	fine    = 0
	heed    = 1 // something that the user should know: a need with no part, a broken promise
	badCall = 2 // bad input or usage
)

// stopped is said when the program is told to end before it is done.
const stopped = "stopped before it was done; what was saved is kept"

// status is an error with an exit status of its own; its text may be empty when all has been said.
type status struct {
	code int
	err  error
}

func (s status) Error() string {
	if s.err == nil {
		return ""
	}
	return s.err.Error()
}

func (s status) Unwrap() error { return s.err }

// run is the program: it never exits, and turns whatever goes wrong into a sentence and a status.
func run(ctx context.Context, p process) (code int) {
	defer func() {
		if r := recover(); r != nil {
			// A fault of ours must not look like one of theirs, nor spill a stack on a customer's table.
			fmt.Fprintf(p.err, "roombrief: stopped by a fault of its own (%v); the project file is as it was last saved\n", r)
			if p.env("ROOMBRIEF_FAULTS") != "" {
				fmt.Fprintf(p.err, "%s\n", debug.Stack())
			}
			code = badCall
		}
	}()
	out := &keeper{w: p.out}
	p.out = out
	if isTerminal(p.outFile) && theme.FromEnv(p.env).ASCII {
		p.out = lettered{out}
	}
	root := rootCommand(p)
	root.SetArgs(p.args)
	root.SetIn(p.in)
	root.SetOut(p.out)
	root.SetErr(p.err)
	err := root.ExecuteContext(ctx)
	if out.err != nil && !errors.Is(out.err, syscall.EPIPE) && (err == nil || err.Error() == "") {
		err = out.err // worse than whatever the lost text had to say
	}
	if err == nil || errors.Is(err, syscall.EPIPE) { // the reader had seen enough
		return fine
	}
	code = badCall
	var s status
	if errors.As(err, &s) {
		code = s.code
	}
	text := err.Error()
	if errors.Is(err, context.Canceled) {
		text = stopped
	}
	if text != "" {
		fmt.Fprintf(p.err, "roombrief: %s\n", text)
	}
	return code
}

func rootCommand(p process) *cobra.Command {
	var room string
	root := &cobra.Command{
		Use:   "roombrief [FILE]",
		Short: "Design what each room of a home does by itself",
		Long: `Roombrief is for whoever designs what the rooms of a home do by themselves: an
installer, or an owner doing their own house. It interviews the household room by
room, keeps the answers in one YAML file, and works out the devices to buy and the
rules to enter.

Without FILE it offers the projects that you opened last, and three example homes.

Exit status: 0 fine; 1 something that you should know (a need with no part, a broken promise);
2 bad input or usage.`,
		Example: `  roombrief                     choose a project or an example home
  roombrief alder-row.yaml      open a project, made when absent
  roombrief bill alder-row.yaml --json`,
		Args:          atMostOne,
		SilenceErrors: true,
		SilenceUsage:  true,
		Version:       version(),
		RunE: func(c *cobra.Command, args []string) error {
			file := ""
			if len(args) == 1 {
				file = args[0]
			}
			return openScreen(c.Context(), p, file, room, false)
		},
	}
	root.Flags().StringVar(&room, "room", "", "start in this room")
	root.SetVersionTemplate("roombrief {{.Version}}\n")
	root.SetFlagErrorFunc(func(c *cobra.Command, err error) error {
		return status{badCall, fmt.Errorf("%w; see roombrief %s--help", err, subcommand(c))}
	})
	root.AddCommand(
		interviewCommand(p), readbackCommand(p), billCommand(p), rulesCommand(p), proveCommand(p), handoverCommand(p),
		partsCommand(p), reckonCommand(p), checkCommand(p), schemaCommand(p),
	)
	root.SetHelpCommand(helpCommand(root))
	complete(p, root)
	return root
}

// atMostOne project file is opened at a time.
func atMostOne(c *cobra.Command, args []string) error {
	if len(args) > 1 {
		return status{badCall, fmt.Errorf("one project is opened at a time, and %d are named; see roombrief --help", len(args))}
	}
	return nil
}

// helpCommand is help on a command, and says so when there is no such command.
func helpCommand(root *cobra.Command) *cobra.Command {
	return &cobra.Command{
		Use:     "help [COMMAND]",
		Short:   "Help about a command",
		Example: `  roombrief help bill`,
		ValidArgsFunction: func(c *cobra.Command, args []string, start string) ([]string, cobra.ShellCompDirective) {
			var out []string
			for _, x := range root.Commands() {
				if x.IsAvailableCommand() && strings.HasPrefix(x.Name(), start) {
					out = append(out, x.Name()+"\t"+x.Short)
				}
			}
			return out, cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(c *cobra.Command, args []string) error {
			at, rest, err := root.Find(args)
			if err != nil || len(rest) > 0 {
				return status{badCall, fmt.Errorf("there is no command %q; see roombrief --help", strings.Join(args, " "))}
			}
			return at.Help()
		},
	}
}

func subcommand(c *cobra.Command) string {
	if c.HasParent() {
		return strings.TrimPrefix(c.CommandPath(), "roombrief ") + " "
	}
	return ""
}

// version of the program: the tag it was built from, or what the build knows of itself.
func version() string {
	if info, ok := debug.ReadBuildInfo(); ok && info.Main.Version != "" && info.Main.Version != "(devel)" {
		return info.Main.Version
	}
	return "0.1"
}

// today is the user's day; SOURCE_DATE_EPOCH pins it, so that papers can be reproduced.
func today(p process) time.Time {
	if s := p.env("SOURCE_DATE_EPOCH"); s != "" {
		var sec int64
		if _, err := fmt.Sscanf(s, "%d", &sec); err == nil {
			return time.Unix(sec, 0).UTC()
		}
	}
	return time.Now()
}
