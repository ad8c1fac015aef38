package reading

import "strings"

// NearestName is the name that got was most likely meant to be, or "" when none is near. Near is one
// slip of the keyboard in three letters: a letter too many, too few, wrong, or two swapped.
// The first of equals wins.
func NearestName(got string, names []string) string {
	const longest = 80
	if got == "" || len(got) > longest {
		return ""
	}
	low := strings.ToLower(got)
	limit := max(1, (len(low)+2)/3)
	best := ""
	for _, name := range names {
		if name == "" || len(name) > longest || abs(len(name)-len(low)) > limit {
			continue
		}
		if d := distance(low, strings.ToLower(name)); d <= limit {
			if d == 0 {
				return name
			}
			best, limit = name, d-1
		}
	}
	if best != "" {
		return best
	}
	return within(low, names)
}

// Slips counts the letters in which two words differ, whatever their case: too many, too few, wrong, or swapped with the next one.
func Slips(a, b string) int { return distance(strings.ToLower(a), strings.ToLower(b)) }

// within finds the only name that holds the whole of got, or is held by it: shower for shower-room.
func within(low string, names []string) string {
	found := ""
	for _, name := range names {
		n := strings.ToLower(name)
		if len(n) < 3 || len(low) < 3 || !strings.Contains(n, low) && !strings.Contains(low, n) {
			continue
		}
		if found != "" {
			return ""
		}
		found = name
	}
	return found
}

// distance counts letters inserted, deleted, changed or swapped with a neighbour (Damerau 1964, in the
// form where no part is edited twice).
func distance(a, b string) int {
	before, above, row := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range above {
		above[j] = j
	}
	for i := 1; i <= len(a); i++ {
		row[0] = i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			row[j] = min(above[j]+1, row[j-1]+1, above[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
		before, above, row = above, row, before
	}
	return above[len(b)]
}

func abs(n int) int {
	if n < 0 {
		return -n
	}
	return n
}
