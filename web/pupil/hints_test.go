package pupil

import (
	"strings"
	"testing"

	"steelyard/homework"
	"steelyard/web/browse"
)

// A whole ladder fits on a narrow page and a wide one, light and dark: its lines of formulas too.
func TestAWholeLadderInABrowser(t *testing.T) {
	browse.Hold(t)
	s := open(t)
	set := s.set(func(h *homework.Set) {
		h.Practice, h.Show, h.Items[0].Own, h.Items[1].Own = true, homework.UsualShow(true), false, false
	}, "lock-footbridge", "library-ladder")
	p, at := s.plain(0), "/work/"+set.ID
	_, page := p.get(at)
	for _, part := range []string{"0-b", "1-e"} {
		for n := 0; strings.Contains(page, `value="hint-`+part+`"`) && n < 20; n++ {
			form := fields(page)
			form.Set("w-0-b", "Moments about Q:\n280*1.1 + 560*1.2 = 2.8 RP")
			form.Set("do", "hint-"+part)
			_, page = p.post(at, form)
		}
	}
	has(t, page, "begun with moments about Q", "These are all the hints there are.")
	for _, w := range []browse.Window{browse.Phone, browse.Desk, browse.Phone.InDark(), browse.Desk.InDark()} {
		tab := s.tab(t, w, 0, at)
		tab.See("hints for (b)", "hints for (e)")
		tab.Shot("pupil-ladder")
		tab.Check()
		tab.Close()
	}
}
