package slip
import ("testing";"fmt")
func TestLook(t *testing.T){
 fs:=files(t)
 for _,n:=range names(){ p,_,err:=Make(fs[n]); if err!=nil{fmt.Println(n,err);continue}
  os,err:=p.Outcomes(); if err!=nil {fmt.Println(n,err)}
  h:=0; for _,o:=range os { if o.Hidden {h++}}
  fmt.Println(n,"slots",len(p.Slots),"cases",len(p.Cases),"hidden",h,"without",p.Without,"solves",p.solves, "two",p.two!=nil)
 }
 p,_,_:=Make(fs["lock-footbridge.moments"])
 os,_:=p.Outcomes()
 fmt.Println(p.Slots)
 for _,o:=range os { fmt.Println(o.Name(), o.Shown, o.Hidden); for _,l:=range o.Lines { fmt.Println("      ",l.Part,l.Move,l.Plain()) } }
}
func BenchmarkRun(b *testing.B){ p,_,_:=Make(files(b)["lock-footbridge.moments"]); r:=p.Reckoner(); out:=make([]float64,len(p.Slots)); b.ReportAllocs(); for b.Loop(){ r.Take(p.Question); r.Right(); for i:=range p.Cases { r.Wrong(out,&p.Cases[i])}}}
