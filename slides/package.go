package slides

import (
	"maps"
	"slices"
	"strconv"

	"steelyard/formula"
	"steelyard/office"
	"steelyard/show"
)

// A relation leads from a part of an office file to another.
type relation struct{ kind, target string }

const coreType = "application/vnd.openxmlformats-package.core-properties+xml"

// relations writes the relations of a part: rId1, rId2 and so on.
func relations(name string, list ...relation) office.File {
	p := office.NewPart().Open("Relationships", "xmlns", packageRelation)
	for i, r := range list {
		kind := officeRelation + "/" + r.kind
		if r.kind == "core" {
			kind = packageRelation + "/metadata/core-properties"
		}
		p.Empty("Relationship", "Id", "rId"+strconv.Itoa(i+1), "Type", kind, "Target", r.target)
	}
	return office.File{Name: name, Body: p.Bytes()}
}

// contentTypes writes what each part is.
func contentTypes(parts map[string]string) office.File {
	p := office.NewPart().Open("Types", "xmlns", "http://schemas.openxmlformats.org/package/2006/content-types")
	for _, d := range [][2]string{{"rels", "application/vnd.openxmlformats-package.relationships+xml"}, {"xml", "application/xml"}, {"png", "image/png"}, {"svg", "image/svg+xml"}} {
		p.Empty("Default", "Extension", d[0], "ContentType", d[1])
	}
	for _, name := range slices.Sorted(maps.Keys(parts)) {
		p.Empty("Override", "PartName", name, "ContentType", parts[name])
	}
	return office.File{Name: "[Content_Types].xml", Body: p.Bytes()}
}

// core writes what the file says about itself: no author, no date.
func core(t *show.Talk) []byte {
	return office.NewPart().Open("cp:coreProperties", "xmlns:cp", "http://schemas.openxmlformats.org/package/2006/metadata/core-properties",
		"xmlns:dc", "http://purl.org/dc/elements/1.1/").Leaf("dc:title", talkTitle(t)).Leaf("dc:language", language).Bytes()
}

func plainRuns(text string) []formula.Run { return []formula.Run{{Text: text}} }
