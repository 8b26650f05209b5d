package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"sync"

	"steelyard/class"
	"steelyard/mark"
	"steelyard/question"
)

// A markedClass is the hand-ins of a class, marked.
type markedClass struct {
	question *question.Question // of one pupil, where each has numbers of their own
	parts    []string
	worth    map[string]int // marks of each part
	policy   mark.Policy
	results  []class.Result
	own      []*question.Question // of each result: the same, or with the pupil's own numbers
}

// keyring finds the key of a pupil: one for all, or each pupil's own.
type keyring struct {
	streams
	folder string // that vary wrote; "" if one question is for all
	policy mark.Policy
	one    *mark.Key
	pupils []class.Pupil
	byName map[string]int // −1 where two pupils have the name
	byCode map[string]int
}

// openKey opens a question file, or a folder that vary has written.
func (s streams) openKey(path string, policy mark.Policy) (*keyring, error) {
	k := &keyring{streams: s, policy: policy}
	if path == "-" || path == "" || !folder(path) {
		q, err := s.read(path)
		if err != nil {
			return nil, err
		}
		if k.one, err = mark.NewKey(q, policy); err != nil {
			return nil, s.refuse(err)
		}
		return k, nil
	}
	k.folder = path
	name := filepath.Join(path, "key.csv")
	f, err := os.Open(name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, usage(fmt.Sprintf("%s has no key.csv; name a question file, or a folder that steelyard vary has written", path))
	}
	if err != nil {
		return nil, err
	}
	defer f.Close()
	if k.pupils, err = class.ReadRoll(f); err != nil {
		return nil, fmt.Errorf("reading %s: %w", name, err)
	}
	k.byName, k.byCode = map[string]int{}, map[string]int{}
	for i, p := range k.pupils {
		k.byCode[p.Code] = i
		if _, twice := k.byName[p.Name]; twice {
			i = -1
		}
		k.byName[p.Name] = i
	}
	k.one, err = k.of(k.pupils[0].Code)
	return k, err
}

// pupil finds who is meant by a name or a code; what is wrong is told in words.
func (k *keyring) pupil(typed string) (p class.Pupil, fault string) {
	if k.folder == "" {
		return class.Pupil{Name: typed, Code: typed}, ""
	}
	if i, ok := k.byCode[typed]; ok {
		return k.pupils[i], ""
	}
	switch i, ok := k.byName[typed]; {
	case ok && i >= 0:
		return k.pupils[i], ""
	case ok:
		return p, fmt.Sprintf("two pupils are called %s; write the code instead", typed)
	}
	return p, fmt.Sprintf("%s has no numbers for %q; the names and codes are in its key.csv", k.folder, typed)
}

// of is the key of a pupil by code.
func (k *keyring) of(code string) (*mark.Key, error) {
	if k.folder == "" {
		return k.one, nil
	}
	name := filepath.Join(k.folder, "questions", fileName(code)+".moments")
	text, err := os.ReadFile(name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("%s is missing; run steelyard vary once more to have it again", name)
	}
	if err != nil {
		return nil, err
	}
	q, err := question.Parse(name, string(text))
	if err != nil {
		return nil, k.refuse(err)
	}
	return mark.NewKey(q, k.policy) // numbers are seldom shared, and a key is large
}

// handIn is what marking reads.
type handIn struct{ key, answers, override, policy string }

// mark reads hand-ins and marks them.
func (s streams) mark(in handIn) (*markedClass, error) {
	policy, err := s.policy(in.policy)
	if err != nil {
		return nil, err
	}
	k, err := s.openKey(in.key, policy)
	if err != nil {
		return nil, err
	}
	m := &markedClass{question: k.one.Question, policy: policy, worth: map[string]int{}}
	for _, p := range m.question.Parts {
		m.parts = append(m.parts, p.Name)
		m.worth[p.Name] = p.Marks
	}
	if len(m.parts) == 0 {
		return nil, fmt.Errorf("%s asks nothing that could be marked; add a part line", in.key)
	}
	pupils, hands, err := s.hands(in.answers, k, m.parts)
	if err != nil {
		return nil, err
	}
	if err := m.markAll(k, pupils, hands); err != nil {
		return nil, err
	}
	if in.override == "" {
		return m, nil
	}
	return m, s.decide(in.override, k, m)
}

// policy reads a policy file; "" is the default policy.
func (s streams) policy(file string) (mark.Policy, error) {
	if file == "" {
		return mark.Policy{}, nil
	}
	f, name, err := s.table(file)
	if err != nil {
		return mark.Policy{}, err
	}
	defer f.Close()
	b, err := io.ReadAll(io.LimitReader(f, 64<<10))
	if err != nil {
		return mark.Policy{}, fmt.Errorf("reading %s: %w", name, err)
	}
	p, err := mark.ParsePolicy(string(b))
	if err != nil {
		return mark.Policy{}, fmt.Errorf("%s, %w", name, err)
	}
	return p, nil
}

// table opens a table; "-" is standard input.
func (s streams) table(file string) (io.ReadCloser, string, error) {
	if file == "-" {
		return io.NopCloser(s.in), "standard input", nil
	}
	f, err := os.Open(file)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, file, usage("there is no file " + file)
	}
	if err == nil && folder(file) {
		f.Close()
		return nil, file, usage(file + " is a folder; name a table in it")
	}
	return f, file, err
}

// hands reads the answers, by pupil, each pupil's parts in order.
func (s streams) hands(file string, k *keyring, parts []string) ([]class.Pupil, [][]mark.Hand, error) {
	f, name, err := s.table(file)
	if err != nil {
		return nil, nil, err
	}
	defer f.Close()
	list, err := class.ReadHands(f, name, parts)
	if err != nil {
		return nil, nil, err
	}
	var faults class.Faults
	first := map[[2]string]int{}
	names := map[string]class.Pupil{}
	for i := range list {
		p, fault := k.pupil(list[i].Pupil)
		at := [2]string{p.Code, list[i].Part}
		if line, twice := first[at]; fault == "" && twice {
			fault = fmt.Sprintf("%s has part %s a second time, after line %d; keep the one that counts", p.Name, list[i].Part, line)
		}
		if fault != "" {
			faults = append(faults, fmt.Sprintf("%s, line %d: %s", name, list[i].Line, fault))
			continue
		}
		first[at] = list[i].Line
		list[i].Pupil, names[p.Code] = p.Code, p
	}
	if len(faults) > 0 {
		return nil, nil, faults
	}
	hands := class.Complete(list, parts)
	pupils := make([]class.Pupil, len(hands))
	for i := range hands {
		pupils[i] = names[hands[i][0].Pupil]
	}
	if k.folder != "" { // class order
		order := make([]int, len(hands))
		for i := range order {
			order[i] = i
		}
		slices.SortFunc(order, func(a, b int) int { return k.byCode[pupils[a].Code] - k.byCode[pupils[b].Code] })
		sortedPupils, sortedHands := make([]class.Pupil, len(hands)), make([][]mark.Hand, len(hands))
		for i, from := range order {
			sortedPupils[i], sortedHands[i] = pupils[from], hands[from]
		}
		return sortedPupils, sortedHands, nil
	}
	return pupils, hands, nil
}

// markAll marks all pupils, several at once; results keep their order.
func (m *markedClass) markAll(k *keyring, pupils []class.Pupil, hands [][]mark.Hand) error {
	m.results = make([]class.Result, len(pupils))
	m.own = make([]*question.Question, len(pupils))
	bar := k.progress(len(pupils))
	defer bar.end()
	var (
		wait  sync.WaitGroup
		lock  sync.Mutex
		worst = make([]error, len(pupils))
		next  = make(chan int)
	)
	for range min(runtime.GOMAXPROCS(0), len(pupils)) {
		wait.Go(func() {
			for i := range next {
				key, err := k.of(pupils[i].Code)
				if err == nil {
					parts := key.Mark(hands[i])
					m.own[i] = key.Question
					m.results[i] = class.Result{Code: pupils[i].Code, Name: pupils[i].Name, Parts: parts,
						Suspects: mark.Posterior(mark.Evidence{Key: key, Parts: parts})}
				}
				lock.Lock()
				worst[i] = err
				bar.step()
				lock.Unlock()
			}
		})
	}
	for i := range pupils {
		next <- i
	}
	close(next)
	wait.Wait()
	return errors.Join(worst...)
}

// decide reads a teacher's decisions and puts them to the parts.
func (s streams) decide(file string, k *keyring, m *markedClass) error {
	f, name, err := s.table(file)
	if err != nil {
		return err
	}
	defer f.Close()
	decisions, err := class.ReadOverrides(f, name, m.parts, m.worth)
	if err != nil {
		return err
	}
	var faults class.Faults
	for i := range decisions {
		p, fault := k.pupil(decisions[i].Pupil)
		if fault != "" {
			faults = append(faults, name+": "+fault)
			continue
		}
		decisions[i].Pupil = p.Code
	}
	if len(faults) > 0 {
		return faults
	}
	for i := range m.results {
		r := &m.results[i]
		var mine []mark.Override
		for _, d := range decisions {
			if d.Pupil == r.Code {
				mine = append(mine, d)
			}
		}
		if err := class.Decide(r.Parts, mine); err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
	}
	for _, d := range decisions {
		if !slices.ContainsFunc(m.results, func(r class.Result) bool { return r.Code == d.Pupil }) {
			faults = append(faults, fmt.Sprintf("%s: the decision on %s, part %s: no such pupil handed anything in", name, d.Pupil, d.Part))
		}
	}
	if len(faults) > 0 {
		return faults
	}
	return nil
}
