package meter
import ("testing";"fmt";"doorwright/demo";"doorwright/situation")
func TestX(t *testing.T){
 s:=siteOf(t,string(demo.Brackwater))
 is:=s.Islands[2]
 for _,c:=range is.Cases(){ b:=is.Bench(c); charge(is,b); fmt.Println(c.Name,b.Outcome()); st:=b.Save(); b.Take(allOff(is)); fmt.Println(" off",b.Outcome());off:=b.Save()
  for _,l:=range []float64{.85,1.15}{ for _,x:=range []situation.State{st,off} {b.Back(x); b.Stretch(l); fmt.Println("  ",l,b.Outcome())}}
 }
}
