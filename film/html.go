package film

import (
	"bytes"
	"crypto/sha256"
	_ "embed"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"html"
	"strings"
	"time"

	"steelyard/draw"
	"steelyard/figure"
	"steelyard/formula"
	"steelyard/show"
)

//go:embed page/page.css
var style string

//go:embed page/page.js
var code string

// HTML is the film as a single page that plays from disk, without a network. Its policy lets nothing in but itself.
// Without scripts it is a transcript with its pictures.
func (f *Film) HTML() ([]byte, error) {
	p := page{film: f, pictures: map[string]string{}}
	p.steps()
	data, err := json.Marshal(p.data)
	if err != nil {
		return nil, fmt.Errorf("writing the film's data: %w", err)
	}
	var b bytes.Buffer
	write := func(format string, args ...any) { fmt.Fprintf(&b, format, args...) }
	title := html.EscapeString(f.Talk.Title)
	write("<!DOCTYPE html>\n<html lang=\"en-GB\">\n<head>\n<meta charset=\"utf-8\">\n")
	write("<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; base-uri 'none'; form-action 'none'; media-src data:; style-src %s; script-src %s\">\n", hash(style), hash(code))
	write("<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>%s: walkthrough</title>\n<style>%s</style>\n</head>\n<body>\n", title, style)
	write("<svg hidden>\n%s</svg>\n<main>\n<h1 dir=\"auto\">%s</h1>\n", p.store.String(), title)
	if err := p.player(&b); err != nil {
		return nil, err
	}
	write("<details id=\"script\" open>\n<summary>Transcript: all that is said and seen</summary>\n%s</details>\n</main>\n", p.script.String())
	write("<footer><p>%s</p></footer>\n", html.EscapeString(f.Talk.Safety))
	write("<script type=\"application/json\" id=\"film\">%s</script>\n<script>%s</script>\n</body>\n</html>\n", data, code)
	return b.Bytes(), nil
}

// hash names a script or a style in a policy.
func hash(text string) string {
	sum := sha256.Sum256([]byte(text))
	return "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
}

// A page is being made.
type page struct {
	film     *Film
	data     pageData
	pictures map[string]string // the IDs of those stored, by their marks
	store    strings.Builder   // of pictures, each once
	script   strings.Builder
}

// pageData is what the page's script reads; times in seconds.
type pageData struct {
	End   float64    `json:"end"`
	Steps []pageStep `json:"steps"`
	Cues  []pageCue  `json:"cues"`
}

type pageStep struct {
	ID      string   `json:"id"`
	Start   float64  `json:"start"`
	Title   string   `json:"title"`
	Say     string   `json:"say"`
	Picture string   `json:"picture"`
	Lines   []string `json:"lines"` // IDs
	New     int      `json:"new"`
}

type pageCue struct {
	Start float64 `json:"start"`
	End   float64 `json:"end"`
	Text  string  `json:"text"`
}

// steps writes pictures, transcript and data.
func (p *page) steps() {
	f := p.film
	p.data.End = f.Times.End.Seconds()
	known := map[string]string{} // IDs of lines of working, by their MathML and note
	for i := range f.Talk.Steps {
		s := &f.Talk.Steps[i]
		title := chapterTitle(s.Part, s.Title)
		step := pageStep{ID: s.ID, Start: f.Times.Start[i].Seconds(), Title: title, Say: Script(s), Lines: []string{}, New: s.New}
		step.Picture = p.picture(i)
		pic := f.Talk.Picture(i, pictureOptions(""))
		fmt.Fprintf(&p.script, "<section>\n<h3 dir=\"auto\">%s</h3>\n<svg class=\"picture\" viewBox=\"0 0 %.0f %.0f\" role=\"img\" aria-label=\"%s\"><use href=\"#%s\"/></svg>\n<p dir=\"auto\">%s</p>\n",
			html.EscapeString(title), pic.Width, pic.Height, html.EscapeString(title), step.Picture, html.EscapeString(s.Say))
		p.working(s, &step, known)
		if step.Say != s.Say {
			fmt.Fprintf(&p.script, "<p class=\"ask\" dir=\"auto\">%s</p>\n", html.EscapeString(s.Ask))
		}
		fmt.Fprintf(&p.script, "<p>Seen: %s.</p>\n</section>\n", seen[s.Kind])
		p.data.Steps = append(p.data.Steps, step)
	}
	for _, c := range f.Cues() {
		p.data.Cues = append(p.data.Cues, pageCue{c.Start.Seconds(), (c.End + gap - time.Millisecond).Seconds(), strings.Join(c.Lines, "\n")})
	}
}

// working writes the lines of a step into the transcript, each when it first comes.
func (p *page) working(s *show.Step, step *pageStep, known map[string]string) {
	var fresh strings.Builder
	for _, l := range s.Lines {
		item := formula.MathML(l.Formula, true)
		if l.Note != "" {
			item += "<span class=\"note\">" + html.EscapeString(l.Note) + "</span>"
		}
		if known[item] == "" {
			known[item] = fmt.Sprintf("line-%d", len(known)+1)
			fmt.Fprintf(&fresh, "<li id=\"%s\">%s</li>\n", known[item], item)
		}
		step.Lines = append(step.Lines, known[item])
	}
	if fresh.Len() > 0 {
		fmt.Fprintf(&p.script, "<ol class=\"working\" aria-label=\"Working\" tabindex=\"0\">\n%s</ol>\n", fresh.String())
	}
}

func pictureOptions(id string) figure.Options {
	return figure.Options{Width: 600, TextSize: 15, ID: id}
}

// picture stores the picture of a step, if none like it is stored, and gives its ID.
func (p *page) picture(step int) string {
	key := marksOf(p.film.Talk.Picture(step, pictureOptions("")))
	if id := p.pictures[key]; id != "" {
		return id
	}
	id := fmt.Sprintf("picture-%d", len(p.pictures)+1)
	p.pictures[key] = id
	pic := p.film.Talk.Picture(step, pictureOptions(id))
	fmt.Fprintf(&p.store, "<symbol id=\"%s\" viewBox=\"0 0 %.2f %.2f\" font-family=\"Liberation Sans, Arimo, Arial, Helvetica, sans-serif\" stroke-linejoin=\"miter\">\n%s</symbol>\n",
		id, pic.Width, pic.Height, marksOf(pic))
	return id
}

// marksOf is a picture as SVG without what is about it.
func marksOf(p *draw.Picture) string {
	bare := *p
	bare.Title, bare.Description = "", ""
	_, marks, _ := strings.Cut(string(draw.SVG(&bare)), "</title>\n")
	return strings.TrimSuffix(marks, "</svg>\n")
}

// player writes what plays, hidden until the script says that it works.
func (p *page) player(b *bytes.Buffer) error {
	f := p.film
	pic := f.Talk.Picture(0, pictureOptions(""))
	fmt.Fprintf(b, `<section id="player" aria-label="Walkthrough" hidden>
<div class="player">
<div>
<h2 id="title" dir="auto"></h2>
<div class="board">
<svg class="picture" id="picture" viewBox="0 0 %.0f %.0f" role="img" aria-label=""><use href="#picture-1"/></svg>
<ol class="working" id="working" aria-label="Working" tabindex="0"></ol>
</div>
<p id="caption" dir="auto"></p>
<div class="controls">
<button type="button" id="back">Back</button>
<button type="button" id="play">Play</button>
<button type="button" id="next">Next</button>
<input type="range" id="place" aria-label="Place in the walkthrough" min="0" max="%.3f" step="0.1" value="0">
<span id="time"></span>
<label>Speed <select id="speed">
`, pic.Width, pic.Height, f.Times.End.Seconds())
	for _, s := range []string{"0.6", "0.8", "1", "1.25", "1.5", "2"} {
		chosen := ""
		if s == "1" {
			chosen = " selected"
		}
		fmt.Fprintf(b, "<option value=\"%s\"%s>%s×</option>\n", s, chosen, s)
	}
	b.WriteString("</select></label>\n<label><input type=\"checkbox\" id=\"captions\" checked> Captions</label>\n</div>\n<p id=\"said\" role=\"status\"></p>\n")
	if len(f.Voice) > 0 {
		kind := Sound(f.Voice)
		if kind == "" {
			return fmt.Errorf("the voice is no sound file that browsers play: WebM, Ogg, MP4, WAV, FLAC or MP3")
		}
		fmt.Fprintf(b, "<audio id=\"voice\" preload=\"auto\" src=\"data:%s;base64,%s\"></audio>\n", kind, base64.StdEncoding.EncodeToString(f.Voice))
	}
	b.WriteString("</div>\n<nav aria-label=\"Chapters\">\n<h2>Chapters</h2>\n<ol class=\"chapters\">\n")
	for _, c := range f.Chapters() {
		fmt.Fprintf(b, "<li><button type=\"button\" data-step=\"%d\" dir=\"auto\">%s</button></li>\n", c.Step, html.EscapeString(c.Lines[0]))
	}
	b.WriteString("</ol>\n</nav>\n</div>\n</section>\n")
	return nil
}
