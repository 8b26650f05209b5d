package account

import (
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"
)

func TestCodesAreTypedGenerously(t *testing.T) {
	for _, typed := range []string{"4F7K-29QR", "4f7k29qr", " 4f7k 29qr ", "4F7K–29QR.", "4 f 7 k 2 9 q r"} {
		if got := ReadCode(typed); got != "4F7K29QR" {
			t.Errorf("%q is read as %q", typed, got)
		}
	}
	for _, pair := range [][2]string{{"k7m2qd", "4f7k-29qr"}, {"K7M2QD 4F7K-29QR", ""}, {"", "k7m2qd4f7k29qr"}, {"K7M2QD 4F7K-29QR", "4F7K-29QR"}, {"K7M2QD", "K7M2QD 4F7K 29QR"}} {
		if c, p := ReadPair(pair[0], pair[1]); c != "K7M2QD" || p != "4F7K29QR" {
			t.Errorf("%q is read as %q and %q", pair, c, p)
		}
	}
}

// Every letter is as likely as any other: over 62000 letters each is met 2000 times, with a standard deviation of 44.
func TestCodesFavourNoLetter(t *testing.T) {
	met := map[rune]int{}
	for _, r := range random(62000) {
		met[r]++
	}
	if len(met) != 31 || strings.ContainsAny(letters, "01OIL") {
		t.Errorf("%d letters", len(met))
	}
	for r, n := range met {
		if n < 1700 || n > 2300 {
			t.Errorf("%c is met %d times", r, n)
		}
	}
}

func TestACodeOpensOnePupilOfOneClassUnderOneSecret(t *testing.T) {
	c, other := NewCodes(make([]byte, 32)), NewCodes([]byte(strings.Repeat("x", 32)))
	h := c.Hash("class1", "4F7K-29QR")
	if h != c.Hash("class1", "4f7k29qr") {
		t.Error("the same code has another hash")
	}
	for what, g := range map[string]string{"another class": c.Hash("class2", "4F7K-29QR"), "another code": c.Hash("class1", "4F7K-29QS"), "another secret": other.Hash("class1", "4F7K-29QR")} {
		if g == h {
			t.Errorf("%s has the same hash", what)
		}
	}
	if Find(h, []string{"a", h, "b"}) != 1 || Find(h, []string{"a", ""}) != -1 || Find("", nil) != -1 {
		t.Error("found in the wrong place")
	}
}

func TestPasswords(t *testing.T) {
	for _, p := range []string{"lantern mossy ferry plug", "ein großer grüner Esel!", "四角形のタヌキが橋の上で手紙を書く"} {
		if why := CheckPassword(p, "v.orlando", "Vera Orlando"); why != "" {
			t.Errorf("%q: %s", p, why)
		}
	}
	for _, p := range []string{"fourteen chars", "aaaaaaaaaaaaaaaaaaa", "abcabcabcabcabcabc", "passwordpassword1", "Physics-Teacher-2026", "1234567890 12345678",
		"qwertyuiop1234567890", "Vera.Orlando.2026!!", "               ", "CorrectHorseBatteryStaple", strings.Repeat("long ", 60)} {
		if CheckPassword(p, "v.orlando", "Vera Orlando") == "" {
			t.Errorf("%q is taken", p)
		}
	}
}

func TestPasswordHashes(t *testing.T) {
	ctx := t.Context()
	h, err := HashPassword(ctx, "caf\u00e9 lantern mossy ferry")
	if err != nil || !strings.HasPrefix(h, "$argon2id$v=19$m=47104,t=1,p=1$") {
		t.Fatal(h, err)
	}
	// One keyboard sends é as one character, another as e and an accent.
	if ok, again, err := MatchPassword(ctx, h, "cafe\u0301 lantern mossy ferry"); !ok || again || err != nil {
		t.Error("the same password, typed otherwise:", ok, again, err)
	}
	if ok, _, _ := MatchPassword(ctx, h, "caf\u00e9 lantern mossy ferri"); ok {
		t.Error("another password matches")
	}
	if ok, _, err := MatchPassword(ctx, "", ""); ok || err != nil {
		t.Error("no hash:", ok, err)
	}
}

// The reference implementation's own test vector (phc-winner-argon2, src/test.c: argon2id, v 19, t 2, m 256 KiB, p 1,
// "password", "somesalt"; from memory). Its parameters are below ours, so it is to be hashed anew.
func TestHashesOfOthersAreRead(t *testing.T) {
	const h = "$argon2id$v=19$m=256,t=2,p=1$c29tZXNhbHQ$nf65EOgLrQMR/uIPnA4rEsF5h7TKyQwu9U1bMCHGi/4"
	ok, again, err := MatchPassword(t.Context(), h, "password")
	if !ok || !again || err != nil {
		t.Error(ok, again, err)
	}
	for _, bad := range []string{"x", "$argon2i$v=19$m=256,t=2,p=1$c29tZXNhbHQ$nf65EOgLrQMR/uIPnA4rEsF5h7TKyQwu9U1bMCHGi/4", "$argon2id$v=19$m=4294967295,t=2,p=1$c29tZXNhbHQ$nf65EOgLrQMR/uIPnA4rEsF5h7TKyQwu9U1bMCHGi/4"} {
		if _, _, err := MatchPassword(t.Context(), bad, "password"); err == nil {
			t.Errorf("%s is taken", bad)
		}
	}
}

func FuzzHashesOfOthers(f *testing.F) {
	f.Add("$argon2id$v=19$m=256,t=2,p=1$c29tZXNhbHQ$nf65EOgLrQMR/uIPnA4rEsF5h7TKyQwu9U1bMCHGi/4")
	f.Fuzz(func(t *testing.T, s string) { readHash(s) })
}

func FuzzReadPair(f *testing.F) {
	f.Add("K7M2QD 4F7K-29QR", "")
	f.Fuzz(func(t *testing.T, a, b string) {
		c, p := ReadPair(a, b)
		if strings.Trim(c+p, "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789") != "" {
			t.Errorf("%q %q", c, p)
		}
	})
}

func TestSessionsEnd(t *testing.T) {
	now := time.Date(2026, 11, 28, 9, 0, 0, 0, time.UTC)
	token, s := NewSession(PupilOf, "p", "Firefox", now)
	if s.Hash != HashToken(token) || strings.Contains(s.Hash, token) || len(token) != 43 {
		t.Error("token", token, s.Hash)
	}
	if !s.Live(now.Add(119*time.Minute)) || s.Live(now.Add(2*time.Hour)) {
		t.Error("a pupil's session is idle after two hours")
	}
	s.Seen = now.Add(7*time.Hour + 59*time.Minute)
	if !s.Live(s.Seen) || s.Live(now.Add(8*time.Hour)) {
		t.Error("a pupil's session ends after eight hours")
	}
	_, s = NewSession(Head, "t", "", now)
	if !s.Live(now.Add(29*time.Minute)) || s.Live(now.Add(30*time.Minute)) {
		t.Error("a teacher's session is idle after half an hour")
	}
}

func TestGuessingIsSlowedAndLocked(t *testing.T) {
	now := time.Date(2026, 11, 28, 9, 0, 0, 0, time.UTC)
	th, class, teacher := NewThrottle(100), Target{"class", OfClass}, Target{"teacher", OfTeacher}
	waited := time.Duration(0)
	for i := range 50 {
		h := th.Holds(now, class)
		if h.Locked {
			t.Fatal("locked after", i)
		}
		if slowed := h.Wait > 0; slowed != (i > 10) {
			t.Errorf("try %d waits %v", i+1, h.Wait)
		}
		waited += h.Wait
		now = now.Add(h.Wait)
		if h, n := th.Judge(now, false, class); h != (Hold{}) || n != i+1 {
			t.Error(h, n)
		}
	}
	if waited < 30*time.Minute {
		t.Errorf("50 tries took %v", waited)
	}
	if !th.Holds(now, class).Locked {
		t.Error("not locked after 50 wrong tries")
	}
	th.Forget("class")
	if th.Holds(now, class) != (Hold{}) {
		t.Error("locked after the teacher looked")
	}
	for range 5 {
		th.Judge(now, false, teacher)
	}
	if wait := th.Holds(now, teacher).Wait; wait != 30*time.Second {
		t.Errorf("the fifth wrong password waits %v", wait)
	}
	for range 40 {
		now = now.Add(time.Hour)
		th.Judge(now, false, teacher)
	}
	if wait := th.Holds(now, teacher).Wait; wait != time.Hour {
		t.Errorf("waits grow to %v", wait)
	}
}

// A thousand tries at once are no way around waiting: ten and one are answered, whatever the others would have told.
func TestTriesAtOnceAreHeldToo(t *testing.T) {
	now := time.Date(2026, 11, 28, 9, 0, 0, 0, time.UTC)
	th := NewThrottle(100)
	var told atomic.Int64
	var all sync.WaitGroup
	for range 1000 {
		all.Go(func() {
			if h, _ := th.Judge(now, false, Target{"class", OfClass}); h == (Hold{}) {
				told.Add(1)
			}
		})
	}
	all.Wait()
	if told.Load() != 11 {
		t.Error(told.Load(), "tries were answered")
	}
	if h, _ := th.Judge(now, true, Target{"class", OfClass}); h == (Hold{}) {
		t.Error("the right one, sent among the wrong ones, is told")
	}
}

// Somebody who tries a new name each time cannot fill the memory, nor push out whoever is being slowed.
func TestAThrottleHasBounds(t *testing.T) {
	now := time.Date(2026, 11, 28, 9, 0, 0, 0, time.UTC)
	th, slowed := NewThrottle(50), Target{"slowed", OfClass}
	for range 11 {
		th.Judge(now, false, slowed)
	}
	for i := range 1000 {
		th.Judge(now.Add(time.Duration(i)), false, Target{random(8), OfCode})
	}
	if len(th.seen) > 50 {
		t.Error(len(th.seen), "kept")
	}
	if th.Holds(now, slowed).Wait == 0 {
		t.Error("pushed out")
	}
}

func TestBrowsersAreToldApartCoarsely(t *testing.T) {
	for agent, want := range map[string]string{
		"Mozilla/5.0 (Windows NT 10.0; Win64; x64; rv:140.0) Gecko/20100101 Firefox/140.0": "Firefox on Windows",
		"Mozilla/5.0 (Linux; Android 14) Chrome/130.0 Mobile Safari/537.36":                "Chrome on Android",
		"": "a browser", "<script>": "a browser",
	} {
		if got := Browser(agent); got != want {
			t.Errorf("%q is %q", agent, got)
		}
	}
}
