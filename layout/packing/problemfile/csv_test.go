package problemfile

import (
	"context"
	"encoding/json"
	"strings"
	"testing"
)

func TestRunJSONAnswersAnL(t *testing.T) {
	in := `{"region":{"outline":[[0,0],[4,0],[4,2],[2,2],[2,4],[0,4]]},"module":{"length":2,"width":1},"limit_s":5}`
	var out strings.Builder
	if err := RunJSON(context.Background(), strings.NewReader(in), &out); err != nil {
		t.Fatal(err)
	}
	var a Answer
	if err := json.Unmarshal([]byte(out.String()), &a); err != nil {
		t.Fatal(err)
	}
	// Twelve unit squares in an L of 2 by 2 blocks hold six dominoes.
	if a.Count != 6 || a.Bound != 6 || !a.Proved || len(a.Placements) != 6 {
		t.Errorf("got %s", out.String())
	}
}

func TestRunCSVKeepsOrder(t *testing.T) {
	in := "X,Y,a,b\n4,4,2,1\n3,2,2,1\n"
	var out strings.Builder
	if err := RunCSV(context.Background(), strings.NewReader(in), &out); err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(out.String(), "\n")
	if lines[0] != "X,Y,a,b,count,bound,proved,seconds" || !strings.HasPrefix(lines[1], "4,4,2,1,8,8,true,") || !strings.HasPrefix(lines[2], "3,2,2,1,3,3,true,") {
		t.Errorf("got\n%s", out.String())
	}
}
