package rules
import ("testing";"fmt";"strings";"firstfill/specs/check")
func TestZZ(t *testing.T){
 seen:=map[string]bool{}
 for _, s := range sites(t) {
  j:=Judge(s,machine(t,s.Machine.Key),check.Options{Today:today})
  for _,f:=range j.Findings { for _,u:=range f.Unsaid { seen[s.Machine.Key+" "+u.Path+" "+f.ID]=true } }
 }
 m:=map[string][]string{}
 for k:=range seen { p:=strings.Fields(k); m[p[0]+" "+p[1]]=append(m[p[0]+" "+p[1]],p[2]) }
 for k,v:=range m {fmt.Println(k,v)}
}
