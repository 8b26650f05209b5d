package web

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"regexp"
	"slices"

	"steelyard/account"
	"steelyard/store"
	"steelyard/web/page"
)

// A rule says whether what an address names is the viewer's: for each role that may take the route at all. Of is the
// class that the thing belongs to, where it has one: names in one address have to agree about it.
type rule func(ctx context.Context, d *page.Desk, v *page.Viewer, id string, reading bool) (yes bool, of string, err error)

// rules are all that is known about names in addresses. A name that is neither here nor in free has no rule, and the
// server does not start with it.
var rules = map[string]rule{"class": classIs, "set": setIs, "pupil": pupilIs, "question": questionIs, "person": personIs, "film": filmIs}

// free are names that say which part of a thing is meant, and give no right to anything. Rooms find what they name
// only within what the other names have found.
var free = []string{"hash", "name", "file", "item", "part", "n", "version", "handin"}

func classIs(ctx context.Context, d *page.Desk, v *page.Viewer, id string, _ bool) (bool, string, error) {
	if v.Role == account.PupilOf {
		return id == v.Class, id, nil
	}
	yes, err := d.Store.Teaches(ctx, v.ID, id)
	return yes, id, err
}

// A pupil's sets are those of their class that have been given out, to them.
func setIs(ctx context.Context, d *page.Desk, v *page.Viewer, id string, _ bool) (bool, string, error) {
	set, err := d.Store.Set(ctx, id)
	if err != nil {
		return false, "", err
	}
	if v.Role == account.PupilOf {
		mine := len(set.For) == 0 || slices.Contains(set.For, v.ID)
		return set.Class == v.Class && !set.Given.IsZero() && mine, set.Class, nil
	}
	yes, err := d.Store.Teaches(ctx, v.ID, set.Class)
	return yes, set.Class, err
}

func pupilIs(ctx context.Context, d *page.Desk, v *page.Viewer, id string, _ bool) (bool, string, error) {
	if v.Role == account.PupilOf {
		return id == v.ID, v.Class, nil
	}
	pupil, err := d.Store.Pupil(ctx, id)
	if err != nil {
		return false, "", err
	}
	yes, err := d.Store.Teaches(ctx, v.ID, pupil.Class)
	return yes, pupil.Class, err
}

// A shared question may be read by every teacher, and changed by its owner.
func questionIs(ctx context.Context, d *page.Desk, v *page.Viewer, id string, reading bool) (bool, string, error) {
	if v.Role == account.PupilOf {
		return false, "", nil
	}
	q, err := d.Store.Question(ctx, id)
	return err == nil && (q.Owner == v.ID || q.Shared && reading), "", err
}

func personIs(ctx context.Context, d *page.Desk, v *page.Viewer, id string, _ bool) (bool, string, error) {
	if v.Role != account.Head && (v.Role != account.Teacher || v.ID != id) {
		return false, "", nil
	}
	_, err := d.Store.Person(ctx, id)
	return err == nil, "", err
}

// A film is its maker's alone: it may have their voice in it.
func filmIs(_ context.Context, d *page.Desk, v *page.Viewer, id string, _ bool) (bool, string, error) {
	return v.ID != "" && d.Films.Owner(id) == v.ID, "", nil
}

// forRole says whether a route is for a role.
func forRole(f page.For, r account.Role) bool {
	switch f {
	case page.Everyone:
		return true
	case page.SignedIn:
		return r != account.Visitor
	case page.Pupils:
		return r == account.PupilOf
	case page.Teachers:
		return r == account.Teacher || r == account.Head
	case page.Heads:
		return r == account.Head
	}
	return false
}

var wildcard = regexp.MustCompile(`\{([^{}.$]+)(?:\.\.\.)?\}`)

// leaving are routes that post, but leave the thing they name as it is: a shared question may be copied, and recorded, by
// whoever may read it.
var leaving = []string{"POST /questions/{question}/copy", "POST /record/own/{question}/file", "POST /record/own/{question}/film"}

// names are those in braces of a pattern.
func names(pattern string) (list []string) {
	for _, m := range wildcard.FindAllStringSubmatch(pattern, -1) {
		list = append(list, m[1])
	}
	return list
}

// ruled says what a route lacks to be served: who it is for, and a rule for each of its names.
func ruled(r page.Route) error {
	if r.For == page.Nobody || r.For > page.SignedIn {
		return fmt.Errorf("route %s says nobody it is for; set For", r.Pattern)
	}
	for _, name := range names(r.Pattern) {
		if rules[name] == nil && !slices.Contains(free, name) {
			return fmt.Errorf("route %s: {%s} has no rule; add one to rules in web/rights.go, or to free if it gives no right", r.Pattern, name)
		}
		if rules[name] != nil && r.For == page.Everyone {
			return fmt.Errorf("route %s is for everyone, but {%s} is somebody's", r.Pattern, name)
		}
	}
	return nil
}

// allowed checks that all that a request's address names is the viewer's, and all of one class.
func allowed(d *page.Desk, r *http.Request, v *page.Viewer, pattern string) error {
	reading, class := r.Method == http.MethodGet || r.Method == http.MethodHead || slices.Contains(leaving, pattern), ""
	for _, name := range names(pattern) {
		check := rules[name]
		if check == nil {
			continue
		}
		yes, of, err := check(r.Context(), d, v, r.PathValue(name), reading)
		if err != nil && !errors.Is(err, store.ErrNotFound) {
			return err
		}
		if err != nil || !yes || class != "" && of != "" && of != class {
			return page.NotFound
		}
		if of != "" {
			class = of
		}
	}
	return nil
}
