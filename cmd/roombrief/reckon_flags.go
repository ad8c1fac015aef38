package main

import (
	"encoding"
	"fmt"
	"math"
	"sort"
	"strconv"
	"strings"

	q "example.org/roombrief/model/quantity"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

type flag = pflag.Flag

// given is a flag that reads a quantity with its unit.
type given[T any, P interface {
	*T
	encoding.TextUnmarshaler
}] struct {
	v    T
	text string
}

func (g *given[T, P]) Set(s string) error {
	if err := P(&g.v).UnmarshalText([]byte(s)); err != nil {
		return err
	}
	g.text = s
	return nil
}

func (g *given[T, P]) String() string { return g.text }
func (g *given[T, P]) Type() string   { return "quantity" }

// quantity adds such a flag; def may be "".
func quantity[T any, P interface {
	*T
	encoding.TextUnmarshaler
}](c *cobra.Command, name, def, usage string) *given[T, P] {
	g := &given[T, P]{}
	if def != "" {
		if err := g.Set(def); err != nil {
			panic(err) // a default of ours that can't be read
		}
	}
	c.Flags().Var(g, name, usage)
	return g
}

// amount is a number in one of a few units that no project file has: l/min, µA, mAh.
type amount struct {
	units map[string]float64 // unit to its factor; the first named is factor 1
	what  string
	v     float64
	text  string
}

func (a *amount) Set(s string) error {
	t := strings.TrimSpace(s)
	end := strings.LastIndexAny(t, "0123456789.") + 1
	number, unit := strings.TrimSpace(t[:end]), strings.TrimSpace(t[end:])
	if i := strings.IndexFunc(t, func(r rune) bool { return !strings.ContainsRune("+-0123456789.", r) }); i >= 0 {
		number, unit = t[:i], strings.TrimSpace(t[i:])
	}
	v, err := strconv.ParseFloat(number, 64)
	factor, ok := a.units[unit]
	if err != nil || !ok || math.IsInf(v, 0) {
		return fmt.Errorf("%q is no %s; its unit is %s", s, a.what, strings.Join(a.names(), " or "))
	}
	a.v, a.text = v*factor, s
	return nil
}

func (a *amount) String() string { return a.text }
func (a *amount) Type() string   { return "quantity" }

func (a *amount) names() []string {
	var out []string
	for u := range a.units {
		if u != "" {
			out = append(out, u)
		}
	}
	sort.Slice(out, func(i, j int) bool {
		if x, y := a.units[out[i]], a.units[out[j]]; x != y {
			return x == 1
		}
		return out[i] < out[j]
	})
	return out
}

func amountFlag(c *cobra.Command, name, what string, units map[string]float64, def, usage string) *amount {
	a := &amount{units: units, what: what}
	if def != "" {
		if err := a.Set(def); err != nil {
			panic(err) // a default of ours that can't be read
		}
	}
	c.Flags().Var(a, name, usage)
	return a
}

// Units of amounts, by what is measured.
var (
	waterFlow = map[string]float64{"l/min": 1, "l/s": 60, "l/h": 1.0 / 60, "gpm": 3.785412, "gal/min": 3.785412}
	pressures = map[string]float64{"bar": 1, "kPa": 0.01, "psi": 0.0689476}
	decibels  = map[string]float64{"dBm": 1}
	currents  = map[string]float64{"µA": 1, "uA": 1, "mA": 1000}
	charges   = map[string]float64{"µC": 1, "uC": 1, "mC": 1000}
	vapours   = map[string]float64{"kg/h": 1, "g/h": 0.001, "lb/h": 0.45359237}
	capacity  = map[string]float64{"mAh": 1, "Ah": 1000}
)

// sides are a room's width, depth and height, as in "2.1 m x 2.4 m x 2.35 m".
type sides struct{ width, depth, height float64 }

func (s *sides) UnmarshalText(b []byte) error {
	parts := strings.FieldsFunc(strings.ReplaceAll(string(b), " by ", "x"), func(r rune) bool { return r == 'x' || r == '×' || r == '*' })
	if len(parts) != 3 {
		return fmt.Errorf("%q is no room: give width, depth and height, as in '2.1 m x 2.4 m x 2.35 m' or '12 ft x 10 ft 6 in x 8 ft'", b)
	}
	var v [3]float64
	for i, p := range parts {
		var l q.Length
		if err := l.UnmarshalText([]byte(strings.TrimSpace(p))); err != nil {
			return err
		}
		v[i] = float64(l)
	}
	*s = sides{v[0], v[1], v[2]}
	return nil
}

func (s sides) volume() float64 { return s.width * s.depth * s.height }

// spot is a latitude and longitude, as in "53.96, -1.08".
type spot struct{ latitude, longitude float64 }

func (s *spot) UnmarshalText(b []byte) error {
	a, o, two := strings.Cut(string(b), ",")
	if !two {
		return fmt.Errorf("%q is no place: give latitude and longitude, as in '53.96, -1.08', south and west negative", b)
	}
	var lat, lon q.Degrees
	if err := lat.UnmarshalText([]byte(strings.TrimSpace(a))); err != nil {
		return err
	}
	if err := lon.UnmarshalText([]byte(strings.TrimSpace(o))); err != nil {
		return err
	}
	*s = spot{float64(lat), float64(lon)}
	return nil
}

// need refuses a call that lacks a flag without which nothing can be reckoned.
func need(c *cobra.Command, names ...string) error {
	var missing []string
	for _, n := range names {
		if !c.Flags().Changed(n) {
			missing = append(missing, "--"+n)
		}
	}
	if len(missing) > 0 {
		return fmt.Errorf("%s needs %s; see %s --help", c.CommandPath(), strings.Join(missing, " and "), c.CommandPath())
	}
	return nil
}

// only refuses more than one of some flags.
func only(c *cobra.Command, names ...string) error {
	var got []string
	for _, n := range names {
		if c.Flags().Changed(n) {
			got = append(got, "--"+n)
		}
	}
	if len(got) > 1 {
		return fmt.Errorf("give only one of %s", strings.Join(got, " and "))
	}
	return nil
}

// oneOf refuses a word that isn't known.
func oneOf(what, word string, words []string) error {
	for _, w := range words {
		if w == word {
			return nil
		}
	}
	return fmt.Errorf("no %s %q; there are %s", what, word, strings.Join(words, ", "))
}

// words are what a shell may complete a flag from.
func words(c *cobra.Command, name string, all ...string) {
	_ = c.RegisterFlagCompletionFunc(name, cobra.FixedCompletions(all, cobra.ShellCompDirectiveNoFileComp)) // fails only for a flag that isn't there
}
