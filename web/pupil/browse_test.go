package pupil

import (
	"testing"

	"steelyard/homework"
	"steelyard/web/browse"
)

// tab opens a page as one of the pupils.
func (s *school) tab(t *testing.T, w browse.Window, pupil int, path string) *browse.Tab {
	t.Helper()
	tab := browse.New(t, w)
	tab.Cookie(s.URL, "who", s.pupil[pupil].ID)
	tab.Go(s.URL + path)
	return tab
}

// Every page in every window, light and dark: pictures for a person to look at, and what a program can see to be wrong.
func TestPages(t *testing.T) {
	browse.Hold(t)
	s := open(t)
	set := s.set(nil, "lock-footbridge", "library-ladder", "allotment-gate")
	s.set(func(h *homework.Set) {
		h.Title, h.Opens, h.Closes = "Next week's planks", noon.Add(72*3600e9), noon.Add(144*3600e9)
	}, "tea-tins")
	closed := s.set(func(h *homework.Set) {
		h.Title, h.Opens, h.Closes = "Rods and rules", noon.Add(-48*3600e9), noon.Add(-24*3600e9)
	}, "tea-tins")
	practice := s.set(func(h *homework.Set) {
		h.Title, h.Practice, h.Show, h.Closes = "Practice: tea tins", true, homework.UsualShow(true), h.Opens.Add(-1)
		h.Opens, h.Closes = noon.Add(-3600e9), noon.Add(0)
		h.Closes = h.Closes.AddDate(1, 0, 0)
	}, "tea-tins", "mooring-plank")
	for pupil := range s.pupil {
		p := s.plain(pupil)
		for _, id := range []string{set.ID, practice.ID} {
			_, body := p.get("/work/" + id)
			form := fields(body)
			form.Set("w-0-a", "Moments about Q:\n280 x 1.1 + 560*2.3 = 2.8 RP\n= 1596 Nm\n5 6 7")
			form.Set("a-0-a", "1596 Nm clockwise")
			form.Set("w-0-b", "RP = 1596/2.8 so RP = 570")
			form.Set("a-0-b", "570")
			if id == practice.ID {
				form.Set("do", "hint-0-a")
			}
			p.post("/work/"+id, form)
		}
	}
	for _, w := range []browse.Window{browse.Phone, browse.Tablet, browse.Desk, browse.Phone.InDark(), browse.Desk.InDark()} {
		tab := s.tab(t, w, 0, "/work")
		for name, path := range map[string]string{"pupil-list": "/work", "pupil-set": "/work/" + set.ID, "pupil-look": "/work/" + set.ID + "/look", "pupil-closed": "/work/" + closed.ID, "pupil-practice": "/work/" + practice.ID} {
			tab.Go(s.URL + path)
			tab.Shot(name)
			tab.Check()
		}
		tab.Close()
	}
}
