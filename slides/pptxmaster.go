package slides

import (
	"steelyard/office"
	"steelyard/sheet"
)

// colours and faces of a presentation; the names of colours are those of the standard.
func theme() []byte {
	p := office.NewPart().Open("a:theme", "xmlns:a", "http://schemas.openxmlformats.org/drawingml/2006/main", "name", "Plain").Open("a:themeElements")
	p.Open("a:clrScheme", "name", "Plain")
	for _, c := range [][2]string{{"dk1", "1A1A1A"}, {"lt1", "FFFFFF"}, {"dk2", "5C5C5C"}, {"lt2", "F2F4F6"}, {"accent1", "0B3C7D"}, {"accent2", "A83A08"},
		{"accent3", "5C5C5C"}, {"accent4", "1A1A1A"}, {"accent5", "0B3C7D"}, {"accent6", "A83A08"}, {"hlink", "0B3C7D"}, {"folHlink", "5C5C5C"}} {
		p.Open("a:"+c[0]).Empty("a:srgbClr", "val", c[1]).Shut(1)
	}
	p.Shut(1).Open("a:fontScheme", "name", "Plain")
	for _, face := range []string{"a:majorFont", "a:minorFont"} {
		p.Open(face).Empty("a:latin", "typeface", "Arial").Empty("a:ea", "typeface", "").Empty("a:cs", "typeface", "").Shut(1)
	}
	p.Shut(1).Open("a:fmtScheme", "name", "Plain")
	thrice := func(list, each string) {
		p.Open(list).Raw(each + each + each).Shut(1)
	}
	const fill = `<a:solidFill><a:schemeClr val="phClr"/></a:solidFill>`
	thrice("a:fillStyleLst", fill)
	thrice("a:lnStyleLst", `<a:ln w="9525">`+fill+`</a:ln>`)
	thrice("a:effectStyleLst", `<a:effectStyle><a:effectLst/></a:effectStyle>`)
	thrice("a:bgFillStyleLst", fill)
	return p.Bytes()
}

const colourMap = `<p:clrMap bg1="lt1" tx1="dk1" bg2="lt2" tx2="dk2" accent1="accent1" accent2="accent2" accent3="accent3" accent4="accent4" accent5="accent5" accent6="accent6" hlink="hlink" folHlink="folHlink"/>`

// places are where title, working and number stand on every slide.
func places(t *tree, boxes bool) {
	at := func(b box) *box {
		if boxes {
			return &b
		}
		return nil
	}
	t.place("Title", []string{"type", "title"}, at(box{margin - 7.2, titleTop - 3.6, wide - margin, titleTop + titleHeight}))
	t.words(paragraph{})
	t.Shut(1)
	t.place("Working", []string{"type", "body", "idx", "1"}, at(box{workingLeft - 7.2, top - 3.6, wide - margin + 7.2, top + room}))
	t.words(paragraph{})
	t.Shut(1)
	t.place("Number", []string{"type", "sldNum", "sz", "quarter", "idx", "12"}, at(box{wide - margin - 100, high - 36, wide - margin, high - 12}))
	t.number()
	t.Shut(1)
}

func pptxMaster() []byte {
	p := office.NewPart().Open("p:sldMaster", inPresentation...)
	p.Open("p:cSld").Raw(`<p:bg><p:bgRef idx="1001"><a:schemeClr val="bg1"/></p:bgRef></p:bg>`)
	t := newTree(p)
	places(t, true)
	t.Open("p:sp").Open("p:nvSpPr").Empty("p:cNvPr", "id", t.id(), "name", "Foot").Empty("p:cNvSpPr", "txBox", "1").Empty("p:nvPr").Shut(1)
	t.Open("p:spPr").Open("a:xfrm")
	t.frame(box{margin, high - 36, margin + 400, high - 12})
	t.Shut(1).Raw(`<a:prstGeom prst="rect"><a:avLst/></a:prstGeom><a:noFill/>`).Shut(1)
	t.Open("p:txBody").Empty("a:bodyPr", "lIns", "0", "anchor", "b").Empty("a:lstStyle").Open("a:p").Open("a:r").Open("a:rPr", "lang", language, "sz", hundredths(footSize)).Empty("a:latin", "typeface", "+mn-lt").Shut(1).Leaf("a:t", sheet.Notice).Shut(4)
	p.Shut(2).Raw(colourMap).Open("p:sldLayoutIdLst").Empty("p:sldLayoutId", "id", "2147483649", "r:id", "rId1").Shut(1)
	p.Raw(`<p:txStyles><p:titleStyle><a:lvl1pPr algn="l"><a:defRPr sz="` + hundredths(titleSize) + `" b="1"><a:solidFill><a:schemeClr val="tx1"/></a:solidFill><a:latin typeface="+mj-lt"/></a:defRPr></a:lvl1pPr></p:titleStyle>` +
		`<p:bodyStyle><a:lvl1pPr marL="0" indent="0"><a:spcAft><a:spcPts val="800"/></a:spcAft><a:buNone/><a:defRPr sz="2200"><a:solidFill><a:schemeClr val="tx1"/></a:solidFill><a:latin typeface="+mn-lt"/></a:defRPr></a:lvl1pPr></p:bodyStyle>` +
		`<p:otherStyle><a:lvl1pPr><a:defRPr sz="1200"><a:solidFill><a:schemeClr val="tx1"/></a:solidFill><a:latin typeface="+mn-lt"/></a:defRPr></a:lvl1pPr></p:otherStyle></p:txStyles>`)
	return p.Bytes()
}

func pptxLayout() []byte {
	p := office.NewPart().Open("p:sldLayout", append(inPresentation[:len(inPresentation):len(inPresentation)], "type", "obj", "preserve", "1")...)
	p.Open("p:cSld", "name", "Step")
	places(newTree(p), false)
	p.Shut(2).Raw("<p:clrMapOvr><a:masterClrMapping/></p:clrMapOvr>")
	return p.Bytes()
}

func pptxNotesMaster() []byte {
	p := office.NewPart().Open("p:notesMaster", inPresentation...)
	p.Open("p:cSld").Raw(`<p:bg><p:bgRef idx="1001"><a:schemeClr val="bg1"/></p:bgRef></p:bg>`)
	t := newTree(p)
	t.place("Slide", []string{"type", "sldImg"}, &box{54, 60, 486, 303})
	t.Shut(1)
	t.place("Script", []string{"type", "body", "idx", "1"}, &box{54, 330, 486, 680})
	t.words(paragraph{})
	t.Shut(1)
	p.Shut(2).Raw(colourMap)
	p.Raw(`<p:notesStyle><a:lvl1pPr><a:spcAft><a:spcPts val="600"/></a:spcAft><a:defRPr sz="1400"><a:solidFill><a:schemeClr val="tx1"/></a:solidFill><a:latin typeface="+mn-lt"/></a:defRPr></a:lvl1pPr></p:notesStyle>`)
	return p.Bytes()
}
