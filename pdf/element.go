package pdf

import "strconv"

// A Role is a standard structure type of PDF 1.7.
type Role string

// The roles that sheets need.
const (
	Part    Role = "Part"
	Sect    Role = "Sect"
	Div     Role = "Div"
	H1      Role = "H1"
	H2      Role = "H2"
	H3      Role = "H3"
	H4      Role = "H4"
	P       Role = "P"
	L       Role = "L"
	LI      Role = "LI"
	Lbl     Role = "Lbl"
	LBody   Role = "LBody"
	Table   Role = "Table"
	THead   Role = "THead"
	TBody   Role = "TBody"
	TR      Role = "TR"
	TH      Role = "TH"
	TD      Role = "TD"
	Caption Role = "Caption"
	Figure  Role = "Figure"
	Formula Role = "Formula"
	Span    Role = "Span"
	Note    Role = "Note"
)

// An Element is a node of the structure tree. Its contents are its children and the pieces of pages
// marked with it, in the order in which they were added.
type Element struct {
	Role     Role
	Alt      string // in words, for a Figure or Formula
	Title    string
	Language string     // where it differs from the document's
	Scope    string     // of a TH: "Row", "Column" or "Both"
	ColSpan  int        // of a TH or TD; 0 is 1
	Numbered string     // of an L: "Decimal", "LowerAlpha", "Disc" or ""
	ID       string     // must differ from all others; needed by a Note
	Box      [4]float64 // of a Figure or Formula: left, top, right, bottom on its page, points

	doc    *Document
	parent *Element
	kids   []kid
	page   *Page // where it has its first mark
	number int   // of its object
}

// A kid is a child, or a piece of marked content on a page.
type kid struct {
	child *Element
	page  *Page
	mark  int
}

// Child adds an element of a role at the end of e.
func (e *Element) Child(role Role) *Element {
	c := &Element{Role: role, doc: e.doc, parent: e}
	e.kids = append(e.kids, kid{child: c})
	return c
}

// walk visits e and all below it, parents first.
func (e *Element) walk(visit func(*Element)) {
	visit(e)
	for _, k := range e.kids {
		if k.child != nil {
			k.child.walk(visit)
		}
	}
}

// firstPage is the page of the first mark in e or below it, or nil.
func (e *Element) firstPage() *Page {
	for _, k := range e.kids {
		if k.page != nil {
			return k.page
		}
		if p := k.child.firstPage(); p != nil {
			return p
		}
	}
	return nil
}

// appendObject writes the element as a PDF dictionary.
func (e *Element) appendObject(b []byte, parent int) []byte {
	b = append(b, "<</Type/StructElem/S/"...)
	b = append(b, e.Role...)
	b = append(b, "/P "...)
	b = appendRef(b, parent)
	page := e.page
	if page != nil {
		b = append(b, "/Pg "...)
		b = appendRef(b, page.number)
	}
	for _, entry := range []struct{ key, text string }{
		{"/T", e.Title}, {"/Alt", e.Alt}, {"/Lang", e.Language}, {"/ID", e.ID},
	} {
		if entry.text != "" {
			b = append(b, entry.key...)
			b = appendString(b, entry.text)
		}
	}
	b = e.appendAttributes(b)
	b = append(b, "/K["...)
	for i, k := range e.kids {
		if i > 0 {
			b = append(b, ' ')
		}
		switch {
		case k.child != nil:
			b = appendRef(b, k.child.number)
		case k.page == page:
			b = strconv.AppendInt(b, int64(k.mark), 10)
		default:
			b = append(b, "<</Type/MCR/Pg "...)
			b = appendRef(b, k.page.number)
			b = append(b, "/MCID "...)
			b = strconv.AppendInt(b, int64(k.mark), 10)
			b = append(b, ">>"...)
		}
	}
	return append(b, "]>>"...)
}

func (e *Element) appendAttributes(b []byte) []byte {
	switch {
	case e.Box != [4]float64{} && e.page != nil:
		b = append(b, "/A<</O/Layout/Placement/Block/BBox["...)
		h := e.page.height
		for i, v := range [4]float64{e.Box[0], h - e.Box[3], e.Box[2], h - e.Box[1]} {
			if i > 0 {
				b = append(b, ' ')
			}
			b = appendNumber(b, v, 2)
		}
		b = append(b, "]>>"...)
	case e.Scope != "" || e.ColSpan > 1:
		b = append(b, "/A<</O/Table"...)
		if e.Scope != "" {
			b = append(b, "/Scope/"...)
			b = append(b, e.Scope...)
		}
		if e.ColSpan > 1 {
			b = append(b, "/ColSpan "...)
			b = strconv.AppendInt(b, int64(e.ColSpan), 10)
		}
		b = append(b, ">>"...)
	case e.Numbered != "":
		b = append(b, "/A<</O/List/ListNumbering/"...)
		b = append(b, e.Numbered...)
		b = append(b, ">>"...)
	}
	return b
}
