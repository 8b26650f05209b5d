package uacheck

import (
	"fmt"
	"strings"
	"testing"
)

// plain is a small file in the plain, that keeps the rules but for what a test changes in it.
var plain = []string{
	1: "<</Type/Catalog/Pages 2 0 R/Lang(en-GB)/MarkInfo<</Marked true>>/StructTreeRoot 6 0 R/ViewerPreferences<</DisplayDocTitle true>>/Metadata 5 0 R>>",
	2: "<</Type/Pages/Kids[3 0 R]/Count 1>>",
	3: "<</Type/Page/Parent 2 0 R/MediaBox[0 0 595 842]/Contents 4 0 R/Resources<</Font<</F1 20 0 R>>>>/StructParents 0/Tabs/S>>",
	4: "STREAM/H1<</MCID 0>>BDC BT/F1 9 Tf 5 5 Td[<00010002>]TJ ET EMC\n/Figure<</MCID 1>>BDC q 0 0 m 9 9 l S Q EMC\n" +
		"/Artifact BMC 0 0 m 5 5 l S EMC\n/Lbl<</MCID 2>>BDC EMC/LBody<</MCID 3>>BDC EMC/TH<</MCID 4>>BDC EMC/TD<</MCID 5>>BDC EMC",
	5:  `STREAM<rdf:Description xmlns:pdfuaid="http://www.aiim.org/pdfua/ns/id/"><dc:title><rdf:Alt><rdf:li xml:lang="x-default">Moments</rdf:li></rdf:Alt></dc:title><pdfuaid:part>1</pdfuaid:part>`,
	6:  "<</Type/StructTreeRoot/K[7 0 R]/ParentTree 19 0 R>>",
	7:  "<</S/Document/P 6 0 R/K[8 0 R 9 0 R 10 0 R 14 0 R 18 0 R]>>",
	8:  "<</S/H1/P 7 0 R/Pg 3 0 R/K[0]>>",
	9:  "<</S/Figure/P 7 0 R/Pg 3 0 R/Alt(a plank)/K[1]>>",
	10: "<</S/L/P 7 0 R/K[11 0 R]>>",
	11: "<</S/LI/P 10 0 R/K[12 0 R 13 0 R]>>",
	12: "<</S/Lbl/P 11 0 R/Pg 3 0 R/K[2]>>",
	13: "<</S/LBody/P 11 0 R/Pg 3 0 R/K[3]>>",
	14: "<</S/Table/P 7 0 R/K[15 0 R 25 0 R]>>",
	15: "<</S/TR/P 14 0 R/K[16 0 R 17 0 R]>>",
	16: "<</S/TH/P 15 0 R/Pg 3 0 R/A<</O/Table/Scope/Row>>/K[4]>>",
	17: "<</S/TD/P 15 0 R/Pg 3 0 R/K[5]>>",
	18: "<</S/Note/P 7 0 R/ID(n1)/K[]>>",
	19: "<</Nums[0[8 0 R 9 0 R 12 0 R 13 0 R 16 0 R 17 0 R]]>>",
	20: "<</Type/Font/Subtype/Type0/DescendantFonts[21 0 R]/ToUnicode 23 0 R>>",
	21: "<</Subtype/CIDFontType2/FontDescriptor 22 0 R/CIDToGIDMap/Identity/W[0[500 600 700]]>>",
	22: "<</FontFile2 24 0 R>>",
	23: "STREAM1 begincodespacerange <0000><FFFF> endcodespacerange 2 beginbfchar <0001><0041> <0002><0042> endbfchar",
	24: "STREAMfont",
	25: "<</S/TR/P 14 0 R/K[26 0 R]>>",
	26: "<</S/TD/P 25 0 R/A<</O/Table/ColSpan 2>>/K[]>>",
}

// build writes the objects of plain as a file, with old replaced by new in one of them.
func build(t *testing.T, object int, old, new string) []byte {
	t.Helper()
	var b strings.Builder
	b.WriteString("%PDF-1.7\n")
	at := make([]int, len(plain))
	for n, text := range plain[1:] {
		n++
		if n == object {
			if !strings.Contains(text, old) {
				t.Fatalf("object %d has no %q", n, old)
			}
			text = strings.Replace(text, old, new, 1)
		}
		at[n] = b.Len()
		if data, ok := strings.CutPrefix(text, "STREAM"); ok {
			text = fmt.Sprintf("<</Length %d>>stream\n%s\nendstream", len(data), data)
		}
		fmt.Fprintf(&b, "%d 0 obj\n%s\nendobj\n", n, text)
	}
	start := b.Len()
	fmt.Fprintf(&b, "xref\n0 %d\n0000000000 65535 f \n", len(plain))
	for _, offset := range at[1:] {
		fmt.Fprintf(&b, "%010d 00000 n \n", offset)
	}
	fmt.Fprintf(&b, "trailer\n<</Size %d/Root 1 0 R>>\nstartxref\n%d\n%%%%EOF\n", len(plain), start)
	return []byte(b.String())
}

func TestGoodFilePasses(t *testing.T) {
	for _, broken := range Check(build(t, 0, "", "")) {
		t.Error(broken)
	}
}

func TestEachRuleIsSeenToBeBroken(t *testing.T) {
	tests := []struct {
		clause   string
		object   int
		old, new string
	}{
		{"6.2-1", 1, "/Marked true", "/Marked false"},
		{"7.1-4", 1, "/Marked true", "/Marked true/Suspects true"},
		{"5-1", 5, "pdfuaid:part>1", "pdfuaid:part>2"},
		{"7.1-9", 5, ">Moments<", "> <"},
		{"7.1-10", 1, "DisplayDocTitle true", "DisplayDocTitle false"},
		{"7.2-34", 1, "/Lang(en-GB)", ""},
		{"7.1-11", 1, "/StructTreeRoot 6 0 R", ""},
		{"7.1-12", 8, "/P 7 0 R", "/P 9 0 R"},
		{"7.1-5", 8, "/S/H1", "/S/Headline"},
		{"7.2", 11, "/S/LI", "/S/P"},
		{"7.2", 17, "/S/TD", "/S/P"},
		{"7.2-43", 26, "/ColSpan 2", ""},
		{"7.3-1", 9, "/Alt(a plank)", ""},
		{"7.7-1", 9, "/S/Figure/P 7 0 R/Pg 3 0 R/Alt(a plank)", "/S/Formula/P 7 0 R/Pg 3 0 R"},
		{"7.4.2-1", 8, "/S/H1", "/S/H2"},
		{"7.5-1", 16, "/Scope/Row", ""},
		{"7.9", 18, "/ID(n1)", ""},
		{"7.18.3", 3, "/Tabs/S", ""},
		{"7.1-3", 4, "/Artifact BMC 0 0 m 5 5 l S EMC", "0 0 m 5 5 l S"},
		{"7.1-1", 4, "/Artifact BMC 0 0 m", "/Artifact BMC /Artifact BMC EMC 0 0 m"},
		{"7.1: on", 4, "9 9 l S Q EMC", "9 9 l S EMC"},
		{"7.1: mark", 19, "8 0 R 9 0 R", "9 0 R 8 0 R"},
		{"7.1: object 3, a page, has 6 marks, and the parent tree 5", 19, "17 0 R", ""},
		{"7.1: mark 0", 9, "/K[1]", "/K[0]"},
		{"7.21.4.1", 22, "/FontFile2 24 0 R", ""},
		{"7.21.3.2", 21, "/CIDToGIDMap/Identity", ""},
		{"7.21.5", 21, "500 600 700", "500 600"},
		{"7.21.7", 23, "<0002><0042>", "<0003><0042>"},
		{"7.21.7", 23, "<0002><0042>", "<0002><FFFE>"},
		{"7.21.8", 4, "00010002", "00010000"},
	}
	for _, c := range tests {
		broken := Check(build(t, c.object, c.old, c.new))
		found := false
		for _, b := range broken {
			found = found || strings.HasPrefix(b, c.clause)
		}
		if !found {
			t.Errorf("%q in place of %q: want a word about %s, have %q", c.new, c.old, c.clause, broken)
		}
	}
}

func TestRubbishIsRefusedWithoutPanic(t *testing.T) {
	good := build(t, 0, "", "")
	for _, b := range [][]byte{nil, []byte("hello"), []byte("%PDF-1.7\nstartxref\n9\n"), good[:len(good)-40]} {
		if len(Check(b)) == 0 {
			t.Errorf("%d bytes of rubbish pass", len(b))
		}
	}
}

func FuzzCheck(f *testing.F) {
	f.Add([]byte("%PDF-1.7\nxref\n0 1\ntrailer<</Root 1 0 R>>startxref\n9\n"))
	f.Fuzz(func(t *testing.T, b []byte) { Check(b) })
}
