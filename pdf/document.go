package pdf

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
	"time"

	"steelyard/font"
)

// Info is what a file says about itself.
type Info struct {
	Title    string // shown in the window's title bar; must not be empty
	Language string // such as "en-GB"; must not be empty
	Author   string
	Subject  string
	Created  time.Time // not written if zero
}

// A Document is a PDF file in the making. It is for one goroutine; documents don't share anything.
type Document struct {
	// OnText, if set, is told of every line of text as it is painted, for tests that read a sheet.
	OnText func(page int, x, y, size float64, face *font.Face, text string)

	info   Info
	root   *Element
	pages  []*Page
	faces  []*embedded
	faults []error
}

// New starts a document.
func New(info Info) *Document {
	d := &Document{info: info}
	d.root = &Element{Role: "Document", doc: d}
	return d
}

// Root is the element Document, which holds all others.
func (d *Document) Root() *Element { return d.root }

// Pages lists the pages so far.
func (d *Document) Pages() []*Page { return d.pages }

// AddPage adds a page of a size in points.
func (d *Document) AddPage(width, height float64) *Page {
	p := &Page{doc: d, width: width, height: height, index: len(d.pages), state: state{width: 1}}
	d.pages = append(d.pages, p)
	return p
}

func (d *Document) fault(err error) {
	if len(d.faults) < 20 {
		d.faults = append(d.faults, err)
	}
}

// check looks for what would make the file unreadable, or no tagged file.
func (d *Document) check() error {
	if strings.TrimSpace(d.info.Title) == "" {
		d.fault(errors.New("a document needs a title"))
	}
	if d.info.Language == "" {
		d.fault(errors.New("a document needs its language, such as en-GB"))
	}
	if len(d.pages) == 0 {
		d.fault(errors.New("a document needs a page"))
	}
	for _, p := range d.pages {
		if p.busy() {
			d.fault(fmt.Errorf("page %d: a tag is never closed", p.index+1))
		}
		if len(p.saved) > 0 {
			d.fault(fmt.Errorf("page %d: a save without its restore", p.index+1))
		}
	}
	d.root.walk(func(e *Element) {
		if (e.Role == Figure || e.Role == Formula) && e.Alt == "" {
			d.fault(fmt.Errorf("a %s has no words for those who cannot see it", e.Role))
		}
		if e.Role == TH && e.Scope == "" {
			d.fault(errors.New("a heading of a table doesn't say whether it is for its row or its column"))
		}
	})
	return errors.Join(d.faults...)
}

// Bytes writes the file. It reports every mark outside a tag and every tag left open.
func (d *Document) Bytes() ([]byte, error) {
	if err := d.check(); err != nil {
		return nil, fmt.Errorf("writing %q: %w", d.info.Title, err)
	}
	w := &writer{b: make([]byte, 0, 64<<10)}
	w.b = append(w.b, "%PDF-1.7\n%\xE2\xE3\xCF\xD3\n"...)
	catalog, pages, meta, info, tree, parents := w.reserve(), w.reserve(), w.reserve(), w.reserve(), w.reserve(), w.reserve()
	for _, p := range d.pages {
		p.number = w.reserve()
	}
	for _, f := range d.faces {
		f.number = w.reserve()
	}
	d.root.walk(func(e *Element) { e.number = w.reserve() })

	w.begin(catalog)
	fmt.Fprintf(w, "<</Type/Catalog/Pages %d 0 R/Lang%s/MarkInfo<</Marked true>>/StructTreeRoot %d 0 R"+
		"/ViewerPreferences<</DisplayDocTitle true>>/Metadata %d 0 R>>",
		pages, appendString(nil, d.info.Language), tree, meta)
	w.end()
	w.begin(pages)
	w.b = append(w.b, "<</Type/Pages/Kids["...)
	for i, p := range d.pages {
		if i > 0 {
			w.b = append(w.b, ' ')
		}
		w.b = appendRef(w.b, p.number)
	}
	fmt.Fprintf(w, "]/Count %d>>", len(d.pages))
	w.end()
	d.writeInfo(w, meta, info)
	d.writePages(w, pages)
	for _, f := range d.faces {
		if err := f.write(w); err != nil {
			return nil, fmt.Errorf("writing %q: %w", d.info.Title, err)
		}
	}
	d.writeTree(w, tree, parents)
	return w.finish(catalog, info), nil
}

// writePages writes the pages and what is on them.
func (d *Document) writePages(w *writer, parent int) {
	for _, p := range d.pages {
		p.close()
		content := w.reserve()
		w.begin(p.number)
		w.b = append(w.b, "<</Type/Page/Parent "...)
		w.b = appendRef(w.b, parent)
		w.b = append(w.b, "/MediaBox[0 0 "...)
		w.b = append(appendNumber(w.b, p.width, 2), ' ')
		w.b = append(appendNumber(w.b, p.height, 2), "]/Resources<</Font<<"...)
		for _, f := range d.faces {
			w.b = append(w.b, "/F"...)
			w.b = strconv.AppendInt(w.b, int64(f.order), 10)
			w.b = appendRef(append(w.b, ' '), f.number)
		}
		w.b = append(w.b, ">>>>/Contents "...)
		w.b = appendRef(w.b, content)
		fmt.Fprintf(w, "/StructParents %d/Tabs/S>>", p.index)
		w.end()
		w.stream(content, "", p.content)
	}
}

// writeTree writes the structure: the elements, and for each page which element each mark is of.
func (d *Document) writeTree(w *writer, tree, parents int) {
	w.begin(tree)
	fmt.Fprintf(w, "<</Type/StructTreeRoot/K[%d 0 R]/ParentTree %d 0 R/ParentTreeNextKey %d", d.root.number, parents, len(d.pages))
	d.writeIDs(w)
	w.b = append(w.b, ">>"...)
	w.end()
	w.begin(parents)
	w.b = append(w.b, "<</Nums["...)
	for i, p := range d.pages {
		fmt.Fprintf(w, "%d[", i)
		for j, e := range p.marked {
			if j > 0 {
				w.b = append(w.b, ' ')
			}
			w.b = appendRef(w.b, e.number)
		}
		w.b = append(w.b, "]\n"...)
	}
	w.b = append(w.b, "]>>"...)
	w.end()
	d.root.walk(func(e *Element) {
		up := tree
		if e.parent != nil {
			up = e.parent.number
		}
		if e.page == nil {
			e.page = e.firstPage()
		}
		w.begin(e.number)
		w.b = e.appendObject(w.b, up)
		w.end()
	})
}
