package show

import (
	"math"

	"steelyard/answer"
	"steelyard/draw"
	"steelyard/figure"
	"steelyard/solution"
	"steelyard/statics"
)

// A scene is a picture that holds still while stages of it are shown.
type scene struct {
	layout *answer.Layout
	o      figure.Options
	pair   string // the support whose own share of a pair of forces is drawn on an arrangement; "" for none
	force  pair
}

// plain is a sketch without its lengths.
var plain = &figure.Stage{}

// sketch is the scene of an arrangement as it is given.
func (m *maker) sketch(l *answer.Layout) int {
	return m.scene(scene{layout: l, o: figure.Options{View: figure.Sketch}})
}

// scene adds a scene, if there is none like it.
func (m *maker) scene(s scene) int {
	for i, x := range m.t.scenes {
		if x.layout == s.layout && x.o.View == s.o.View && x.o.Body == s.o.Body && x.o.Together == s.o.Together && x.pair == s.pair && x.o.Pivot == s.o.Pivot && x.o.PivotName == s.o.PivotName {
			return i
		}
	}
	m.t.scenes = append(m.t.scenes, s)
	return len(m.t.scenes) - 1
}

// forcesScene is the diagram of forces that an equation is about; of bodies taken together, the arrangement.
func (m *maker) forcesScene(w *solution.Working, e *solution.Equation) int {
	l := w.Layout()
	if e.Kind == solution.Limiting {
		name, _, _, _ := e.Contact()
		if u := l.SupportNamed(name); u != nil && u.On >= 0 {
			return m.diagram(w, l, l.Bodies[u.On].Name)
		}
	}
	if len(e.Bodies) != 1 && len(e.Bodies) != len(l.Bodies) {
		return m.sketch(l)
	}
	if together := len(e.Bodies) > 1; together && e.Kind == solution.Moments {
		return m.scene(scene{layout: l, o: figure.Options{View: figure.Moment, Together: true, Pivot: e.Pivot.At, PivotName: e.Pivot.Name, Forces: forcesOf(w)}})
	} else if together {
		return m.scene(scene{layout: l, o: figure.Options{View: figure.Forces, Together: true, Forces: forcesOf(w), HideDistances: true}})
	}
	body := l.Bodies[e.Bodies[0]].Name
	if e.Kind == solution.Moments {
		return m.moments(w, l, body, e.Pivot.At, e.Pivot.Name)
	}
	return m.diagram(w, l, body)
}

func (m *maker) diagram(w *solution.Working, l *answer.Layout, body string) int {
	return m.scene(scene{layout: l, o: figure.Options{View: figure.Forces, Body: body, Forces: forcesOf(w), HideDistances: true}})
}

func (m *maker) moments(w *solution.Working, l *answer.Layout, body string, at statics.Vec, name string) int {
	return m.scene(scene{layout: l, o: figure.Options{View: figure.Moment, Body: body, Pivot: at, PivotName: name, Forces: forcesOf(w)}})
}

// pairScene is the picture of the other force of a pair: of the body that it acts on, where that is one of the
// question's; else of the arrangement, with the force on what holds the body.
func (m *maker) pairScene(u *answer.Support) (int, *figure.Stage) {
	l := m.a.Layout
	if u.By >= 0 {
		st := figure.Stage{Arrows: true}
		for _, f := range m.w.Forces() {
			if f.Name == u.Name {
				st.Lit = append(st.Lit, figure.Arrow{Name: f.Name, Letter: f.Letter})
			}
		}
		return m.diagram(m.w, l, l.Bodies[u.By].Name), m.stage(m.w, st)
	}
	f := m.a.ForceNamed(u.Name)
	if f == nil || math.Hypot(f.X, f.Y) < 1e-9 || math.IsNaN(f.X+f.Y) {
		return m.sketch(l), nil
	}
	size := math.Hypot(f.X, f.Y)
	return m.scene(scene{layout: l, o: figure.Options{View: figure.Sketch}, pair: u.Name,
		force: pair{body: u.On, at: u.At, way: draw.Point{X: -f.X / size, Y: f.Y / size}}}), plain
}

// forcesOf are the forces of supports as the answers have them, for the arrows of a diagram.
func forcesOf(w *solution.Working) []answer.Force {
	us := w.Unknowns()
	var out []answer.Force
	index := map[string]int{}
	for _, f := range w.Forces() {
		if w.Layout().SupportNamed(f.Name) == nil {
			continue
		}
		k, ok := index[f.Name]
		if !ok {
			k = len(out)
			index[f.Name] = k
			out = append(out, answer.Force{Name: f.Name, At: f.At})
		}
		size := f.Value
		if f.Size >= 0 {
			size = f.Factor * us[f.Size].Value
		}
		if f.Kind == solution.Turn {
			out[k].Couple += f.Turn * size
			continue
		}
		if f.Kind == solution.Normal {
			out[k].At = f.At
		}
		out[k].X += f.Way.X * size
		out[k].Y += f.Way.Y * size
	}
	return out
}
