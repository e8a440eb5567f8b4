package build_test
import ("testing";"fmt";"strapwork/pkg/job";"strapwork/pkg/motif";"strapwork/pkg/weave";"strapwork/pkg/groove";"strapwork/pkg/inlay";"strapwork/pkg/build";"os";"strings";"strconv")
func TestZZ(t *testing.T){
 for _,v:=range strings.Split(os.Getenv("SEEDS"),",") { seed,_:=strconv.Atoi(v)
  text:=cutJob(seed)
  os.WriteFile("/tmp/wt/scratch-E/seed-"+v+".toml",[]byte(text),0o644)
  j,f:=job.Read("x.toml",[]byte(text)); 
  m,f1:=motif.Build(j.Motif); w,f2:=weave.Build(m,j.Weave); _,f3:=groove.Build(build.GrooveSize(j),m,w); _,f4:=inlay.Build(build.InlayParams(j),m,w)
  for _,fs:=range [](interface{}){f,f1,f2,f3,f4} { fmt.Println(seed, fs) }
 }
}
