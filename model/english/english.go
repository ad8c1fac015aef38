// Package english is the little grammar that sentences for people need: counts, lists and first letters.
package english

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Count is a number with its word: "1 room", "3 rooms".
func Count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + many
}

// Plural is Count of a word that takes an s.
func Plural(n int, word string) string { return Count(n, word, word+"s") }

// Some is Plural that spells none and one: "no rooms", "one room", "3 rooms".
func Some(n int, word string) string {
	switch n {
	case 0:
		return "no " + word + "s"
	case 1:
		return "one " + word
	}
	return Plural(n, word)
}

// List joins words as a sentence does: "ceiling, mirror and shelf".
func List(words []string) string { return Join(words, "and") }

// Join is List with another word before the last: "red, green or blue".
func Join(words []string, last string) string {
	n := len(words)
	if n < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:n-1], ", ") + " " + last + " " + words[n-1]
}

// Few is List of three words at most, where they are more than four: "hall, kitchen, study and 9 more rooms". what is their plural.
func Few(words []string, what string) string {
	if len(words) > 4 {
		words = append(words[:3:3], strconv.Itoa(len(words)-3)+" more "+what)
	}
	return List(words)
}

// Upper makes the first letter a capital.
func Upper(s string) string {
	first, n := utf8.DecodeRuneInString(s)
	if n == 0 {
		return s
	}
	return string(unicode.ToUpper(first)) + s[n:]
}

// Lower makes the first letter small, to go on inside a sentence, but not that of WC or of GU10.
func Lower(s string) string {
	first, n := utf8.DecodeRuneInString(s)
	second, _ := utf8.DecodeRuneInString(s[n:])
	if second != ' ' && !unicode.IsLower(second) {
		return s
	}
	return string(unicode.ToLower(first)) + s[n:]
}
