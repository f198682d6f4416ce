package mend

import (
	"bytes"
	"reflect"
	"testing"

	"doorwright/demo"
	"doorwright/job"
	"doorwright/standby"
)

// What is remembered from one job is what would be found anew in the next.
func TestRememberedBatteriesAreThoseFoundAnew(t *testing.T) {
	x := NewExaminer()
	for _, change := range [][2]string{
		{"", ""},
		{"standby: 4 h", "standby: 9 h"},
		{"battery: battery-12-24", "battery: battery-12-17"},
		{"temperature: -5 C", "temperature: -15 C"},
		{"works-to: 12 V", "works-to: 11 V"},
		{"on-battery: let-go", "on-battery: hold"},
		{"cable-length: 9 m", "cable-length: 60 m"},
		{"", ""},
	} {
		text := bytes.ReplaceAll(demo.Brackwater, []byte(change[0]+"\n"), []byte(change[1]+"\n"))
		if change[0] != "" {
			text = bytes.Replace(demo.Brackwater, []byte(change[0]), []byte(change[1]), 1)
		}
		j, problems := job.Read("demo", text)
		if len(problems) > 0 {
			t.Fatal(problems)
		}
		e := x.Examine(j)
		fresh := standby.Judge(e.Site)
		if len(fresh) == 0 || !reflect.DeepEqual(e.Standby, fresh) {
			t.Errorf("%s: %+v, anew %+v", change[1], e.Standby, fresh)
		}
	}
}
