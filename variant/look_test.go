package variant
import ("testing";"fmt";"time";"steelyard/bank";"steelyard/question")
func TestLook(t *testing.T){
 for _,n:=range bank.Names(){ text,_:=bank.Files.ReadFile(n); q,_:=question.Parse(n,string(text)); if len(q.Vary)==0 {fmt.Println(n,"no vary");continue}
  a:=time.Now(); r,err:=Choose(q,"s",Numbered(30),Options{}); if err!=nil {fmt.Println(n,err);continue}
  hid,un,again,near:=0,0,0,0
  for _,p:=range r.Pupils { hid+=len(p.Certificate.Hidden)-len(r.NeverSeen); for _,u:=range p.Certificate.Unparted { if !u.Never {un++}}; if p.Again{again++}; if p.Near{near++} }
  pairs:=len(r.judge.nature.pairs)
  fmt.Printf("%-26s cases %d pool %d/%d fit %d hid %d unparted/pupil %.1f of %d never %d nseen %d again %d near %d narrow %d  %v\n", n, len(r.Plan.Cases), len(r.judge.pool), r.Examined, r.Fit, hid, float64(un)/30, pairs, len(r.Never), len(r.NeverSeen), again, near, len(r.TooNarrow), time.Since(a).Round(time.Millisecond))
 }
}
