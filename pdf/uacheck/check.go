package uacheck

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
)

// Check returns the rules that a file breaks, each with its clause and where; none is good.
func Check(b []byte) []string {
	c := &checker{}
	if !bytes.HasPrefix(b, []byte("%PDF-1.")) {
		return []string{"6.1: this is no PDF 1 file"}
	}
	var err error
	if c.file, err = open(b); err != nil {
		return []string{"6.1: " + err.Error()}
	}
	c.catalog()
	c.tree()
	c.pages()
	return c.broken
}

type checker struct {
	*file
	broken  []string
	root    dict
	marks   map[[2]int]ref  // page object, mark: the element that lists it
	heading int             // level of the heading before; 0 at the start
	notes   map[string]bool // identities of notes
	used    map[ref]map[int]bool
}

func (c *checker) say(format string, a ...any) {
	c.broken = append(c.broken, fmt.Sprintf(format, a...))
}

// catalog checks what the file says about itself.
func (c *checker) catalog() {
	c.root = c.dict(c.trailer["Root"])
	if c.trailer["Encrypt"] != nil {
		c.say("7.16: the file is encrypted")
	}
	info := c.dict(c.root["MarkInfo"])
	if c.get(info["Marked"]) != true {
		c.say("6.2-1: the file isn't marked as tagged")
	}
	if c.get(info["Suspects"]) == true {
		c.say("7.1-4: the tags are called suspect")
	}
	meta, _ := c.get(c.root["Metadata"]).(stream)
	if !bytes.Contains(meta.data, []byte("<pdfuaid:part>1</pdfuaid:part>")) ||
		!bytes.Contains(meta.data, []byte(`xmlns:pdfuaid="http://www.aiim.org/pdfua/ns/id/"`)) {
		c.say("5-1: the metadata don't name PDF/UA part 1")
	}
	_, title, _ := strings.Cut(string(meta.data), `<dc:title><rdf:Alt><rdf:li xml:lang="x-default">`)
	if title, _, _ = strings.Cut(title, "</rdf:li>"); strings.TrimSpace(title) == "" {
		c.say("7.1-9: the metadata have no dc:title")
	}
	if c.get(c.dict(c.root["ViewerPreferences"])["DisplayDocTitle"]) != true {
		c.say("7.1-10: the title isn't shown in the window's title bar")
	}
	if c.text(c.root["Lang"]) == "" {
		c.say("7.2-34: the file has no language")
	}
}

// May says in what each structure type may stand; the types that may stand anywhere are not listed.
var may = map[name][]name{
	"TR": {"Table", "THead", "TBody", "TFoot"}, "THead": {"Table"}, "TBody": {"Table"}, "TFoot": {"Table"},
	"TH": {"TR"}, "TD": {"TR"}, "LI": {"L"}, "Lbl": {"LI", "Note"}, "LBody": {"LI"}, "Document": {""},
}

// Holds says what else the types that hold only certain others may hold.
var holds = map[name][]name{
	"Table": {"TR", "THead", "TBody", "TFoot", "Caption"}, "THead": {"TR"}, "TBody": {"TR"}, "TFoot": {"TR"},
	"TR": {"TH", "TD"}, "L": {"LI", "L", "Caption"}, "LI": {"Lbl", "LBody"},
}

var standard = strings.Fields("Document Part Sect Div Art BlockQuote Caption TOC TOCI Index NonStruct Private " +
	"H H1 H2 H3 H4 H5 H6 P L LI Lbl LBody Table TR TH TD THead TBody TFoot " +
	"Span Quote Note Reference BibEntry Code Link Annot Ruby Warichu Figure Formula Form")

// tree checks the structure tree.
func (c *checker) tree() {
	c.marks, c.notes = map[[2]int]ref{}, map[string]bool{}
	treeRef, _ := c.root["StructTreeRoot"].(ref)
	tree := c.dict(treeRef)
	if tree == nil {
		c.say("7.1-11: there is no structure tree")
		return
	}
	for _, kid := range c.array(tree["K"]) {
		if r, ok := kid.(ref); ok {
			c.element(r, treeRef, "", 0)
		}
	}
}

func (c *checker) element(r, parent ref, within name, deep int) {
	e := c.dict(r)
	role, _ := c.get(e["S"]).(name)
	if deep > 60 {
		c.say("7.1: the tree is too deep at %v", r)
		return
	}
	if up, _ := e["P"].(ref); up != parent {
		c.say("7.1-12: %v (%s) doesn't name its parent %v", r, role, parent)
	}
	if !slices.Contains(standard, string(role)) {
		c.say("7.1-5: %v has the unknown type %q", r, role)
	}
	if in, limited := may[role]; limited && !slices.Contains(in, within) {
		c.say("7.2: %v, a %s, stands in a %q", r, role, within)
	}
	if only, limited := holds[within]; limited && !slices.Contains(only, role) {
		c.say("7.2: %v, a %s, stands in a %s, which may hold only %v", r, role, within, only)
	}
	c.ownRules(r, e, role)
	page, _ := e["Pg"].(ref)
	for _, kid := range c.array(e["K"]) {
		switch kid := kid.(type) {
		case float64:
			c.claim(page, int(kid), r)
		case dict: // a piece on another page
			onto, _ := kid["Pg"].(ref)
			mark, _ := kid["MCID"].(float64)
			c.claim(onto, int(mark), r)
		case ref:
			c.element(kid, r, role, deep+1)
		}
	}
	if role == "Table" {
		c.rows(r, e)
	}
}

func (c *checker) claim(page ref, mark int, by ref) {
	key := [2]int{int(page), mark}
	if other, had := c.marks[key]; had {
		c.say("7.1: mark %d of page %v belongs to %v and to %v", mark, page, other, by)
	}
	c.marks[key] = by
}

// ownRules checks what one element owes by its type.
func (c *checker) ownRules(r ref, e dict, role name) {
	switch role {
	case "Figure":
		if strings.TrimSpace(c.text(e["Alt"])+c.text(e["ActualText"])) == "" {
			c.say("7.3-1: %v, a figure, has no words", r)
		}
	case "Formula":
		if strings.TrimSpace(c.text(e["Alt"])) == "" {
			c.say("7.7-1: %v, a formula, has no words", r)
		}
	case "TH":
		if a := c.dict(e["A"]); a["Scope"] == nil {
			c.say("7.5-1: %v, a heading of a table, has no scope", r)
		}
	case "Note":
		id := c.text(e["ID"])
		if id == "" || c.notes[id] {
			c.say("7.9: %v, a note, has no identity of its own", r)
		}
		c.notes[id] = true
	}
	if len(role) == 2 && role[0] == 'H' && role[1] >= '1' && role[1] <= '6' {
		level := int(role[1] - '0')
		if level > c.heading+1 {
			c.say("7.4.2-1: %v, a heading of level %d, follows one of level %d", r, level, c.heading)
		}
		c.heading = level
	}
}

// rows checks that the rows of a table are equally wide.
func (c *checker) rows(r ref, table dict) {
	width := -1
	var visit func(e dict)
	visit = func(e dict) {
		for _, kid := range c.array(e["K"]) {
			row := c.dict(kid)
			if row["S"] != name("TR") {
				visit(row)
				continue
			}
			w := 0
			for _, cell := range c.array(row["K"]) {
				w++
				if span, ok := c.dict(c.dict(cell)["A"])["ColSpan"].(float64); ok {
					w += int(span) - 1
				}
			}
			if width >= 0 && w != width {
				c.say("7.2-43: the rows of %v, a table, are %d and %d wide", r, width, w)
			}
			width = w
		}
	}
	visit(table)
}
