package marks

import (
	"fmt"
	"net/http"

	"steelyard/homework"
	"steelyard/question"
	"steelyard/store"
	"steelyard/web/page"
)

// mostFollowing is how many questions a set to follow begins with; the teacher may add more.
const mostFollowing = 2

// follow drafts a set for a group that is taught again. It is given out from its own page, after a look.
func (m room) follow(w http.ResponseWriter, r *http.Request, v *page.Viewer) error {
	ctx := r.Context()
	b, err := m.open(ctx, r.PathValue("set"), false)
	if err != nil {
		return err
	}
	list, err := m.pictured(ctx, b)
	if err != nil {
		return err
	}
	for _, g := range list.Class.Groups {
		if g.Cause.Name != r.FormValue("cause") || b.Class.Plain {
			continue
		}
		var after []*question.Question
		for i, it := range b.Set.Items {
			q, err := question.Parse("", it.Text)
			if err != nil {
				return fmt.Errorf("reading item %d of set %s: %w", i, b.Set.ID, err)
			}
			after = append(after, q)
		}
		shelf, err := homework.OpenShelf(after...)
		if err != nil {
			return err
		}
		chosen, err := shelf.Propose(g.Slips, mostFollowing)
		if err != nil {
			return err
		}
		h := homework.FollowUp(&b.Set, g, chosen)
		h.ID = store.NewID()
		if err := m.Store.AddSet(ctx, m.By(v), h); err != nil {
			return err
		}
		return page.Go(w, r, "/sets/"+h.ID)
	}
	return &page.Refusal{Status: http.StatusConflict, What: "this group is not there any more", Mend: "what has been handed in or decided since has changed the picture; open it again"}
}
