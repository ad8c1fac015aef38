package main

import (
	"fmt"
	"slices"
	"sort"
	"strings"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/model/caution"
	"example.org/roombrief/model/english"
	"example.org/roombrief/model/reading"
	"example.org/roombrief/planner/bill"

	"github.com/charmbracelet/x/ansi"
	"github.com/spf13/cobra"
)

// ownJSON is where an own price of a part comes from.
type ownJSON struct {
	Supplier  string `json:"supplier"`
	Article   string `json:"article"`
	Dated     string `json:"dated"`
	Converted string `json:"converted"` // price and rate that it was converted from, "" when it was not
}

// partJSON is one part of `parts --json`.
type partJSON struct {
	ID       string             `json:"id"`
	Name     string             `json:"name"`
	Kind     string             `json:"kind"`
	Does     []string           `json:"does"`
	Radio    string             `json:"radio,omitempty"`
	Supply   string             `json:"supply,omitempty"`
	Ingress  string             `json:"ingress,omitempty"`
	Price    map[string]float64 `json:"price"`
	Own      *ownJSON           `json:"own,omitempty"` // where the price is the installer's own
	Minutes  int                `json:"minutes"`
	Caution  string             `json:"caution,omitempty"`
	Note     string             `json:"note,omitempty"`
	Channels int                `json:"channels"`
}

func partsCommand(p process) *cobra.Command {
	c := &cobra.Command{
		Use:   "parts",
		Short: "List the catalogue of generic parts",
		Example: `  roombrief parts
  roombrief parts list --kind relay
  roombrief parts list --for alder-row.yaml
  roombrief parts import huber.csv --for alder-row.yaml
  roombrief parts check own-prices.csv
  roombrief parts show leak-point-zigbee`,
		Args: noWords,
	}
	var kind, currency, project string
	var asJSON bool
	list := func(c *cobra.Command, args []string) error {
		if project != "" && !c.Flags().Changed("currency") {
			currency = ""
		}
		return listParts(p, kind, currency, project, asJSON)
	}
	c.RunE = list
	listing := &cobra.Command{
		Use: "list", Short: "List the parts", Args: noWords, RunE: list,
		Example: "  roombrief parts list --kind dimmer --currency USD",
	}
	for _, x := range []*cobra.Command{c, listing} {
		x.Flags().StringVar(&kind, "kind", "", "only this kind of part")
		x.Flags().StringVar(&currency, "currency", "GBP", "prices in GBP, EUR or USD")
		x.Flags().StringVar(&project, "for", "", "with the own prices of this project, in its currency")
		x.Flags().BoolVar(&asJSON, "json", false, "print JSON")
		_ = x.RegisterFlagCompletionFunc("kind", partKinds) // these fail only for a flag that isn't there
		_ = x.RegisterFlagCompletionFunc("currency", cobra.FixedCompletions([]string{"GBP", "EUR", "USD"}, cobra.ShellCompDirectiveNoFileComp))
	}
	var showJSON bool
	var showFor string
	show := &cobra.Command{
		Use: "show PART", Short: "Show all that is known of one part", Args: onePart,
		Example: "  roombrief parts show leak-point-zigbee",
		RunE:    func(c *cobra.Command, args []string) error { return showPart(p, args[0], showFor, showJSON) },
	}
	show.ValidArgsFunction = partIDs
	show.Flags().StringVar(&showFor, "for", "", "with the own price of this project")
	show.Flags().BoolVar(&showJSON, "json", false, "print JSON")
	c.AddCommand(listing, show, importCommand(p), partsCheckCommand(p))
	return c
}

func viewOf(x catalogue.Part) partJSON {
	v := partJSON{
		ID: x.ID, Name: x.Name, Kind: x.Kind, Does: []string{}, Radio: x.Radio, Supply: x.Supply,
		Ingress: x.Ingress, Price: x.Price, Minutes: x.Minutes, Caution: x.Caution, Note: x.Note, Channels: max(x.Channels, 1),
	}
	for _, a := range x.Does {
		v.Does = append(v.Does, string(a))
	}
	if o := x.Own; o.Supplier != "" {
		v.Own = &ownJSON{o.Supplier, o.Article, o.Dated, o.Converted}
	}
	return v
}

// shelfFor is the catalogue, with the own prices of a project where one is named, and the currency of that.
func shelfFor(p process, project string) (*catalogue.Catalogue, string, error) {
	if project == "" {
		return fixtures.Catalogue(), "", nil
	}
	doc, err := load(p, project)
	if err != nil {
		return nil, "", err
	}
	shelf, err := shelfOf(project, doc.Project())
	return shelf, doc.Project().Home.Money(), err
}

func listParts(p process, kind, currency, project string, asJSON bool) error {
	cat, money, err := shelfFor(p, project)
	if err != nil {
		return err
	}
	if currency == "" {
		currency = money
	}
	var chosen []catalogue.Part
	kinds := map[string]bool{}
	for _, x := range cat.Parts {
		kinds[x.Kind] = true
		if kind == "" || x.Kind == kind {
			chosen = append(chosen, x)
		}
	}
	if len(chosen) == 0 {
		return status{badCall, fmt.Errorf("no parts of the kind %q; kinds are %s", kind, strings.Join(sorted(kinds), ", "))}
	}
	if asJSON {
		out := []partJSON{}
		for _, x := range chosen {
			out = append(out, viewOf(x))
		}
		return printJSON(p.out, out)
	}
	if !slices.ContainsFunc(chosen, func(x catalogue.Part) bool { return x.Price[currency] > 0 }) {
		return status{badCall, fmt.Errorf("no prices in %q; there are prices in GBP, EUR and USD, and in the currency of your own list with --for", currency)}
	}
	last, idWidth := "", 0
	for _, x := range chosen {
		idWidth = max(idWidth, len(x.ID))
	}
	nameWidth := max(20, widthOf(p)-idWidth-15)
	own := 0
	for _, x := range chosen {
		if x.Kind != last {
			if last != "" {
				fmt.Fprintln(p.out)
			}
			fmt.Fprintln(p.out, x.Kind)
			last = x.Kind
		}
		name := ansi.Truncate(x.Name, nameWidth, "…")
		price, mark := "-", " "
		if v, ok := x.Price[currency]; ok {
			price = fmt.Sprintf("%.2f", v)
		}
		if x.Own.Supplier != "" {
			mark = "*"
			own++
		}
		fmt.Fprintf(p.out, "  %-*s  %s%s %8s%s\n", idWidth, x.ID, name, strings.Repeat(" ", nameWidth-ansi.StringWidth(name)), price, mark)
	}
	age := bill.Age(cat.Dated, model.Date{Time: today(p)})
	fmt.Fprintf(p.out, "\n%d parts. Prices in %s, indicative, dated %s%s, without tax.\n", len(chosen), currency, cat.Dated, age)
	if own > 0 {
		fmt.Fprintf(p.out, "* %s; roombrief parts show PART --for %s says whose and from when.\n", english.Count(own, "price is your own", "prices are your own"), project)
	}
	return nil
}

func sorted(m map[string]bool) []string {
	var out []string
	for k := range m {
		out = append(out, k)
	}
	sort.Strings(out)
	return out
}

func showPart(p process, id, project string, asJSON bool) error {
	cat, money, err := shelfFor(p, project)
	if err != nil {
		return err
	}
	x, ok := cat.Part(id)
	if !ok {
		if near := nearestPart(cat, id); near != "" {
			return status{badCall, fmt.Errorf("no part %q; did you mean %q?", id, near)}
		}
		return status{badCall, fmt.Errorf("no part %q; roombrief parts lists them", id)}
	}
	if asJSON {
		return printJSON(p.out, viewOf(x))
	}
	row := func(name, value string) {
		if value != "" {
			fmt.Fprintf(p.out, "  %-14s %s\n", name, value)
		}
	}
	fmt.Fprintf(p.out, "%s\n", x.Name)
	row("part", x.ID)
	row("kind", x.Kind)
	row("does", strings.Join(viewOf(x).Does, ", "))
	row("channels", fmt.Sprint(max(x.Channels, 1)))
	row("place", x.Place)
	row("radio", radioWords(x))
	row("supply", x.Supply)
	if x.Battery.Cell != "" {
		row("battery", fmt.Sprintf("%d × %s, about %g years", x.Battery.Count, x.Battery.Cell, x.Battery.Years))
	}
	row("neutral", x.Neutral)
	if x.Depth > 0 {
		row("depth", x.Depth.String())
	}
	for _, k := range []catalogue.LoadKind{catalogue.LED, catalogue.Resistive, catalogue.Motor} {
		if w := x.Ratings[k]; w > 0 {
			row("carries", fmt.Sprintf("%s, %s", w, k))
		}
	}
	if x.LeastLoad > 0 {
		row("least load", x.LeastLoad.String())
	}
	row("ingress", x.Ingress)
	row("presses", strings.Join(x.Presses, ", "))
	if x.Behaviour.Blind > 0 {
		row("blind for", x.Behaviour.Blind.String()+" after a report")
	}
	row("after a cut", x.Behaviour.PowerUp)
	row("orders", x.Behaviour.Orders)
	day := model.Date{Time: today(p)}
	if o := x.Own; o.Supplier != "" {
		row("your price", fmt.Sprintf("%s %.2f, %s, %s%s, without tax", money, x.Price[money], strings.TrimSpace(o.Supplier+" "+o.Article), o.Dated, bill.Age(o.Dated, day)))
		if o.Converted != "" {
			row("converted", o.Converted)
		}
		x, _ = fixtures.Catalogue().Part(id)
	}
	row("price", fmt.Sprintf("GBP %.2f, EUR %.2f, USD %.2f (indicative, %s%s, without tax)", x.Price["GBP"], x.Price["EUR"], x.Price["USD"], cat.Dated, bill.Age(cat.Dated, day)))
	row("to install", fmt.Sprintf("%d min", x.Minutes))
	row("note", x.Note)
	if x.Caution != "" {
		fmt.Fprintln(p.out, wrap("Caution: "+caution.Text(x.Caution), "  ", widthOf(p)))
	}
	return nil
}

func radioWords(x catalogue.Part) string {
	if x.Repeats {
		return x.Radio + ", passes others' messages on"
	}
	return x.Radio
}

// nearestPart is the part whose id is most like a word that names none.
func nearestPart(cat *catalogue.Catalogue, id string) string {
	ids := make([]string, len(cat.Parts))
	for i, x := range cat.Parts {
		ids[i] = x.ID
	}
	return reading.NearestName(id, ids)
}

func onePart(c *cobra.Command, args []string) error {
	if len(args) != 1 {
		return status{badCall, fmt.Errorf("name one part, as in roombrief parts show leak-point-zigbee; roombrief parts lists them")}
	}
	return nil
}

// noWords refuses what stands behind a command that takes flags only.
func noWords(c *cobra.Command, args []string) error {
	if len(args) > 0 {
		return status{badCall, fmt.Errorf("%s takes no %q; see %s --help", c.CommandPath(), args[0], c.CommandPath())}
	}
	return nil
}
