package main

import (
	"fmt"
	"math"
	"regexp"
	"strings"

	"example.org/roombrief/model/caution"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/site"
	"example.org/roombrief/tui/theme"

	"github.com/charmbracelet/lipgloss"
	"github.com/spf13/cobra"
)

// reckoned is what a calculator comes to.
type reckoned struct {
	line    string   // the answer
	ok      bool     // false: something that the user should know
	taken   []string // what was taken for what wasn't given
	figures []figure
	caution string // kind of the caution that goes with it
	picture func(th theme.Theme, width int) []string
	by      string // name of its formulas, where they aren't the calculator's
	also    string // name of more formulas that it was worked out by
}

// figure is one number of an answer; one that never comes about is null in JSON.
type figure struct {
	name string // with its unit: clear_soonest_min
	v    float64
}

// reckonedJSON is `reckon … --json`.
type reckonedJSON struct {
	Reckoned string              `json:"reckoned"` // air, light, sun, radio, battery, load, water
	Answer   string              `json:"answer"`
	OK       bool                `json:"ok"`
	Figures  map[string]*float64 `json:"figures"` // names end in their units; null is never
	Taken    []string            `json:"taken"`   // what was taken for what wasn't given
	Caution  string              `json:"caution,omitempty"`
	Formulas []formulaJSON       `json:"formulas,omitempty"` // with --explain
}

type formulaJSON struct {
	Name    string   `json:"name"`
	Formula []string `json:"formula"`
	Source  string   `json:"source"`
	Range   string   `json:"range"`
	Caveats string   `json:"caveats,omitempty"`
}

// calculator is one of reckon's commands: its flags, and what it makes of them.
type calculator struct {
	name, short, long, example string
	flags                      func(c *cobra.Command)
	reckon                     func(c *cobra.Command, u q.System) (reckoned, error)
}

func reckonCommand(p process) *cobra.Command {
	c := &cobra.Command{
		Use:   "reckon air|light|sun|radio|battery|load|water",
		Short: "Reckon one figure of the trade, with its formula and source",
		Long: `The trade's calculators, one by one. Each takes quantities with their units, metric or
US, says in one line what comes of them, and what it took for what you did not give.

--explain adds the formula, its source and where it holds; --picture draws what can be
drawn, as a terminal shows without asking; --json is for other programs.

Exit status: 0 fine; 1 something that you should know (too slow, too much, too far);
2 bad input, or outside what a formula holds for.`,
		Example: `  roombrief reckon air --room '2.1 m x 2.4 m x 2.35 m' --fan '15 l/s' --shower 8m
  roombrief reckon light --room '12 ft x 14 ft x 8 ft' --lamps 6 --flux '470 lm' --task 'kitchen worktop'
  roombrief reckon sun --place '53.96, -1.08' --timezone Europe/London --edge sunset-01:00 --picture
  roombrief reckon water --from 'washer hose' --told 30s --explain`,
		Args: cobra.NoArgs,
		RunE: func(c *cobra.Command, args []string) error {
			return status{badCall, fmt.Errorf("reckon what? There are air, light, sun, radio, battery, load and water; see roombrief reckon --help")}
		},
	}
	for _, x := range []calculator{airCalculator(), lightCalculator(), sunCalculator(p), radioCalculator(), batteryCalculator(), loadCalculator(), waterCalculator()} {
		c.AddCommand(x.command(p))
	}
	return c
}

func (x calculator) command(p process) *cobra.Command {
	var asJSON, explain, picture bool
	var units string
	c := &cobra.Command{
		Use: x.name, Short: x.short, Long: x.long, Example: x.example, Args: cobra.NoArgs,
		RunE: func(c *cobra.Command, args []string) error {
			u, err := systemOf(c, units)
			if err != nil {
				return err
			}
			r, err := x.reckon(c, u)
			if err != nil {
				return status{badCall, err}
			}
			if asJSON {
				err = printJSON(p.out, r.json(x.name, explain))
			} else {
				err = r.print(p, r.formulas(x.name), explain, picture || isTerminal(p.outFile) && !c.Flags().Changed("picture"))
			}
			if err == nil && !r.ok {
				return status{heed, nil}
			}
			return err
		},
	}
	f := c.Flags()
	f.SortFlags = false
	x.flags(c)
	f.StringVar(&units, "units", "", "show metric or us units; the units of what you give when absent")
	words(c, "units", "metric", "us")
	f.BoolVar(&explain, "explain", false, "add the formula, its source and where it holds")
	f.BoolVar(&picture, "picture", false, "draw it, also where no terminal listens")
	f.BoolVar(&asJSON, "json", false, "print JSON")
	return c
}

// formulas are what it was worked out by.
func (r reckoned) formulas(calculator string) []site.Formula {
	if r.by != "" {
		calculator = r.by
	}
	return append(append([]site.Formula(nil), site.Formulas[calculator]...), site.Formulas[r.also]...)
}

func (r reckoned) json(name string, explain bool) reckonedJSON {
	out := reckonedJSON{Reckoned: name, Answer: r.line, OK: r.ok, Figures: map[string]*float64{}, Taken: r.taken, Caution: caution.Text(r.caution)}
	if out.Taken == nil {
		out.Taken = []string{}
	}
	for _, f := range r.figures {
		out.Figures[f.name] = nil
		if !math.IsInf(f.v, 0) && !math.IsNaN(f.v) {
			v := significant(f.v)
			out.Figures[f.name] = &v
		}
	}
	if explain {
		for _, f := range r.formulas(name) {
			out.Formulas = append(out.Formulas, formulaJSON{f.Name, f.Lines, f.Source, f.Range, f.Caveats})
		}
	}
	return out
}

// significant keeps six digits: more would claim what no formula here gives.
func significant(v float64) float64 {
	if v == 0 {
		return 0
	}
	scale := math.Pow(10, 5-math.Floor(math.Log10(math.Abs(v))))
	return math.Round(v*scale) / scale
}

func (r reckoned) print(p process, formulas []site.Formula, explain, picture bool) error {
	width := widthOf(p)
	var b strings.Builder
	fmt.Fprintln(&b, r.line)
	if len(r.taken) > 0 {
		fmt.Fprintln(&b, wrap("Taken: "+strings.Join(r.taken, "; ")+".", "", width))
	}
	if picture && r.picture != nil {
		th := theme.New(lipgloss.NewRenderer(p.out), theme.FromEnv(p.env))
		fmt.Fprintf(&b, "\n%s\n", strings.Join(r.picture(th, width), "\n"))
	}
	if explain {
		for _, f := range formulas {
			fmt.Fprintf(&b, "\n%s\n    %s\n", f.Name, strings.Join(f.Lines, "\n    "))
			fmt.Fprintln(&b, wrap("Source: "+f.Source+".", "  ", width))
			fmt.Fprintln(&b, wrap("Holds for: "+f.Range+".", "  ", width))
			if f.Caveats != "" {
				fmt.Fprintln(&b, wrap("Mind: "+f.Caveats+".", "  ", width))
			}
		}
	}
	if text := caution.Text(r.caution); text != "" {
		fmt.Fprintf(&b, "\n%s\n", wrap("Caution: "+text, "", width))
	}
	_, err := fmt.Fprint(p.out, b.String())
	return err
}

var usUnit = regexp.MustCompile(`[0-9] *(ft2?|foot|feet|in|inch|inches|cfm|CFM|F|°F|gpm|gal/min|fc|lb|psi|'|")( |,|$|[0-9])`)

// systemOf is the system that was asked for, or that of the quantities given.
func systemOf(c *cobra.Command, units string) (q.System, error) {
	switch units {
	case "metric":
		return q.Metric, nil
	case "us":
		return q.US, nil
	case "":
	default:
		return q.Metric, status{badCall, fmt.Errorf("units are metric or us, not %q", units)}
	}
	u := q.Metric
	c.Flags().Visit(func(f *flag) {
		if usUnit.MatchString(f.Value.String()) {
			u = q.US
		}
	})
	return u, nil
}

// unless adds what was taken to the answer, unless the flag was given.
func (r *reckoned) unless(c *cobra.Command, flag, text string, args ...any) {
	if !c.Flags().Changed(flag) {
		r.taken = append(r.taken, fmt.Sprintf(text, args...))
	}
}
