// Package tui is the terminal UI: a surveyor's notebook of one page at a time over a project file.
package tui

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"syscall"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/term"
	"github.com/mattn/go-runewidth"
	"github.com/muesli/termenv"

	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/planner"
	"example.org/roombrief/planner/papers"
	"example.org/roombrief/planner/proof"
	"example.org/roombrief/planner/remedy"
	"example.org/roombrief/planner/rules"
	"example.org/roombrief/tui/page"
	_ "example.org/roombrief/tui/quiet" // before the terminal library asks its question
	"example.org/roombrief/tui/start"
	"example.org/roombrief/tui/theme"
)

// Options of a run.
type Options struct {
	File      string // "" opens the start page
	Interview bool   // open on the interview
	Room      string // of this room; "" is the home, or the first room
	Today     func() time.Time
	In, Out   *os.File
	Env       func(string) string
	Program   string // name and version, for the papers

	open        func(file string, create bool, source []byte) (*Opened, error)
	writePapers func(dir string, all []papers.Paper) error
	prove       func(ctx context.Context, p *model.Project, sheet rules.Sheet, room string) ([]proof.Verdict, error)
	fail        func(ctx context.Context, p *model.Project, sheet rules.Sheet, room string) ([]proof.Verdict, error)
	blame       func(ctx context.Context, p *model.Project, plan *planner.Plan, room string, vs []proof.Verdict) ([]planner.Blame, error)
	apply       func(ctx context.Context, p *model.Project, c *catalogue.Catalogue, plan *planner.Plan, room string) ([]remedy.Applied, error)
	mend        func(ctx context.Context, p *model.Project, c *catalogue.Catalogue, v proof.Verdict) (remedy.Result, error)
	offers      func() start.Options
	after       func(time.Duration, tea.Msg) tea.Cmd
}

// ErrNoTerminal says that there is nothing to draw on.
var ErrNoTerminal = errors.New("this needs a terminal to draw on; the commands interview --plain, bill, rules and readback work without one")

// framesPerSecond bounds how long a finished frame waits to be drawn, at the first paint as after a key.
const framesPerSecond = 120

// Run opens the notebook and returns when it is closed, with everything saved. The error is a sentence:
// ErrNoTerminal, a *BadFile, or why the file could not be opened or saved.
func Run(ctx context.Context, o Options) error {
	o = o.filled()
	if !term.IsTerminal(o.In.Fd()) || !term.IsTerminal(o.Out.Fd()) {
		return ErrNoTerminal
	}
	r := newRoot(o, newTheme(o.Out, o.Env))
	if err := r.first(); err != nil {
		return err
	}
	p := tea.NewProgram(guard{r}, tea.WithInput(o.In), tea.WithOutput(o.Out), tea.WithAltScreen(),
		tea.WithMouseCellMotion(), tea.WithoutSignalHandler(), tea.WithFPS(framesPerSecond))
	stop := relay(ctx, p)
	_, err := p.Run()
	stop()
	if last := r.close(); last != nil {
		return last
	}
	if r.fault != nil {
		return r.fault
	}
	if err != nil && !errors.Is(err, tea.ErrProgramKilled) {
		return err
	}
	return nil
}

func (o Options) filled() Options {
	if o.Today == nil {
		o.Today = time.Now
	}
	if o.In == nil {
		o.In = os.Stdin
	}
	if o.Out == nil {
		o.Out = os.Stdout
	}
	if o.Env == nil {
		o.Env = os.Getenv
	}
	if o.Program == "" {
		o.Program = "Roombrief"
	}
	if o.open == nil {
		o.open = o.openStored
	}
	if o.after == nil {
		o.after = func(d time.Duration, msg tea.Msg) tea.Cmd {
			return tea.Tick(d, func(time.Time) tea.Msg { return msg })
		}
	}
	if o.offers == nil {
		o.offers = o.storedOffers
	}
	if o.writePapers == nil {
		o.writePapers = writePapers
	}
	m := &recall{}
	if o.prove == nil {
		o.prove = m.prove
	}
	if o.fail == nil {
		o.fail = m.fail
	}
	if o.blame == nil {
		o.blame = m.blame
	}
	if o.apply == nil {
		o.apply = m.apply
	}
	if o.mend == nil {
		o.mend = m.mend
	}
	return o
}

// newTheme draws on out as the environment says.
func newTheme(out io.Writer, env func(string) string) theme.Theme {
	runewidth.DefaultCondition.EastAsianWidth = false
	t := theme.FromEnv(env)
	profile := termenv.Ascii
	if t.Colour {
		profile = termenv.NewOutput(out, termenv.WithEnvironment(environ(env)), termenv.WithTTY(true)).EnvColorProfile()
	}
	r := lipgloss.NewRenderer(out, termenv.WithProfile(profile))
	r.SetColorProfile(profile)
	r.SetHasDarkBackground(t.Dark)
	return theme.New(r, t)
}

// environ lets the colour library read the same environment as everything else.
type environ func(string) string

func (e environ) Environ() []string        { return nil }
func (e environ) Getenv(key string) string { return e(key) }

// first opens the file that was named, or the start page.
func (r *root) first() error {
	if r.o.File == "" {
		r.pages[page.Start] = start.New(r.o.offers())
		r.turn(place{page: page.Start}, false)
		return nil
	}
	it, err := r.o.open(r.o.File, true, nil)
	if err != nil {
		return err
	}
	if err := r.begin(it); err != nil {
		it.Disk.Close()
		return err
	}
	if room := r.o.Room; room != "" {
		if _, ok := r.snapshot().RoomNow(); !ok {
			it.Disk.Close()
			return fmt.Errorf("there is no room %q in %s", room, r.o.File)
		}
	}
	return nil
}

// relay turns signals and the end of ctx into a request to save and leave.
func relay(ctx context.Context, p *tea.Program) (stop func()) {
	signals := make(chan os.Signal, 1)
	signal.Notify(signals, os.Interrupt, syscall.SIGTERM, syscall.SIGHUP)
	end := make(chan struct{})
	go func() {
		select {
		case <-signals:
		case <-ctx.Done():
		case <-end:
			return
		}
		p.Send(leave{})
	}()
	return func() {
		signal.Stop(signals)
		close(end)
	}
}

// close saves what a sudden end left unsaved and gives the file back.
func (r *root) close() error {
	s := r.session
	if s == nil {
		return nil
	}
	r.proof.stop()
	if r.plan.cancel != nil {
		r.plan.cancel()
	}
	err := r.lastFault
	if s.readOnly == "" && !s.saver.clean && !r.abandoned {
		err = s.disk.Save(s.hist.now().Source())
	}
	return errors.Join(err, s.disk.Close())
}
