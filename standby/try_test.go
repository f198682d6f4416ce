package standby
import ("testing";"fmt";"time"
"doorwright/demo";"doorwright/job";"doorwright/wiring";"doorwright/situation")
func TestTry(t *testing.T){
 j,p:=job.Read("d",demo.Brackwater); if len(p)>0{t.Fatal(p)}
 pl:=wiring.Make(j)
 fmt.Println(pl.Problems)
 t0:=time.Now()
 s:=situation.New(pl)
 fmt.Println("site",time.Since(t0))
 for _,is:=range s.Islands{
  fmt.Println("island",len(is.Units),len(is.Conductors),len(is.Doors),len(is.Supplies))
  for _,c:=range is.Cases(){
   t0=time.Now()
   b:=is.Bench(c); d1:=time.Since(t0)
   t0=time.Now()
   fmt.Println(c.Name,d1,b.Outcome().Circuit.Outcome,b.Outcome().Settled(), b.Outcome().Unsteady, b.Outcome().Circuit.Steps)
   for _,cause:=range situation.Causes(){ if cause.ID!="mains"{continue}
     for _,st:=range cause.Steps(is,nil){b.Take(st)}
   }
   fmt.Println("mains",time.Since(t0),b.Outcome().Circuit.Outcome,b.Outcome().Settled())
   for _,ps:=range is.Supplies{
     if ps.Battery!=nil { a,_:=b.PartAmps(is.Unit(ps.Battery.ID),"cells.cells"); fmt.Println(ps.ID,a, b.Volts(is.Unit(ps.ID),"out.plus","out.minus"))}
   }
   for _,d:=range is.Doors{ st:=b.Door(d); for _,l:=range st.Locks{fmt.Print(l.Lock.ID," ",l.Volts,l.Amps,l.Effect,"; ")}}
   fmt.Println()
  }
 }
}
