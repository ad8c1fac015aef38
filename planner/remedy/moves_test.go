package remedy

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/planner"
	"example.org/roombrief/planner/proof"
)

// hall is a room with a lamp that lights on entry by periods.
func hall(id, kind, periods string) string {
	return fmt.Sprintf(`  - id: %s
    kind: %s
    doors: [{id: door, to: outside, usually: closed}]
    circuits: [{id: lamp, lamps: 1, dimmable: yes}]
    brief:
      lighting:
        start: on entry
        stop: {after: 4m}
        periods: [%s]
`, id, kind, periods)
}

// bath is a room with a fan.
const bath = `  - id: bath
    kind: bathroom
    fans: [{id: extract, airflow: 21 l/s, power: 18 W}]
    brief:
      ventilation: {ceiling: 65 %, within: 1h, at_most: 3h a day}
`

const (
	header = "roombrief: 1\nhome: {name: A test, currency: GBP, place: {latitude: 51.5, longitude: 0, timezone: Europe/London}}\n"
	uneven = `{from: "06:12", level: 60 %}, {from: "22:33", level: 10 %}`
	steady = `{from: "06:00", level: 60 %}`
)

// Small rooms, each with a promise that breaks, and what mends it cheapest. Each remedy, made in the file, is planned and proved afresh
// by remade.
func TestTheCheapestRemedyOfASmallRoom(t *testing.T) {
	for name, tt := range map[string]struct{ file, promise, want string }{
		// The small controller's clock has steps of 5 minutes, so at 22:33 nothing happens before 22:35: for two minutes
		// the hall is too bright. To begin at 22:30 costs nothing. The able one costs 98.00 where the small one costs 39.00, and
		// takes 20 minutes more at 45.00 an hour: 59.00 + 15.00 = 74.00.
		"a period that begins between two steps of the clock": {
			header + "controllers: [{id: shelf, limits: modest}]\nrooms:\n" + hall("hall", "hall", uneven), "hall/not-blinding",
			"edges:shelf 0.00, limits:able 74.00, limits:open 160.90"},
		// Sunset in London is between 15:51 and 20:21 by the clock in summer 21:21: half way is 18:36, and 18:35 on a step.
		"a period that begins with the sun on a controller that doesn't know it": {
			header + "controllers: [{id: shelf, limits: modest}]\nrooms:\n" + hall("hall", "hall", `{from: "06:00", level: 60 %}, {from: sunset, level: 10 %}`), "hall/not-blinding",
			"edges:shelf 0.00, limits:able 74.00, limits:open 160.90"},
		// The leaflet of the controller says that its clock has steps of ten minutes; what takes its place has a leaflet of its own, also
		// where it is of the same kind, so that what the leaflet said goes with it. That asks nothing of the household. An open one costs what it
		// costs beyond an able one: 160.90 - 74.00.
		"a place whose leaflet says more than its kind": {
			header + "controllers: [{id: shelf, limits: able, except: {clock_step: 10m}}]\nrooms:\n" + hall("hall", "hall", uneven), "hall/not-blinding",
			"limits:able 0.00, edges:shelf 0.00, limits:open 86.90"},
		// Two controllers, as neither takes all rules; the able one has its clock by the minute. It takes the rules of the hall for nothing, and
		// those of the stairs come to the small one, which can keep 06:00. Two able ones are dearer by less than the small one's
		// own kind of sensors costs more, three times: the bill is cheaper by 59.20.
		"another controller of the home": {
			header + "controllers: [{id: shelf, room: hall, limits: modest, except: {rules: \"18\"}}, {id: attic, room: loft, limits: able, except: {rules: \"18\"}}]\nrooms:\n" +
				hall("hall", "hall", uneven) + hall("loft", "hall", steady) + hall("stairs", "stairs", steady), "hall/not-blinding",
			"limits:able -59.20, host:attic 0.00, edges:shelf 0.00"},
		// Damp air at night runs the fan. Quiet hours over the hours of the promise hold it; whoever asks is an exception already.
		"quiet hours": {
			header + "controllers: [{id: shelf, limits: open}]\npromises: [{id: still-nights, room: bath, never: fan on, between: [\"22:00\", \"07:00\"], unless: asked}]\nrooms:\n" + bath, "bath/still-nights",
			`ventilation/quiet:{from: "22:00", to: "07:00", except: request} 0.00`},
		// The same without the exception: whoever switches the fan on at itself breaks the promise in quiet hours too, so it takes both.
		"quiet hours, and an exception for whoever asks": {
			header + "controllers: [{id: shelf, limits: open}]\npromises: [{id: still-nights, room: bath, never: fan on, between: [\"22:00\", \"07:00\"]}]\nrooms:\n" + bath, "bath/still-nights",
			`ventilation/quiet:{from: "22:00", to: "07:00", except: nothing} unless:still-nights 0.00`},
		// Only people switch the lamp over 10 % at night: the periods give no more. So the promise has to say so, or break.
		"an exception alone": {
			header + "controllers: [{id: shelf, limits: open}]\npromises: [{id: dim, room: hall, never: \"lamp above 10 %\", between: [\"23:00\", \"06:00\"]}]\nrooms:\n" +
				hall("hall", "hall", `{from: "06:12", level: 60 %}, {from: "22:33", level: 10 %}`), "hall/dim",
			"unless:dim 0.00"},
		// A period begins with the hours of the promise already: it gives less, and no second one begins with it.
		"hours that begin with a period": {
			header + "controllers: [{id: shelf, limits: open}]\npromises: [{id: dim, room: hall, never: \"lamp above 10 %\", between: [\"23:00\", \"06:00\"]}]\nrooms:\n" +
				hall("hall", "hall", `{from: "06:00", level: 60 %}, {from: "23:00", level: 20 %}`), "hall/dim",
			"level:23:00 unless:dim 0.00"},
		// A room that repeats another is changed, and the other stays as it is.
		"a room that repeats another": {
			header + "controllers: [{id: shelf, limits: open}]\npromises: [{id: dim, room: twin, never: \"lamp above 10 %\", between: [\"23:00\", \"06:00\"]}]\nrooms:\n" +
				hall("hall", "hall", `{from: "06:00", level: 60 %}, {from: "23:00", level: 20 %}`) + "  - {id: twin, like: hall}\n", "twin/dim",
			"level:23:00 unless:dim 0.00"},
	} {
		t.Run(name, func(t *testing.T) {
			doc := projectfile.Parse([]byte(tt.file))
			if !doc.OK() {
				t.Fatal(doc.Problems())
			}
			v := verdictOf(t, doc, tt.promise)
			if v.State != proof.Breaks {
				t.Fatalf("it is %s", v.State)
			}
			e := Usual
			e.Cache = &shared
			r, err := For(t.Context(), doc.Project(), fixtures.Catalogue(), v, e)
			if err != nil {
				t.Fatal(err)
			}
			var got []string
			for _, x := range r.Remedies {
				got = append(got, fmt.Sprintf("%s %s", ids(x), strings.TrimSuffix(x.Price.In(x.Currency), " GBP")))
				remade(t, doc, v, x)
			}
			if s := strings.Join(got, ", "); s != tt.want {
				t.Errorf("%s\nwant %s", s, tt.want)
			}
		})
	}
}

// remade makes a remedy in the file and looks whether it does what it says.
func remade(t *testing.T, doc *projectfile.Document, v proof.Verdict, x Remedy) {
	t.Helper()
	before, err := planner.Make(t.Context(), doc.Project(), fixtures.Catalogue())
	if err != nil {
		t.Fatal(err)
	}
	edited, err := doc.Apply(x.Edits...)
	if err != nil {
		t.Errorf("%s: %v", ids(x), err)
		return
	}
	after, err := planner.Make(t.Context(), edited.Project(), fixtures.Catalogue())
	if err != nil {
		t.Fatal(err)
	}
	if got := after.Bill.Total - before.Bill.Total; got != x.Price {
		t.Errorf("%s costs %s and not %s", ids(x), got.Plain(), x.Price.Plain())
	}
	if w := verdictOf(t, edited, v.Promise.ID); w.State != proof.Kept {
		t.Errorf("%s: it is %s", ids(x), w.State)
	}
}

func verdictOf(t *testing.T, doc *projectfile.Document, promise string) proof.Verdict {
	t.Helper()
	plan, err := planner.Make(t.Context(), doc.Project(), fixtures.Catalogue())
	if err != nil {
		t.Fatal(err)
	}
	room, _, _ := strings.Cut(promise, "/")
	vs, err := proof.Room(t.Context(), doc.Project(), plan.Fitted, room, proof.Options{Cache: &shared})
	if err != nil {
		t.Fatal(err)
	}
	i := slices.IndexFunc(vs, func(v proof.Verdict) bool { return v.Promise.ID == promise })
	if i < 0 {
		t.Fatalf("%s isn't promised", promise)
	}
	return vs[i]
}
