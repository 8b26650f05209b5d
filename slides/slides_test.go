package slides_test

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"steelyard/bank"
	"steelyard/figure"
	"steelyard/pdf/uacheck"
	"steelyard/show"
	"steelyard/slides"
)

// hostile has words that would break out of any of the files, and signs that no XML may hold.
const hostile = `Bridge <em>& "two" 'men' ]]> {\b} = + @`

func hostileText(text string) string {
	return strings.Replace(text, `question "Lock footbridge"`, `question "Bridge <em>& two 'men' ]]> {b} = + @"`, 1)
}

func write(t testing.TB, name, ending string) []byte {
	t.Helper()
	b, err := slides.Write(talk(t, name, nil), ending, slides.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func TestSameTalkGivesTheSameBytes(t *testing.T) {
	for _, ending := range slides.Endings() {
		if !bytes.Equal(write(t, five[0], ending), write(t, five[0], ending)) {
			t.Errorf("%s: two runs gave different bytes", ending)
		}
	}
}

func TestUnknownKindIsRefused(t *testing.T) {
	if _, err := slides.Write(talk(t, five[0], nil), "xls", slides.Options{}); err == nil || !strings.Contains(err.Error(), "pdf, odp, pptx, odt, docx") {
		t.Errorf("a kind that there isn't: %v", err)
	}
}

// Our own check of PDF/UA-1 finds nothing, with and without notes, in every question of the bank.
func TestSlidesInPDFKeepTheRules(t *testing.T) {
	for _, name := range bank.Names() {
		for _, o := range []slides.Options{{}, {Notes: true}} {
			k := talk(t, name, nil)
			b, err := slides.Write(k, "pdf", o)
			if err != nil {
				t.Error(err)
				continue
			}
			for _, fault := range uacheck.Check(b) {
				t.Errorf("%s, notes %v: %s", name, o.Notes, fault)
			}
		}
	}
}

// parts opens a pack.
func parts(t testing.TB, b []byte) (names []string, body map[string][]byte, z *zip.Reader) {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(b), int64(len(b)))
	if err != nil {
		t.Fatal(err)
	}
	body = map[string][]byte{}
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		body[f.Name], err = io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		if len(f.Extra) > 0 || f.Name == "" || f.Name[0] == '/' || strings.ContainsFunc(f.Name, func(r rune) bool { return r > '~' || r == '\\' }) {
			t.Errorf("entry %q has an extra field or an odd name", f.Name)
		}
		names = append(names, f.Name)
	}
	return names, body, z
}

// An element is one with its attributes; names are written with the prefix of their namespace's last word.
type element struct {
	name  string
	attrs map[string]string
}

func elements(t testing.TB, where string, b []byte) (list []element) {
	t.Helper()
	d := xml.NewDecoder(bytes.NewReader(b))
	for {
		token, err := d.RawToken()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatalf("%s: %v", where, err)
		}
		if s, is := token.(xml.StartElement); is {
			e := element{s.Name.Space + ":" + s.Name.Local, map[string]string{}}
			for _, a := range s.Attr {
				e.attrs[strings.TrimPrefix(a.Name.Space+":"+a.Name.Local, ":")] = a.Value
			}
			list = append(list, e)
		}
	}
	// A second reading, with namespaces: every prefix is bound and every element closed.
	d = xml.NewDecoder(bytes.NewReader(b))
	for {
		if _, err := d.Token(); errors.Is(err, io.EOF) {
			return list
		} else if err != nil {
			t.Fatalf("%s: %v", where, err)
		}
	}
}

// Every relation leads to a part, every part is led to and has a type, numbers of shapes are unique, and pictures have words.
func TestOfficeOpenXMLHoldsTogether(t *testing.T) {
	for _, ending := range []string{"pptx", "docx"} {
		names, body, _ := parts(t, write(t, five[1], ending))
		if names[0] != "[Content_Types].xml" {
			t.Errorf("%s begins with %s", ending, names[0])
		}
		typed := map[string]bool{}
		for _, e := range elements(t, "types", body["[Content_Types].xml"]) {
			typed[e.attrs["PartName"]], typed["."+e.attrs["Extension"]] = true, true
		}
		led := map[string]bool{"[Content_Types].xml": true}
		ids := map[string][]string{} // of relations, by part
		for _, name := range names {
			if path.Ext(name) == ".png" {
				continue
			}
			list := elements(t, name, body[name])
			if !strings.HasSuffix(name, ".rels") {
				continue
			}
			led[name] = true
			from := path.Dir(path.Dir(name))
			source := path.Join(from, strings.TrimSuffix(path.Base(name), ".rels"))
			for _, e := range list {
				if target := e.attrs["Target"]; target != "" {
					if body[path.Join(from, target)] == nil {
						t.Errorf("%s: %s leads to %s, which is not there", ending, name, target)
					}
					led[path.Join(from, target)] = true
					ids[source] = append(ids[source], e.attrs["Id"])
				}
			}
		}
		for _, name := range names {
			if !led[name] {
				t.Errorf("%s: nothing leads to %s", ending, name)
			}
			if ext := path.Ext(name); !typed["/"+name] && (ext == ".xml" && name != "[Content_Types].xml" || !typed[ext]) {
				t.Errorf("%s: %s has no type of its own", ending, name)
			}
			if path.Ext(name) == ".xml" {
				checkShapes(t, ending+" "+name, elements(t, name, body[name]), ids[name])
			}
		}
	}
}

func checkShapes(t *testing.T, where string, list []element, relations []string) {
	t.Helper()
	seen, title := map[string]bool{}, false
	for _, e := range list {
		switch e.name {
		case "p:cNvPr", "wp:docPr":
			if id := e.attrs["id"]; seen[id] {
				t.Errorf("%s: two shapes have the number %s", where, id)
			} else {
				seen[id] = true
			}
			if (e.name == "wp:docPr" || e.attrs["name"] == "Picture") && e.attrs["descr"] == "" {
				t.Errorf("%s: a picture without words", where)
			}
		case "p:ph":
			title = title || e.attrs["type"] == "title"
		case "a:off", "a:ext", "a:chOff", "a:chExt", "wp:extent":
			for key, v := range e.attrs {
				if key != "uri" && len(v) > 9 || e.name != "a:off" && e.name != "a:chOff" && strings.HasPrefix(v, "-") {
					t.Errorf("%s: %s %v is no size", where, e.name, e.attrs)
				}
			}
		}
		for _, key := range []string{"r:id", "r:embed"} {
			if id := e.attrs[key]; id != "" && !slices.Contains(relations, id) {
				t.Errorf("%s: %s has the relation %s, which there is not", where, e.name, id)
			}
		}
	}
	if strings.Contains(where, "slides/slide") && !title {
		t.Errorf("%s: a slide without a title", where)
	}
}

// orders are what may stand in an element, in order. Source: the sequences of ISO/IEC 29500-1 (17.3.1.26, 17.3.2.28, 17.6.17,
// 19.2.1.26, 19.3.1.43, 20.1.2.2.24, 20.4.2.8, 21.1.2.3.9 and their like), from memory; only what we write is listed.
var orders = map[string]string{
	"w:pPr":    "w:pStyle w:keepNext w:keepLines w:pageBreakBefore w:widowControl w:numPr w:pBdr w:shd w:tabs w:spacing w:ind w:contextualSpacing w:jc w:outlineLvl w:rPr w:sectPr",
	"w:rPr":    "w:rStyle w:rFonts w:b w:bCs w:i w:iCs w:caps w:smallCaps w:color w:sz w:szCs w:vertAlign w:lang",
	"w:sectPr": "w:headerReference w:footerReference w:type w:pgSz w:pgMar w:cols w:titlePg", "w:style": "w:name w:basedOn w:next w:link w:uiPriority w:unhideWhenUsed w:qFormat w:pPr w:rPr",
	"wp:inline": "wp:extent wp:effectExtent wp:docPr wp:cNvGraphicFramePr a:graphic", "pic:pic": "pic:nvPicPr pic:blipFill pic:spPr",
	"p:presentation": "p:sldMasterIdLst p:notesMasterIdLst p:sldIdLst p:sldSz p:notesSz", "p:sld": "p:cSld p:clrMapOvr", "p:notes": "p:cSld p:clrMapOvr", "p:cSld": "p:bg p:spTree",
	"p:sldMaster": "p:cSld p:clrMap p:sldLayoutIdLst p:hf p:txStyles", "p:sp": "p:nvSpPr p:spPr p:txBody", "p:cxnSp": "p:nvCxnSpPr p:spPr", "p:nvSpPr": "p:cNvPr p:cNvSpPr p:nvPr",
	"p:spPr": "a:xfrm a:custGeom a:prstGeom a:noFill a:solidFill a:ln", "a:xfrm": "a:off a:ext a:chOff a:chExt", "a:ln": "a:noFill a:solidFill a:prstDash a:custDash a:round a:miter a:headEnd a:tailEnd",
	"p:txBody": "a:bodyPr a:lstStyle a:p", "a:p": "a:pPr a:r a14:m a:fld a:endParaRPr", "m:r": "m:rPr a:rPr m:t", "m:oMathPara": "m:oMathParaPr m:oMath", "mc:AlternateContent": "mc:Choice mc:Fallback", "a:rPr": "a:ln a:noFill a:solidFill a:latin a:ea a:cs", "a:pPr": "a:lnSpc a:spcBef a:spcAft a:buClr a:buFont a:buNone a:buChar a:defRPr",
	"m:f": "m:fPr m:num m:den", "m:sSub": "m:sSubPr m:e m:sub", "m:sSup": "m:sSupPr m:e m:sup", "m:rad": "m:radPr m:deg m:e",
}

// What stands in an element stands in the order that the standard asks for, and nothing that is not known there.
func TestOfficeOpenXMLKeepsItsOrder(t *testing.T) {
	asked := map[string]bool{}
	for _, name := range five {
		for _, ending := range []string{"pptx", "docx"} {
			_, body, _ := parts(t, write(t, name, ending))
			for part, b := range body {
				if path.Ext(part) != ".xml" {
					continue
				}
				type open struct {
					name string
					at   int
				}
				stack := []open{{}}
				for d := xml.NewDecoder(bytes.NewReader(b)); ; {
					token, err := d.RawToken()
					if err != nil {
						break
					}
					switch e := token.(type) {
					case xml.StartElement:
						child, in := e.Name.Space+":"+e.Name.Local, &stack[len(stack)-1]
						if want, known := orders[in.name]; known {
							asked[in.name] = true
							at := slices.Index(strings.Fields(want), child)
							if runs := in.name == "a:p" && (child == "a:r" || child == "a:fld"); at < 0 || at < in.at && !runs {
								t.Errorf("%s %s: %s stands in %s, out of place", name, part, child, in.name)
							}
							in.at = max(in.at, at)
						}
						stack = append(stack, open{name: child})
					case xml.EndElement:
						stack = stack[:len(stack)-1]
					}
				}
			}
		}
	}
	for _, in := range []string{"w:pPr", "w:sectPr", "wp:inline", "p:presentation", "p:sp", "a:ln", "a:rPr", "m:f"} {
		if !asked[in] {
			t.Errorf("nothing stands in %s anywhere: the test looks in the wrong place", in)
		}
	}
}

// The type comes first and bare, so that programs find it at a fixed place; the manifest lists the rest.
func TestOpenDocumentHoldsTogether(t *testing.T) {
	for _, ending := range []string{"odp", "odt"} {
		b := write(t, five[1], ending)
		if !bytes.HasPrefix(b[30:], []byte("mimetype"+slides.MediaType(ending)+"PK")) {
			t.Errorf("%s does not begin with its type", ending)
		}
		names, body, _ := parts(t, b)
		listed := map[string]bool{"mimetype": true, "META-INF/manifest.xml": true}
		for _, e := range elements(t, "manifest", body["META-INF/manifest.xml"]) {
			if name := e.attrs["manifest:full-path"]; name != "" {
				listed[name] = true
				if !strings.HasSuffix(name, "/") && body[name] == nil {
					t.Errorf("%s: the manifest lists %s, which is not there", ending, name)
				}
			}
		}
		for _, name := range names {
			if !listed[name] {
				t.Errorf("%s: %s is not in the manifest", ending, name)
			}
		}
		pictures, words := 0, 0
		for _, e := range elements(t, "content", body["content.xml"]) {
			switch {
			case e.name == "draw:g" && e.attrs["draw:name"] == "Picture", e.name == "draw:frame" && e.attrs["draw:name"] != "":
				pictures++
			case e.name == "svg:desc":
				words++
			}
			if href := e.attrs["xlink:href"]; href != "" && body[href] == nil && body[strings.TrimPrefix(href, "./")+"/content.xml"] == nil {
				t.Errorf("%s: nothing at %s", ending, href)
			}
		}
		if pictures == 0 || words != pictures {
			t.Errorf("%s: %d pictures and formulas, %d of them in words", ending, pictures, words)
		}
	}
}

// Source: the schema of OpenDocument 1.3 by OASIS, in testdata/odf with its notice.
func TestOpenDocumentKeepsToItsSchema(t *testing.T) {
	need(t, "xmllint")
	for _, name := range five {
		for _, ending := range []string{"odp", "odt"} {
			_, body, _ := parts(t, write(t, name, ending))
			folder := t.TempDir()
			for part, schema := range map[string]string{"content.xml": "", "styles.xml": "", "meta.xml": "", "META-INF/manifest.xml": "manifest-"} {
				file := filepath.Join(folder, path.Base(part))
				if err := os.WriteFile(file, body[part], 0o600); err != nil {
					t.Fatal(err)
				}
				if out, err := exec.Command("xmllint", "--nonet", "--noout", "--relaxng", "testdata/odf/OpenDocument-v1.3-"+schema+"schema.rng", file).CombinedOutput(); err != nil {
					t.Errorf("%s %s %s: %.600s", name, ending, part, out)
				}
			}
		}
	}
}

// What stands for a picture tells what is drawn, in every kind; the script is in the notes or the text only.
func TestWordsForPicturesTellWhatIsDrawn(t *testing.T) {
	k := talk(t, five[0], nil)
	at := slices.IndexFunc(k.Steps, func(s show.Step) bool { return s.ID == "b-4" })
	want := "About Q, the forces on the footbridge: Weight of footbridge, 280 N, down, perpendicular distance 1.10 m, anticlockwise."
	hidden := "Force of P (left sill), size not found yet, up"
	if got := k.Picture(at, figure.Options{Width: 400}).Description; !strings.HasPrefix(got, want) || !strings.Contains(got, hidden) {
		t.Fatalf("the picture is described as %q", got)
	}
	said := k.Steps[at].Say
	for _, ending := range slides.Endings() {
		b, err := slides.Write(k, ending, slides.Options{Notes: true})
		if err != nil {
			t.Fatal(err)
		}
		var alts []string
		if ending == "pdf" {
			for _, m := range regexp.MustCompile(`/Alt ?\(((?:\\.|[^\\)])*)\)`).FindAllSubmatch(b, -1) {
				alts = append(alts, string(m[1]))
			}
		} else {
			_, body, _ := parts(t, b)
			for name, part := range body {
				if path.Ext(name) != ".xml" {
					continue
				}
				for _, m := range regexp.MustCompile(`(?:descr="|<svg:desc>)([^"<]*)`).FindAllSubmatch(part, -1) {
					alts = append(alts, string(m[1]))
				}
			}
		}
		drawn := false
		for _, alt := range alts {
			drawn = drawn || strings.Contains(alt, want)
			if strings.Contains(alt, said) {
				t.Errorf("%s: the script stands for a picture: %q", ending, alt)
			}
		}
		if !drawn {
			t.Errorf("%s: nothing tells what is drawn; %d pictures and formulas have words", ending, len(alts))
		}
	}
}

// Titles tell slides apart for those who jump between them by ear.
func TestNoTwoSlidesHaveTheSameTitle(t *testing.T) {
	for _, name := range bank.Names() {
		_, body, _ := parts(t, write(t, name, "pptx"))
		seen := map[string]string{}
		for part, b := range body {
			if !strings.HasPrefix(part, "ppt/slides/slide") {
				continue
			}
			_, after, _ := strings.Cut(string(b), "<a:t>")
			title, _, _ := strings.Cut(after, "</a:t>")
			if seen[title] != "" || title == "" {
				t.Errorf("%s: %s and %s have the title %q", name, part, seen[title], title)
			}
			seen[title] = part
		}
	}
}

// What a teacher types can't break a file: it is there as words, and nothing else.
func TestHostileWords(t *testing.T) {
	k := talk(t, five[0], hostileText)
	k.Title = hostile + "\x01\xff\uffff"
	for _, ending := range slides.Endings() {
		b, err := slides.Write(k, ending, slides.Options{})
		if err != nil {
			t.Errorf("%s: %v", ending, err)
			continue
		}
		if ending == "pdf" {
			if faults := uacheck.Check(b); len(faults) > 0 {
				t.Error(faults)
			}
			continue
		}
		wantTitle(t, ending, b, "Bridge &lt;em&gt;&amp; &quot;two&quot;")
	}
}

// wantTitle tries that all parts of an office file are well formed, and that one has the title, as XML writes it.
func wantTitle(t *testing.T, ending string, file []byte, title string) {
	t.Helper()
	_, body, _ := parts(t, file)
	found := false
	for name, part := range body {
		if path.Ext(name) == ".xml" {
			elements(t, name, part)
			found = found || strings.Contains(string(part), title)
		}
	}
	if !found {
		t.Errorf("%s: the title is nowhere", ending)
	}
}

// far has words from right to left, signs beyond the first plane, and very long ones; no notation forbids them in labels.
const far = "question \"جسر القفل 🌉 Überlandleitungsgerüstbefestigungsschraubenlochabdeckung und noch viel mehr Text, der nicht aufhört\"\n" +
	"body plank: uniform, length 4.80 m, weight 280 N, \"لوح خشب 🪵\"\nsupport P: rest, on plank at 0.70 m, \"left ‹sill› & right\"\n" +
	"support Q: rest, on plank at 3.50 m, \"Überlandleitungsgerüstbefestigungsschraubenlochabdeckung\"\nload K: weight 560 N, on plank at 1.20 m, \"keeper 🧍‍♀️\"\n" +
	"part a: find force P  marks 3  \"Berechne <b>R</b> 🤔\"\npart b: find force Q  marks 1\n"

func TestWordsOfAllKinds(t *testing.T) {
	k := talk(t, five[0], func(string) string { return far })
	for _, ending := range slides.Endings() {
		for _, notes := range []bool{false, true} {
			b, err := slides.Write(k, ending, slides.Options{Notes: notes})
			if err != nil {
				t.Errorf("%s: %v", ending, err)
				continue
			}
			if folder := os.Getenv("STEELYARD_SLIDES"); folder != "" {
				if err := os.WriteFile(filepath.Join(folder, fmt.Sprintf("far-%v.%s", notes, ending)), b, 0o644); err != nil {
					t.Fatal(err)
				}
			}
			if ending == "pdf" {
				for _, fault := range uacheck.Check(b) {
					t.Errorf("pdf, notes %v: %s", notes, fault)
				}
				continue
			}
			wantTitle(t, ending, b, "جسر القفل 🌉")
		}
	}
}

// Pupils who are to finish it themselves don't find the arithmetic in the notes either.
func TestStoppedTalkHoldsNoAnswer(t *testing.T) {
	k := talk(t, five[1], nil)
	for _, ending := range []string{"pptx", "odp", "odt", "docx"} {
		b, err := slides.Write(k.Stopped(), ending, slides.Options{})
		if err != nil {
			t.Fatal(err)
		}
		_, body, _ := parts(t, b)
		for name, part := range body {
			if path.Ext(name) != ".png" && bytes.Contains(part, []byte("720 newton")) {
				t.Errorf("%s: the answer stands in %s", ending, name)
			}
		}
	}
}

func need(t *testing.T, program string) {
	t.Helper()
	if _, err := exec.LookPath(program); err != nil {
		if os.Getenv("CI") != "" {
			t.Fatalf("%s is missing, and this is CI: see .ci/packages", program)
		}
		t.Skipf("%s is missing, so this was not checked", program)
	}
}

// An office program opens each kind, and shows the words. Sources: LibreOffice; poppler's pdftotext reads what it printed.
func TestAnOfficeProgramOpensThem(t *testing.T) {
	need(t, "soffice")
	need(t, "pdftotext")
	folder := t.TempDir()
	k := talk(t, five[1], nil)
	args := []string{"--headless", "-env:UserInstallation=file://" + filepath.Join(folder, "profile"), "--convert-to", "pdf", "--outdir", folder}
	for _, ending := range slides.Endings()[1:] {
		b, err := slides.Write(k, ending, slides.Options{})
		if err != nil {
			t.Fatal(err)
		}
		file := filepath.Join(folder, "as-"+ending+"."+ending)
		if err := os.WriteFile(file, b, 0o600); err != nil {
			t.Fatal(err)
		}
		args = append(args, file)
	}
	if out, err := exec.Command("soffice", args...).CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	one := func(s string) string { return strings.Join(strings.Fields(strings.ReplaceAll(s, "\u00a0", " ")), " ") }
	for _, ending := range slides.Endings()[1:] {
		out, err := exec.Command("pdftotext", filepath.Join(folder, "as-"+ending+".pdf"), "-").Output()
		if err != nil {
			t.Errorf("%s was not opened: %v", ending, err)
			continue
		}
		all := one(string(out))
		for i, s := range k.Steps {
			if i > 0 && !strings.Contains(all, s.Title) {
				t.Errorf("%s: the title %q is not to be seen", ending, s.Title)
			}
			if first, _, _ := strings.Cut(one(s.Say), ". "); (ending == "odt" || ending == "docx") && !strings.Contains(all, first) {
				t.Errorf("%s: %q is not to be seen", ending, first)
			}
		}
	}
	for _, ending := range slides.Endings()[1:] {
		out, err := exec.Command("pdftotext", "-layout", filepath.Join(folder, "as-"+ending+".pdf"), "-").Output()
		if err != nil {
			t.Errorf("%s was not opened: %v", ending, err)
			continue
		}
		text := string(out)
		if ending == "odp" || ending == "pptx" {
			if pages := strings.Count(text, "\f"); pages != len(k.Steps) {
				t.Errorf("%s: %d slides for %d steps", ending, pages, len(k.Steps))
			}
		}
		for _, words := range []string{k.Title, "Moments about L", "720 N"} {
			if !strings.Contains(strings.ReplaceAll(text, "\u00a0", " "), words) {
				t.Errorf("%s: %q is not to be seen", ending, words)
			}
		}
	}
}

func BenchmarkWrite(b *testing.B) {
	k := talk(b, five[1], nil)
	for _, ending := range slides.Endings() {
		b.Run(ending, func(b *testing.B) {
			for b.Loop() {
				if _, err := slides.Write(k, ending, slides.Options{}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
