package main

import (
	"fmt"
	"strings"

	"fliptrue/steps/desk"
	"fliptrue/steps/fold"
)

// planned is one subject of plan in sentences, by the job's own numbers where it has any. The source stands under each.
func planned(about string, p *fold.Plan) planPart {
	switch about {
	case "sides":
		return planPart{about, "Which side first", append(desk.WhichFirst(p), "Source: common practice, from memory; the numbers are the job's.")}
	case "feeds":
		return planPart{about, fmt.Sprintf("Feeds and speeds, tool %d in %s", p.Setup.Cut.Tool, p.Job.Part.Material), desk.FeedsOf(p).Says(p)}
	case "stock":
		return planPart{about, "Stock, before side 1", stockLines(p)}
	case "dust":
		return planPart{about, "Chips, dust, fire", dustLines(p)}
	}
	return planPart{"storage", "Storage, between the sides and after", storageLines(p)}
}

func stockLines(p *fold.Plan) []string {
	s := p.Job.Part.Size
	return []string{
		fmt.Sprintf("Cut it oversize: %s and more each way, and an offcut of the same piece beside it.", p.Len(p.Sensible(2))),
		"The offcut is the witness: it lies with the part, is weighed with it, and bears every test first:",
		"  torque of a thread, sanding, glue and tape, feed and speed, finish.",
		"Flatten one face, then the other; rough both sides to 1 mm (0.04 in) over; rest it a day.",
		"Rest it until two weighings a day apart differ by less than 1 in 1000.",
		fmt.Sprintf("Then to size: %s x %s x %s. Voids filled, resin hard: no smell, no tack, no soft core.", p.Len(s[0]), p.Len(s[1]),
			p.Len(s[2])),
		"Write on its waste: name, side, arrow, date, grain.",
		"Source: common practice, from memory.",
	}
}

func dustLines(p *fold.Plan) []string {
	out := []string{}
	if m, err := p.Job.Library().Like(p.Job.Part.Material); err == nil && m.Hazard != "" {
		out = append(out, p.Job.Part.Material+": "+m.Hazard)
	}
	if m, err := p.Job.Library().Like(p.Job.Fixture.Material); err == nil && m.Hazard != "" && p.Job.Fixture.Material != p.Job.Part.Material {
		out = append(out, p.Job.Fixture.Material+" (fixture): "+m.Hazard)
	}
	return append(out,
		"Extraction on before the spindle, and a minute after it. Mask: a blower stirs up what it took.",
		"Hardwood dust counts as a carcinogen: at most 2 mg/m3 of air in the EU (Directive (EU) 2017/2398).",
		"A cutter on a buried screw or stone makes a spark, and the bag feeds it.",
		"Never leave a job that runs or has just run. Bin out at the end, outside, lid on.",
		"Water or CO2 at hand; water only on what has no mains. Aluminium fines: dry sand, no water.",
		"Local codes and the makers' sheets come first.",
		"Source: the directive; the rest common practice, from memory.")
}

func storageLines(p *fold.Plan) []string {
	f := p.Job.Fixture.ID
	return []string{
		"Part: in a bag with its card, its offcut and a hygrometer chip. The two sides within a day,",
		"  or its width is measured again before side 2.",
		"Fixture " + strings.TrimSpace(f) + ": flat on a plate, screws out, chips brushed out, its tag in the box.",
		"Not in the sun, not on a heater, not under weight. A thread that was stripped is marked through.",
		"Oily rags burn by themselves: flat to dry outdoors, or in a closed can with water.",
		"Source: common practice, from memory.",
	}
}
