package main

import (
	"fmt"
	"strings"
)

// svgCurves draws the decisions for paper: a panel a level, told apart by dashes and words, not by colour.
func svgCurves(cs []curve) string {
	const w, h, gap, left, top = 180.0, 120.0, 34.0, 34.0, 26.0
	var b strings.Builder
	width, height := left+float64(len(cs))*(w+gap), top+h+44
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %.0f %.0f" font-family="sans-serif" font-size="9" `+
		`fill="none" stroke="black">`+"\n", width, height)
	say := func(x, y float64, anchor, text string) {
		fmt.Fprintf(&b, `<text x="%.1f" y="%.1f" text-anchor="%s" fill="black" stroke="none">%s</text>`+"\n", x, y, anchor, text)
	}
	for k, c := range cs {
		x0, y0 := left+float64(k)*(w+gap), top+h
		at := func(x, share float64) (float64, float64) { return x0 + w*x/curveEnd, y0 - h*share }
		fmt.Fprintf(&b, `<path d="M%.1f %.1fV%.1fH%.1f"/>`+"\n", x0, top, y0, x0+w)
		lx, _ := at(1, 0)
		fmt.Fprintf(&b, `<path d="M%.1f %.1fV%.1f" stroke-width="0.4"/>`+"\n", lx, top, y0)
		say(x0+w/2, top-12, "middle", c.level)
		for i := range 4 {
			x, y := at(float64(i), 0)
			say(x, y+11, "middle", fmt.Sprintf("%d T", i))
		}
		if k == 0 {
			say(x0-4, y0, "end", "0")
			say(x0-4, top+4, "end", "100 %")
		}
		for _, l := range []struct {
			name, dash string
			of         func(verdicts) float64
		}{{"PASS", "", func(s verdicts) float64 { return s.pass }}, {"NOT PROVEN", "4 2", func(s verdicts) float64 { return s.open }},
			{"FAIL", "1 2", func(s verdicts) float64 { return s.fail }}} {
			var d strings.Builder
			for i, s := range c.decision {
				x, y := at(s.at, l.of(s))
				fmt.Fprintf(&d, "%s%.1f %.1f", map[bool]string{true: "M", false: "L"}[i == 0], x, y)
			}
			fmt.Fprintf(&b, `<path d="%s" stroke-width="1.2" stroke-dasharray="%s"/>`+"\n", d.String(), l.dash)
		}
	}
	say(left, height-14, "start", "true mismatch in allowances T. Solid: PASS; dashed: NOT PROVEN; dotted: FAIL. The thin line is the limit.")
	b.WriteString("</svg>\n")
	return b.String()
}
