package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"time"

	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/bench"
	"fliptrue/steps/bench/builtin"
	"fliptrue/steps/fold"
	"fliptrue/steps/prove"
	"fliptrue/steps/prove/paper"
	"fliptrue/steps/report"

	"golang.org/x/net/html"
)

// browsers are the names that headless Chromium goes by.
var browsers = []string{"chromium", "chromium-browser", "google-chrome", "google-chrome-stable"}

// browser is the path of one, "" where none is installed.
func browser() string {
	for _, b := range browsers {
		if path, err := exec.LookPath(b); err == nil {
			return path
		}
	}
	return ""
}

// sheet is one page to be looked at.
type sheet struct {
	name  string
	pages int // that it takes; 0: any number
	most  int // pages that it may take, where it flows on; 0 for no such
	html  []byte
}

// sheets has headless Chromium print sheets on A4 and Letter and measures them: pages, what reaches over an edge, letters
// without a glyph, and contrast in grey.
func sheets(ctx context.Context, o options) (*table, error) {
	t := &table{Title: "printed sheets: pages on A4 and Letter, what reaches over its place, letters without a glyph, least contrast " +
		"of text " +
		"and strokes in grey",
		Head: []string{"sheet", "A4", "Letter", "over", "no glyph", "text", "stroke", "bytes"}}
	path := browser()
	if path == "" {
		t.Notes = append(t.Notes, "skipped: no Chromium is installed here")
		return t, nil
	}
	all, err := sheetsToPrint(o)
	if err != nil {
		return nil, err
	}
	dir, err := os.MkdirTemp("", "sheets-")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(dir)
	for i, s := range all {
		if o.only != "" && s.name != o.only || o.n > 0 && i >= o.n {
			continue
		}
		t.Cases++
		if err := s.measured(ctx, path, dir, o, t); err != nil {
			return nil, fmt.Errorf("%s: %w", s.name, err)
		}
	}
	return t, nil
}

// onPaper has a page say what it needs by itself: a script that only this copy of it has.
const onPaper = `<script>
const over=[],mm=96/25.4,seen=new Set();
for(const p of document.querySelectorAll('.page')){const r=p.getBoundingClientRect();
 if(p.classList.contains('first')&&p.scrollHeight>p.clientHeight+1)
  over.push('page by '+((p.scrollHeight-p.clientHeight)/mm).toFixed(1)+' mm');
 for(const e of p.querySelectorAll('*')){const q=e.getBoundingClientRect();
  if(q.width>0&&(q.right>r.right+1||q.left<r.left-1)&&!e.closest('svg'))
   over.push(e.tagName+' '+(e.className||'')+' '+e.textContent.slice(0,20));
  if(e.tagName=='svg'){const b=e.getBBox(),v=e.viewBox.baseVal;
   if(b.x<-.5||b.y<-.5||b.x+b.width>v.width+.5||b.y+b.height>v.height+.5)over.push('drawing '+e.getAttribute('aria-label'))}
  if(e.classList.contains('tag')&&e.scrollHeight>e.clientHeight+2)over.push('tag')}}
const c=document.createElement('canvas');c.width=c.height=24;const x=c.getContext('2d',{willReadFrequently:true});
function ink(s){x.clearRect(0,0,24,24);x.font='16px "DejaVu Sans","Liberation Sans",Arial';x.fillText(s,2,18);
 return x.getImageData(0,0,24,24).data.join()}
const tofu=ink('\u{10ffff}'),bad=new Set();
for(const s of document.querySelector('main').innerText)if(!seen.has(s)){seen.add(s);if(s.trim()&&ink(s)==tofu)bad.add(s)}
function grey(s){const m=(s||'').match(/[\d.]+/g);if(!m)return 1;
 const f=v=>{v/=255;return v<=.03928?v/12.92:((v+.055)/1.055)**2.4};
 return .2126*f(m[0])+.7152*f(m[1])+.0722*f(m[2])}
let text=99,stroke=99;const on=(a,b)=>{const p=Math.max(a,b),q=Math.min(a,b);return(p+.05)/(q+.05)};
for(const e of document.querySelectorAll('main *')){const st=getComputedStyle(e);
 if(e.tagName=='path'){if(st.stroke!='none')stroke=Math.min(stroke,on(grey(st.stroke),1))}
 else if([...e.childNodes].some(n=>n.nodeType==3&&n.data.trim())){let b=e,bg='';
  while(b&&!bg){const k=getComputedStyle(b).backgroundColor;if(k&&!/, 0\)$/.test(k)&&k!='transparent')bg=k;b=b.parentElement}
  text=Math.min(text,on(grey(e.closest('svg')?st.fill:st.color),bg?grey(bg):1))}}
document.title=JSON.stringify({over:[...new Set(over)].slice(0,9),bad:[...bad].join(''),text,stroke})
</script>`

// found is what the script says.
type found struct {
	Over         []string
	Bad          string
	Text, Stroke float64
}

var pageObject = regexp.MustCompile(`/Type\s*/Page\b[^s]`)

// measured prints a sheet and puts its row into the table.
func (s sheet) measured(ctx context.Context, path, dir string, o options, t *table) error {
	pages := map[string]int{}
	for _, size := range []string{"A4", "Letter"} {
		in := filepath.Join(dir, s.name+"-"+size+".html")
		pdf := strings.TrimSuffix(in, ".html") + ".pdf"
		if err := os.WriteFile(in, bytes.Replace(s.html, []byte("@page{margin:8mm}"), []byte("@page{margin:8mm;size:"+size+"}"), 1),
			0o666); err != nil {
			return err
		}
		if _, err := chromium(ctx, path, dir, "--no-pdf-header-footer", "--print-to-pdf="+pdf, "file://"+in); err != nil {
			return err
		}
		data, err := os.ReadFile(pdf)
		if err != nil {
			return err
		}
		pages[size] = len(pageObject.FindAll(data, -1))
		if s.pages > 0 && pages[size] != s.pages {
			t.miss("%s takes %d pages of %s", s.name, pages[size], size)
		}
		if s.most > 0 && pages[size] > s.most {
			t.miss("%s takes %d pages of %s, %d at most", s.name, pages[size], size, s.most)
		}
	}
	in := filepath.Join(dir, s.name+".html")
	if err := os.WriteFile(in, bytes.Replace(s.html, []byte("</body>"), []byte(onPaper+"</body>"), 1), 0o666); err != nil {
		return err
	}
	dom, err := chromium(ctx, path, dir, "--dump-dom", "file://"+in)
	if err != nil {
		return err
	}
	f, err := foundIn(dom)
	if err != nil {
		return err
	}
	t.row(s.name, pages["A4"], pages["Letter"], strings.Join(f.Over, "; "), f.Bad, f.Text, f.Stroke, len(s.html))
	if len(f.Over) > 0 {
		t.miss("%s: over its place: %s", s.name, strings.Join(f.Over, "; "))
	}
	if f.Bad != "" && s.pages+s.most > 0 {
		t.miss("%s: no glyph for %q", s.name, f.Bad)
	}
	if f.Text < 4.5 || f.Stroke < 3 { // WCAG 2.1, 1.4.3 and 1.4.11 (from memory)
		t.miss("%s: contrast %.1f of text, %.1f of strokes", s.name, f.Text, f.Stroke)
	}
	for _, w := range paper.Valid(s.html) {
		t.miss("%s: %s", s.name, w)
	}
	return s.picture(ctx, path, dir, o)
}

// picture leaves the sheet and a picture of it in the folder asked for.
func (s sheet) picture(ctx context.Context, path, dir string, o options) error {
	if o.out == "" {
		return nil
	}
	if err := o.write(s.name+".html", s.html); err != nil {
		return err
	}
	out, err := filepath.Abs(filepath.Join(o.out, s.name))
	if err != nil {
		return err
	}
	_, err = chromium(ctx, path, dir, "--hide-scrollbars", "--window-size=770,1060", "--force-device-scale-factor=1.7", "--screenshot="+out+
		".png", "file://"+out+".html")
	return err
}

// foundIn is what the script left in the page's title.
func foundIn(dom []byte) (found, error) {
	var f found
	z := html.NewTokenizer(bytes.NewReader(dom))
	for z.Next() != html.ErrorToken {
		if t := z.Token(); t.Type == html.StartTagToken && t.Data == "title" {
			z.Next()
			return f, json.Unmarshal([]byte(z.Token().Data), &f)
		}
	}
	return f, fmt.Errorf("the page has no title")
}

func chromium(ctx context.Context, path, dir string, args ...string) ([]byte, error) {
	ctx, stop := context.WithTimeout(ctx, 3*time.Minute)
	defer stop()
	var errs bytes.Buffer
	c := exec.CommandContext(
		ctx, path, append([]string{"--headless", "--no-sandbox", "--disable-gpu", "--user-data-dir=" + filepath.Join(dir, "profile")},
			args...)...)
	c.Stderr = &errs
	out, err := c.Output()
	if err != nil {
		return nil, fmt.Errorf("%s: %w: %.300s", filepath.Base(path), err, errs.String())
	}
	return out, nil
}

// sheetsToPrint are sheets of each kind of setup, of a held part, in inches, and of a hostile job.
func sheetsToPrint(o options) ([]sheet, error) {
	var out []sheet
	add := func(name string, pages int, log *fold.Log, p *fold.Plan) error {
		r := report.Make(log, p, report.About{Part: 1, Record: "back.1.record.yaml", Version: "(devel)"})
		tag, ok := report.MakeTag(p, &p.Job.Fixture, 1)
		var b bytes.Buffer
		var of *report.Tag
		if ok {
			of = &tag
		}
		err := r.HTML(&b, of)
		out = append(out, sheet{name: name, pages: pages, html: b.Bytes()})
		return err
	}
	for _, plan := range []string{"T", "M", "S", "held", "hostile"} {
		log, p, err := lidOf(plan, o.seed)
		if err != nil {
			return nil, err
		}
		pages := 1
		if plan == "hostile" {
			pages = 0
		}
		if err := add("back-"+plan, pages, log, p); err != nil {
			return nil, err
		}
		if pages == 1 && plan != "held" {
			var b bytes.Buffer
			if err := report.MakeSheet(p).HTML(&b); err != nil {
				return nil, err
			}
			out = append(out, sheet{name: "blank-" + plan, most: 3, html: b.Bytes()})
		}
	}
	for _, shop := range []string{"T", "inch"} {
		log, plans, err := several(shop, o.seed)
		if err != nil {
			return nil, err
		}
		for _, p := range plans {
			if err := add(shop+"-"+p.Setup.Name, 1, log, p); err != nil {
				return nil, err
			}
		}
	}
	return out, nil
}

// lidOf is the built-in job walked.
func lidOf(how string, seed uint64) (*fold.Log, *fold.Plan, error) {
	plan := how
	if len(how) > 1 {
		plan = "T"
	}
	j, err := builtin.Job(plan)
	if err != nil {
		return nil, nil, err
	}
	if how == "hostile" {
		paper.Hostile(j)
	}
	p, err := steps.NewPlan(j, j.Setups[0].Name, nil)
	if err != nil {
		return nil, nil, err
	}
	k := bench.NewWalk(p, bench.NewWorld(p, seed, bench.Usual(p)), nil)
	var stop func(*fold.State) bool
	if how == "hostile" {
		stop = func(st *fold.State) bool { _, ok := st.Fact("seat"); return ok }
	}
	if _, err := k.Until(stop); err != nil {
		return nil, nil, err
	}
	es := k.Events
	if how == "held" {
		es = append(es, jobs.Event{Note: "the spanner slipped off the left bolt"}, jobs.Event{Mishap: "side2/fixture-tapped",
			At: es[len(es)-1].At})
	}
	log := steps.NewLog()
	for _, e := range es {
		log.Apply(e)
	}
	return log, p, nil
}

// several are the setups of a shop's job walked into one record.
func several(shop string, seed uint64) (*fold.Log, []*fold.Plan, error) {
	j, err := prove.Job(shop)
	if err != nil {
		return nil, nil, err
	}
	var es []jobs.Event
	var plans []*fold.Plan
	var worlds []*bench.World
	for _, name := range []string{"head", "ring", "side1", "side2"} {
		if _, ok := j.Setup(name); !ok {
			continue
		}
		p, err := steps.NewPlan(j, name, nil)
		if err != nil {
			return nil, nil, err
		}
		w := bench.NewWorld(p, seed, bench.Usual(p))
		for _, before := range worlds {
			w.After(before)
		}
		worlds, plans = append(worlds, w), append(plans, p)
		k := bench.NextWalk(p, w, nil, es)
		from := len(es)
		k.Now = func(n int) time.Time {
			return time.Date(2026, 3, 1, 9, 0, 0, 0, time.UTC).Add(time.Duration(from+n) * 20 * time.Second)
		}
		k.Events[0].At = k.Now(0)
		if _, err := k.Until(nil); err != nil {
			return nil, nil, err
		}
		es = append(es, k.Events...)
	}
	log := steps.NewLog()
	for _, e := range es {
		log.Apply(e)
	}
	return log, plans, nil
}
