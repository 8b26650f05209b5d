package pdf

import (
	"bytes"
	"compress/zlib"
	"crypto/sha256"
	"encoding/xml"
	"fmt"
	"slices"
	"strings"
	"sync"
	"time"
)

// A writer writes numbered objects and remembers where they start.
type writer struct {
	b     []byte
	start []int // of object i+1
	buf   bytes.Buffer
}

// Write appends, so that fmt.Fprintf can be used.
func (w *writer) Write(b []byte) (int, error) {
	w.b = append(w.b, b...)
	return len(b), nil
}

func (w *writer) reserve() int {
	w.start = append(w.start, 0)
	return len(w.start)
}

func (w *writer) begin(object int) {
	w.start[object-1] = len(w.b)
	fmt.Fprintf(w, "%d 0 obj\n", object)
}

func (w *writer) end() { w.b = append(w.b, "\nendobj\n"...) }

// Compressors are large, so they are lent and given back.
var compressors = sync.Pool{New: func() any {
	z, _ := zlib.NewWriterLevel(nil, zlib.DefaultCompression) // the level is known to be good
	return z
}}

// stream writes a compressed stream; entries are further entries of its dictionary.
func (w *writer) stream(object int, entries string, data []byte) {
	w.buf.Reset()
	z := compressors.Get().(*zlib.Writer)
	z.Reset(&w.buf)
	z.Write(data) // to memory: cannot fail
	z.Close()
	compressors.Put(z)
	w.begin(object)
	fmt.Fprintf(w, "<</Filter/FlateDecode/Length %d%s>>stream\n", w.buf.Len(), entries)
	w.b = append(w.b, w.buf.Bytes()...)
	w.b = append(w.b, "\nendstream"...)
	w.end()
}

// finish writes the table of objects and the trailer. The file's identity is made from its contents.
func (w *writer) finish(catalog, info int) []byte {
	sum := sha256.Sum256(w.b)
	at := len(w.b)
	fmt.Fprintf(w, "xref\n0 %d\n0000000000 65535 f \n", len(w.start)+1)
	for _, start := range w.start {
		digits := [20]byte{10: ' ', 11: '0', 12: '0', 13: '0', 14: '0', 15: '0', 16: ' ', 17: 'n', 18: ' ', 19: '\n'}
		for i := 9; i >= 0; i-- {
			digits[i] = byte('0' + start%10)
			start /= 10
		}
		w.b = append(w.b, digits[:]...)
	}
	fmt.Fprintf(w, "trailer\n<</Size %d/Root %d 0 R/Info %d 0 R/ID[<%X><%X>]>>\nstartxref\n%d\n%%%%EOF\n",
		len(w.start)+1, catalog, info, sum[:16], sum[:16], at)
	return w.b
}

// writeInfo writes what the file says about itself, in both of the forms that readers look for.
func (d *Document) writeInfo(w *writer, meta, info int) {
	var x strings.Builder
	esc := func(text string) string {
		var b strings.Builder
		xml.EscapeText(&b, []byte(text)) // to memory: cannot fail
		return b.String()
	}
	x.WriteString("<?xpacket begin=\"\uFEFF\" id=\"W5M0MpCehiHzreSzNTczkc9d\"?>\n" +
		"<x:xmpmeta xmlns:x=\"adobe:ns:meta/\"><rdf:RDF xmlns:rdf=\"http://www.w3.org/1999/02/22-rdf-syntax-ns#\">\n" +
		"<rdf:Description rdf:about=\"\" xmlns:dc=\"http://purl.org/dc/elements/1.1/\" xmlns:pdf=\"http://ns.adobe.com/pdf/1.3/\"" +
		" xmlns:xmp=\"http://ns.adobe.com/xap/1.0/\" xmlns:pdfuaid=\"http://www.aiim.org/pdfua/ns/id/\">\n")
	fmt.Fprintf(&x, "<dc:format>application/pdf</dc:format>\n<dc:title><rdf:Alt><rdf:li xml:lang=\"x-default\">%s</rdf:li></rdf:Alt></dc:title>\n", esc(d.info.Title))
	if d.info.Author != "" {
		fmt.Fprintf(&x, "<dc:creator><rdf:Seq><rdf:li>%s</rdf:li></rdf:Seq></dc:creator>\n", esc(d.info.Author))
	}
	if d.info.Subject != "" {
		fmt.Fprintf(&x, "<dc:description><rdf:Alt><rdf:li xml:lang=\"x-default\">%s</rdf:li></rdf:Alt></dc:description>\n", esc(d.info.Subject))
	}
	fmt.Fprintf(&x, "<dc:language><rdf:Bag><rdf:li>%s</rdf:li></rdf:Bag></dc:language>\n", esc(d.info.Language))
	if !d.info.Created.IsZero() {
		fmt.Fprintf(&x, "<xmp:CreateDate>%s</xmp:CreateDate>\n", d.info.Created.UTC().Format(time.RFC3339))
	}
	x.WriteString("<pdf:Producer>Steelyard</pdf:Producer>\n<pdfuaid:part>1</pdfuaid:part>\n" +
		"</rdf:Description></rdf:RDF></x:xmpmeta>\n<?xpacket end=\"w\"?>")
	w.begin(meta)
	fmt.Fprintf(w, "<</Type/Metadata/Subtype/XML/Length %d>>stream\n%s\nendstream", x.Len(), x.String())
	w.end()

	w.begin(info)
	w.b = append(w.b, "<</Producer(Steelyard)"...)
	for _, entry := range []struct{ key, text string }{
		{"/Title", d.info.Title}, {"/Author", d.info.Author}, {"/Subject", d.info.Subject},
	} {
		if entry.text != "" {
			w.b = append(w.b, entry.key...)
			w.b = appendString(w.b, entry.text)
		}
	}
	if !d.info.Created.IsZero() {
		w.b = append(w.b, "/CreationDate"...)
		w.b = appendString(w.b, d.info.Created.UTC().Format("D:20060102150405Z"))
	}
	w.b = append(w.b, ">>"...)
	w.end()
}

// writeIDs writes the tree that finds elements by their identities; PDF wants it in byte order.
func (d *Document) writeIDs(w *writer) {
	var named []*Element
	d.root.walk(func(e *Element) {
		if e.ID != "" {
			named = append(named, e)
		}
	})
	if len(named) == 0 {
		return
	}
	slices.SortFunc(named, func(a, b *Element) int { return strings.Compare(a.ID, b.ID) })
	w.b = append(w.b, "/IDTree<</Names["...)
	for _, e := range named {
		w.b = appendString(w.b, e.ID)
		w.b = appendRef(append(w.b, ' '), e.number)
	}
	w.b = append(w.b, "]>>"...)
}
