package tui

import (
	"context"
	"errors"
	"io"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/ansi"

	"example.org/roombrief/model"
	"example.org/roombrief/planner/papers"
	"example.org/roombrief/planner/proof"
	"example.org/roombrief/planner/rules"
	"example.org/roombrief/tui/start"
	"example.org/roombrief/tui/theme"
)

const small = `roombrief: 1
home:
  name: 14 Alder Row
  units: metric
  currency: GBP
  walls: brick
people:
  - {id: rosa, name: Rosa, role: owner, alerts: true}
rooms:
  - id: shower-room
    name: Shower room
    kind: shower room
    circuits:
      - {id: ceiling, lamps: 3, dimmable: unknown, switch: box-1}
    switches:
      - {id: box-1, gangs: 2, neutral: unknown, depth: 35 mm, by: door}
`

// memory is a disk that can be made to fail.
type memory struct {
	file, draft string
	aside       string
	keeps       int
	saves       int
	fail        error
	discarded   bool
	closed      bool
}

func (m *memory) Keep(b []byte) error {
	m.keeps++
	m.draft = string(b)
	return nil
}

func (m *memory) Save(b []byte) error {
	if m.fail != nil {
		return m.fail
	}
	m.saves++
	m.file, m.draft = string(b), ""
	return nil
}

func (m *memory) Overwrite(b []byte) (string, error) {
	m.fail = nil
	return "home.theirs.yaml", m.Save(b)
}

func (m *memory) Peek() ([]byte, error) { return []byte(m.file), nil }

func (m *memory) Read() ([]byte, error) {
	m.fail = nil
	return []byte(m.file), nil
}

func (m *memory) Aside(b []byte) (string, error) {
	m.aside = string(b)
	return "home.aside.yaml", nil
}

func (m *memory) Discard() error { m.discarded = true; return nil }
func (m *memory) Remember()      {}
func (m *memory) Close() error   { m.closed = true; return nil }

// bench is a root on a disk in memory, with the Cmds that it started waiting to be run.
type bench struct {
	t    testing.TB
	r    *root
	disk *memory
	wait []tea.Cmd
	late []tea.Msg // of timers
	quit bool
}

func testOptions(b *bench) Options {
	o := Options{
		Today:   func() time.Time { return time.Date(2026, 3, 2, 9, 0, 0, 0, time.UTC) },
		Env:     func(string) string { return "" },
		Program: "Roombrief test",
		after: func(_ time.Duration, msg tea.Msg) tea.Cmd {
			b.late = append(b.late, msg)
			return nil
		},
		open: func(file string, _ bool, source []byte) (*Opened, error) {
			return &Opened{Disk: b.disk, File: file, Source: source}, nil
		},
		writePapers: func(string, []papers.Paper) error { return nil },
		prove: func(context.Context, *model.Project, rules.Sheet, string) ([]proof.Verdict, error) {
			return nil, nil // tests of promises prove for themselves
		},
		offers: func() start.Options { return start.Options{} },
	}
	return o.filled()
}

func testTheme() theme.Theme {
	return theme.New(lipgloss.NewRenderer(io.Discard), theme.Options{Dark: true})
}

// newBench opens source in a window.
func newBench(t testing.TB, source string, w, h int, change ...func(*Opened)) *bench {
	b := &bench{t: t, disk: &memory{file: source}}
	b.r = newRoot(testOptions(b), testTheme())
	b.r.resize(w, h)
	it := &Opened{Disk: b.disk, File: "home.yaml", Source: []byte(source)}
	for _, c := range change {
		c(it)
	}
	if err := b.r.begin(it); err != nil {
		t.Fatal(err)
	}
	b.take(b.r.Init())
	return b
}

func (b *bench) take(cmd tea.Cmd) {
	if cmd != nil {
		b.wait = append(b.wait, cmd)
	}
}

func (b *bench) send(msg tea.Msg) {
	_, cmd := b.r.Update(msg)
	b.take(cmd)
}

// settle runs everything that waits, and what comes of it; timers stay where they are.
func (b *bench) settle() { b.settleUntil(func() bool { return false }) }

// settleUntil carries out what waits until nothing does, or until it is enough.
func (b *bench) settleUntil(enough func() bool) {
	for len(b.wait) > 0 && !enough() {
		cmd := b.wait[0]
		b.wait = b.wait[1:]
		switch msg := cmd().(type) {
		case nil:
		case tea.BatchMsg:
			for _, c := range msg {
				b.take(c)
			}
		case tea.QuitMsg:
			b.quit = true
		default:
			b.send(msg)
		}
	}
}

// ring lets the timers run out.
func (b *bench) ring() {
	late := b.late
	b.late = nil
	for _, msg := range late {
		b.send(msg)
	}
	b.settle()
}

var named = map[string]tea.KeyType{
	"enter": tea.KeyEnter, "esc": tea.KeyEsc, "tab": tea.KeyTab, "shift+tab": tea.KeyShiftTab, "up": tea.KeyUp, "down": tea.KeyDown,
	"ctrl+c": tea.KeyCtrlC, "ctrl+d": tea.KeyCtrlD, "ctrl+p": tea.KeyCtrlP, "ctrl+u": tea.KeyCtrlU, "ctrl+r": tea.KeyCtrlR, "ctrl+t": tea.KeyCtrlT,
	"f1": tea.KeyF1, "space": tea.KeySpace, "backspace": tea.KeyBackspace,
}

func keyMsg(name string) tea.KeyMsg {
	if k, ok := named[name]; ok {
		return tea.KeyMsg{Type: k}
	}
	return tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(name)}
}

// press presses keys by name, and lets what they start run out.
func (b *bench) press(names ...string) *bench {
	for _, n := range names {
		b.send(keyMsg(n))
		b.settle()
	}
	return b
}

func (b *bench) view() string { return ansi.Strip(b.r.View()) }

func (b *bench) sees(text string) {
	b.t.Helper()
	if !strings.Contains(b.view(), text) {
		b.t.Errorf("the screen does not say %q:\n%s", text, b.view())
	}
}

func (b *bench) source() string { return string(b.r.session.hist.now().Source()) }

// answered gives one answer in the interview.
func answered(t testing.TB) *bench {
	b := newBench(t, small, 80, 24)
	b.settle()
	b.press("2", "enter")
	if b.source() == small {
		t.Fatalf("taking the default changed nothing:\n%s", b.view())
	}
	return b
}

func TestAnAnswerIsADraftAtOnceAndASaveWhenItIsQuiet(t *testing.T) {
	b := answered(t)
	if b.disk.draft != b.source() {
		t.Error("no draft was kept")
	}
	if b.disk.saves != 0 {
		t.Error("saved before it was quiet")
	}
	b.press("enter")
	b.ring()
	if b.disk.saves != 1 || b.disk.file != b.source() {
		t.Errorf("%d saves after two answers", b.disk.saves)
	}
	b.sees("saved")
}

func TestQuittingSavesFirst(t *testing.T) {
	b := answered(t).press("ctrl+c")
	if !b.quit || b.disk.file != b.source() {
		t.Errorf("left: %v; saved: %v", b.quit, b.disk.file == b.source())
	}
}

func TestQuittingWithoutAChangeWritesNothing(t *testing.T) {
	b := newBench(t, small, 80, 24)
	b.settle()
	b.press("ctrl+c")
	if !b.quit || b.disk.saves+b.disk.keeps != 0 {
		t.Errorf("left: %v; writes: %d", b.quit, b.disk.saves+b.disk.keeps)
	}
}

func TestASignalSavesAndLeavesEvenWhenItCannot(t *testing.T) {
	b := answered(t)
	b.disk.fail = ErrElsewhere
	b.send(leave{})
	b.settle()
	if !b.quit {
		t.Error("stayed")
	}
	if b.disk.draft != b.source() {
		t.Error("the draft is gone")
	}
	if err := b.r.close(); !errors.Is(err, ErrElsewhere) || !b.disk.closed {
		t.Errorf("closed with %v, given back: %v", err, b.disk.closed)
	}
}

func TestAFullDiskIsSaidAndLeavingAsks(t *testing.T) {
	b := answered(t)
	b.disk.fail = errors.New("no space left on the disk")
	b.ring()
	b.sees("Not saved: no space left on the disk.")
	b.disk.fail = nil
	b.ring()
	if b.disk.file != b.source() {
		t.Error("it is not tried again by itself")
	}
	b.press("enter")
	b.disk.fail = errors.New("no space left on the disk")
	b.press("ctrl+c")
	if b.quit {
		t.Fatal("left without saving")
	}
	b.sees("The file could not be saved")
	b.disk.fail = nil
	b.press("r")
	if !b.quit || b.disk.file != b.source() {
		t.Error("trying again did not save and leave")
	}
}

func TestUndoGoesBackToTheOpeningAndRedoForward(t *testing.T) {
	b := answered(t).press("enter", "enter")
	last := b.source()
	for range 3 {
		b.press("ctrl+u")
	}
	if b.source() != small {
		t.Error("three undos did not reach the opening")
	}
	b.press("ctrl+u")
	b.sees("Nothing has been changed since the file was opened.")
	for range 3 {
		b.press("ctrl+r")
	}
	if b.source() != last {
		t.Error("redo did not come back")
	}
}

func TestUndoStandsOnTheQuestionThatItTookBack(t *testing.T) {
	b := newBench(t, small, 80, 24)
	b.settle()
	b.press("2")
	question := b.view()
	b.press("enter", "ctrl+u")
	first := strings.Split(question, "\n")[4]
	b.sees(strings.TrimSpace(first))
}

func TestAFileChangedElsewhereIsAskedAbout(t *testing.T) {
	start := func() *bench {
		b := answered(t)
		b.disk.fail = ErrElsewhere
		b.disk.file = strings.Replace(small, "14 Alder Row", "15 Alder Row", 1)
		b.ring()
		b.sees("changed elsewhere")
		return b
	}
	b := start().press("d")
	b.sees("15 Alder Row")
	b.press("m")
	if b.disk.file != b.source() {
		t.Error("mine was not saved")
	}
	b = start()
	mine := b.source()
	b.press("t")
	if !strings.Contains(b.source(), "15 Alder Row") {
		t.Error("theirs was not taken")
	}
	b.press("ctrl+u")
	if b.source() != mine {
		t.Error("undo does not bring mine back")
	}
	b = start().press("esc")
	b.sees("Not saved")
	if b.disk.draft != b.source() {
		t.Error("the draft is gone")
	}
}

func TestUnsavedWorkIsOffered(t *testing.T) {
	draft := strings.Replace(small, "name: Rosa", "name: Rosalind", 1)
	open := func() *bench {
		b := newBench(t, small, 80, 24, func(it *Opened) { it.Draft = []byte(draft) })
		b.settle()
		b.sees("There is unsaved work")
		return b
	}
	b := open().press("esc")
	b.sees("There is unsaved work")
	b.press("d")
	b.sees("+   - {id: rosa, name: Rosalind")
	b.press("t")
	if b.source() != draft || b.disk.file != draft {
		t.Error("it was not taken and saved")
	}
	b = open().press("l")
	if b.source() != small || !b.disk.discarded || b.disk.aside != draft {
		t.Error("it was not left")
	}
}

func TestAFileForReadingOnlyStaysAsItIs(t *testing.T) {
	b := newBench(t, small, 80, 24, func(it *Opened) { it.ReadOnly = "The file may not be written to" })
	b.settle()
	b.sees("The file may not be written to.")
	b.press("enter", "2", "enter")
	b.sees("for reading only")
	if b.source() != small || b.disk.keeps+b.disk.saves != 0 {
		t.Error("it was changed")
	}
	b.press("ctrl+c")
	if !b.quit {
		t.Error("stayed")
	}
}

func TestAStalePlanIsDropped(t *testing.T) {
	b := newBench(t, small, 80, 24)
	b.settle()
	fresh := b.r.plan.plan
	if fresh == nil {
		t.Fatalf("no plan: %v", b.r.plan.fault)
	}
	b.send(planned{gen: b.r.plan.gen - 1, err: errors.New("stale")})
	if b.r.plan.plan != fresh || b.r.plan.fault != nil {
		t.Error("a stale result was taken")
	}
}

func TestTheNewestPlanWins(t *testing.T) {
	b := newBench(t, small, 80, 24)
	first := b.r.replan()
	b.wait = nil
	b.send(keyMsg("2"))
	b.send(keyMsg("enter"))
	b.settle()
	newest := b.r.plan.plan
	if msg, ok := first().(planned); !ok || msg.err == nil {
		t.Errorf("the planning that was overtaken was not stopped: %v", msg)
	} else {
		b.send(msg)
	}
	if b.r.plan.plan != newest || b.r.plan.busy {
		t.Error("the overtaken plan was taken")
	}
}

func TestFramesFitTheirWindow(t *testing.T) {
	steps := [][]string{nil, {"2"}, {"2", "?"}, {"2", "ctrl+t"}, {"2", "shift+tab"}, {"5"}, {"1"}}
	for _, size := range [][2]int{{1, 1}, {20, 5}, {39, 12}, {40, 12}, {64, 15}, {80, 24}, {100, 30}, {120, 40}, {200, 60}} {
		for _, keys := range steps {
			b := newBench(t, small, size[0], size[1])
			b.settle()
			b.press(keys...)
			lines := strings.Split(b.view(), "\n")
			if len(lines) > size[1] {
				t.Errorf("%d lines in a window of %v after %v", len(lines), size, keys)
			}
			for _, l := range lines {
				if w := ansi.StringWidth(l); w > size[0] {
					t.Errorf("%d cells in a window of %v after %v: %q", w, size, keys, l)
				}
			}
		}
	}
}

func TestATooSmallWindowSaysSoAndComesBack(t *testing.T) {
	b := newBench(t, small, 80, 24)
	b.settle()
	before := b.view()
	b.send(tea.WindowSizeMsg{Width: 30, Height: 8})
	b.sees("This window is 30 by 8")
	b.press("enter", "x", "2")
	b.send(tea.WindowSizeMsg{Width: 80, Height: 24})
	if b.view() != before {
		t.Errorf("not the same page:\n%s", b.view())
	}
}

func TestEscLosesNothing(t *testing.T) {
	b := newBench(t, small, 80, 24)
	b.settle()
	b.press("2", "ctrl+t", "n", "o", "t", " ", "blinded", "esc")
	b.press("ctrl+t")
	b.sees("not blinded")
}

func TestAnOffKeySaysWhy(t *testing.T) {
	b := newBench(t, small, 80, 24)
	b.settle()
	b.press("u")
	b.sees("Nothing has been changed since the file was opened.")
}

func TestAFileWithMistakesIsRefusedWithAllOfThem(t *testing.T) {
	b := &bench{t: t, disk: &memory{}}
	b.r = newRoot(testOptions(b), testTheme())
	bad := strings.ReplaceAll(small, "walls: brick", "walls: cheese\n  currency: shells")
	err := b.r.begin(&Opened{Disk: b.disk, File: "home.yaml", Source: []byte(bad)})
	var mistakes *BadFile
	if !errors.As(err, &mistakes) || len(mistakes.Problems) == 0 {
		t.Fatalf("got %v", err)
	}
	if !strings.Contains(err.Error(), "home.yaml") {
		t.Errorf("%v does not name the file", err)
	}
}

func TestAPanicSavesAndLeavesWithoutAStack(t *testing.T) {
	b := answered(t)
	g := guard{b.r}
	_, cmd := g.Update(later(func(*root) tea.Cmd { panic("a slip") }))
	if cmd == nil {
		t.Fatal("it goes on")
	}
	if _, ok := cmd().(tea.QuitMsg); !ok {
		t.Error("it does not leave")
	}
	if err := b.r.close(); err != nil || b.disk.file != b.source() {
		t.Errorf("not saved: %v", err)
	}
	if !errors.Is(b.r.fault, ErrFault) || strings.Contains(b.r.fault.Error(), "goroutine") {
		t.Errorf("said as %v", b.r.fault)
	}
	if msg, ok := safely(func() tea.Msg { panic("in a Cmd") })().(broken); !ok || msg.what != "in a Cmd" {
		t.Errorf("a Cmd's panic became %v", msg)
	}
}
