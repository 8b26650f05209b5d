package uacheck

import "slices"

// paints lists the operators that leave a mark on the page.
var paints = []keyword{"S", "s", "f", "F", "f*", "B", "B*", "b", "b*", "Tj", "TJ", "'", "\"", "Do", "sh", "BI"}

// pages checks the pages, what is on them, and the way back from marks to elements.
func (c *checker) pages() {
	c.used = map[ref]map[int]bool{}
	parents := map[int]array{}
	nums := c.array(c.dict(c.dict(c.root["StructTreeRoot"])["ParentTree"])["Nums"])
	for i := 0; i+1 < len(nums); i += 2 {
		key, _ := nums[i].(float64)
		parents[int(key)] = c.array(nums[i+1])
	}
	seen := 0
	for _, kid := range c.array(c.dict(c.root["Pages"])["Kids"]) {
		r, _ := kid.(ref)
		page := c.dict(r)
		if c.get(page["Tabs"]) != name("S") {
			c.say("7.18.3: %v, a page, doesn't take its order from the structure", r)
		}
		key, ok := page["StructParents"].(float64)
		if !ok {
			c.say("7.1: %v, a page, has no entry in the parent tree", r)
		}
		content, _ := c.get(page["Contents"]).(stream)
		marks := c.content(r, content.data, c.dict(c.dict(page["Resources"])["Font"]))
		if back := parents[int(key)]; len(back) != marks {
			c.say("7.1: %v, a page, has %d marks, and the parent tree %d", r, marks, len(back))
		}
		for mark, by := range parents[int(key)] {
			if claimed, ok := c.marks[[2]int{int(r), mark}]; !ok || claimed != by {
				c.say("7.1: mark %d of %v leads to %v, which doesn't list it", mark, r, by)
			}
		}
		seen += marks
	}
	if seen != len(c.marks) {
		c.say("7.1: the pages have %d marks, the elements list %d", seen, len(c.marks))
	}
	for font, glyphs := range c.used {
		c.font(font, glyphs)
	}
	slices.Sort(c.broken)
}

// content runs over a page's operators: all that paints must be tagged or an artifact, and neither
// in the other. It returns the number of marks.
func (c *checker) content(page ref, data []byte, fonts dict) int {
	l := &lexer{b: data}
	var operands []any
	open, saves, marks := 0, 0, 0
	var font ref
	for {
		v := l.object()
		op, is := v.(keyword)
		if !is {
			operands = append(operands, v)
			continue
		}
		if op == "" {
			break
		}
		switch op {
		case "BDC", "BMC":
			if open++; open > 1 {
				c.say("7.1-1: on %v content is marked inside marked content", page)
			}
			if len(operands) == 2 {
				properties, _ := operands[1].(dict)
				if mark, ok := properties["MCID"].(float64); ok {
					if int(mark) != marks {
						c.say("7.1: on %v mark %v comes out of order", page, mark)
					}
					marks++
				} else if operands[0] != name("Artifact") {
					c.say("7.1-3: on %v content is neither in the tree nor an artifact", page)
				}
			} else if len(operands) != 1 || operands[0] != name("Artifact") {
				c.say("7.1-3: on %v content is neither in the tree nor an artifact", page)
			}
		case "EMC":
			if open--; open < 0 {
				c.say("7.1: on %v a mark ends that never began", page)
			}
		case "q":
			saves++
		case "Q":
			saves--
		case "Tf":
			if len(operands) == 2 {
				key, _ := operands[0].(name)
				font, _ = fonts[key].(ref)
			}
		case "TJ", "Tj":
			c.shown(font, operands)
		}
		if open == 0 && slices.Contains(paints, op) {
			c.say("7.1-3: on %v %q paints outside any tag", page, op)
		}
		operands = operands[:0]
	}
	if open != 0 || saves != 0 {
		c.say("7.1: on %v a mark or a save is left open", page)
	}
	return marks
}

// shown notes which glyphs of a font are used.
func (c *checker) shown(font ref, operands []any) {
	if c.used[font] == nil {
		c.used[font] = map[int]bool{}
	}
	for _, operand := range operands {
		list, ok := operand.(array)
		if !ok {
			list = array{operand}
		}
		for _, piece := range list {
			s, _ := piece.(string)
			for i := 0; i+1 < len(s); i += 2 {
				c.used[font][int(s[i])<<8|int(s[i+1])] = true
			}
		}
	}
}

// font checks that a font is in the file and that all its used glyphs have a width and a meaning.
func (c *checker) font(r ref, glyphs map[int]bool) {
	font := c.dict(r)
	below := c.array(font["DescendantFonts"])
	if font["Subtype"] != name("Type0") || len(below) != 1 {
		c.say("7.21: %v is no composite font", r)
		return
	}
	inner := c.dict(below[0])
	if _, ok := c.get(c.dict(inner["FontDescriptor"])["FontFile2"]).(stream); !ok {
		c.say("7.21.4.1: %v isn't embedded", r)
	}
	if c.get(inner["CIDToGIDMap"]) != name("Identity") {
		c.say("7.21.3.2: %v has no map from its characters to its glyphs", r)
	}
	wide := 0
	if w := c.array(inner["W"]); len(w) == 2 {
		wide = len(c.array(w[1]))
	}
	unicode, _ := c.get(font["ToUnicode"]).(stream)
	meaning := meanings(unicode.data)
	for g := range glyphs {
		if g == 0 {
			c.say("7.21.8: %v shows the glyph for a missing sign", r)
		}
		if g >= wide {
			c.say("7.21.5: glyph %d of %v has no width", g, r)
		}
		if m := meaning[g]; m == 0 || m == 0xFEFF || m == 0xFFFE {
			c.say("7.21.7: glyph %d of %v has no meaning (%#x)", g, r, m)
		}
	}
}

// meanings reads a map from glyphs to Unicode: pairs of strings between beginbfchar and endbfchar.
func meanings(data []byte) map[int]int {
	m := map[int]int{}
	l := &lexer{b: data}
	inside := false
	for {
		switch v := l.object().(type) {
		case keyword:
			if v == "" {
				return m
			}
			inside = v == "beginbfchar"
		case string:
			to, _ := l.object().(string)
			if inside && len(v) == 2 && len(to) >= 2 {
				m[int(v[0])<<8|int(v[1])] = int(to[0])<<8 | int(to[1])
			}
		}
	}
}
