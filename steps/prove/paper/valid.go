package paper

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"golang.org/x/net/html"
)

// void are the elements that HTML closes by itself.
var void = []string{"meta", "col", "br", "hr", "input", "link", "img"}

// Valid says what is wrong with a page: elements left open or closed out of turn, an id or an attribute twice, and
// whatever would reach out of it or run in it.
func Valid(page []byte) []string {
	var wrong, open []string
	ids := map[string]bool{}
	say := func(format string, args ...any) { wrong = append(wrong, fmt.Sprintf(format, args...)) }
	if !bytes.HasPrefix(page, []byte("<!doctype html>")) {
		say("it does not begin with <!doctype html>")
	}
	z := html.NewTokenizer(bytes.NewReader(page))
	for {
		switch z.Next() {
		case html.ErrorToken:
			if len(open) > 0 {
				say("left open: %v", open)
			}
			return wrong
		case html.StartTagToken:
			t := z.Token()
			if !slices.Contains(void, t.Data) {
				open = append(open, t.Data)
			}
			wrong = append(wrong, odd(t, ids)...)
		case html.SelfClosingTagToken:
			wrong = append(wrong, odd(z.Token(), ids)...)
		case html.EndTagToken:
			t := z.Token()
			if n := len(open); n == 0 || open[n-1] != t.Data {
				say("</%s> closes %v", t.Data, open)
				return wrong
			}
			open = open[:len(open)-1]
		}
	}
}

// odd is what is wrong with one tag.
func odd(t html.Token, ids map[string]bool) []string {
	var wrong []string
	if slices.Contains([]string{"script", "iframe", "object", "embed", "link", "base", "form", "img", "foreignobject", "animate", "set", "a",
		"use"}, t.Data) {
		wrong = append(wrong, "there is a <"+t.Data+">")
	}
	seen := map[string]bool{}
	for _, a := range t.Attr {
		if seen[a.Key] {
			wrong = append(wrong, fmt.Sprintf("<%s> has %s twice", t.Data, a.Key))
		}
		seen[a.Key] = true
		if a.Key == "id" && ids[a.Val] {
			wrong = append(wrong, "the id "+a.Val+" is there twice")
		}
		if a.Key == "id" {
			ids[a.Val] = true
		}
		if strings.HasPrefix(a.Key, "on") || slices.Contains([]string{"src", "href", "xlink:href", "action", "srcset"}, a.Key) ||
			strings.Contains(a.Val, "ZgotmplZ") {
			wrong = append(wrong, fmt.Sprintf("<%s %s=%q>", t.Data, a.Key, a.Val))
		}
	}
	return wrong
}
