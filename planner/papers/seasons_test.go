package papers

import (
	"bytes"
	"strings"
	"testing"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model/projectfile"
)

// The rule sheet shows where each fan starts and stops in winter and summer: 23 °F outside leaves the kitchen's coldest surface at 57 °F,
// which bears 53 %; in summer the house has 58 %, so 63 % is as near as a fan gets.
func TestRuleSheetShowsTheSeasons(t *testing.T) {
	for _, h := range fixtures.Homes() {
		if h.File != "larkspur-lane.yaml" {
			continue
		}
		d := projectfile.Parse(h.Source)
		var b bytes.Buffer
		source{project: d.Project()}.seasons(&b)
		for _, want := range []string{
			"### Kitchen: ceiling 53 %, reckoned from the room", "### Bathroom: ceiling 60 %, as the brief states it",
			"| Winter | 23 °F, 80 % | 68 °F, 35 % | 57 °F | 53 % | 40 % | 53 % |", "| Summer | 70 °F, 68 % | 75 °F, 58 % | 74 °F | 76 % | 63 % | 63 % |", "lower it to 53 %",
		} {
			if !strings.Contains(b.String(), want) {
				t.Errorf("the sheet lacks %q:\n%s", want, b.String())
			}
		}
		kitchen, _ := d.Project().Room("kitchen")
		if got := (source{project: d.Project()}).reckonedCeiling(kitchen); got != "As things are, that is 53 % in winter and 63 % in summer." {
			t.Error(got)
		}
		return
	}
	t.Fatal("no such home")
}
