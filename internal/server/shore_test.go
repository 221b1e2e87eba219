package server

import (
	"errors"
	"fmt"
	"io"
	"net/http"
	"strings"
	"testing"
	"time"

	"helmcue/internal/boat"
)

func TestAChartIsCheckedForAnInstructor(t *testing.T) {
	r := start(t, func(c *Config) {
		c.Shore = func(chart io.Reader) (ShoreReply, error) {
			if b, _ := io.ReadAll(chart); string(b) != "a lake" {
				return ShoreReply{}, errors.New("expected GeoJSON, got something else")
			}
			return ShoreReply{Says: "one area", Notes: []string{"a shore has no height_m"}}, nil
		}
	})
	for _, c := range []struct {
		name, token, body string
		status            int
		says              string
	}{
		{"good", "coach", "a lake", 200, `"says":"one area","notes":["a shore has no height_m"]`},
		{"wrong", "coach", "a pond", 422, "expected GeoJSON"},
		{"too big", "coach", strings.Repeat("x", maxShoreBody+1), 413, "at most"},
		{"a sailor", "otter", "a lake", 403, "only an instructor"},
		{"a viewer", "guest", "a lake", 403, "only an instructor"},
		{"a stranger", "", "a lake", 401, "not paired"},
	} {
		req, _ := http.NewRequest("POST", r.web.URL+"/shore.json", strings.NewReader(c.body))
		req.Header.Set("Authorization", "Bearer "+c.token)
		if status, body := r.fetch(req); status != c.status || !strings.Contains(body, c.says) {
			t.Errorf("%s: %d %s, want %d %s", c.name, status, body, c.status, c.says)
		}
	}
}

func TestAnExerciseThatWasStoppedIsNotShownForEver(t *testing.T) {
	r := start(t)
	practises := func(name string) {
		r.srv.Publish("Otter", boat.Output{Exercise: &boat.Exercise{T: 1, Name: name, Phase: "trying"}}, Line{})
	}
	practises("square_tacks")
	coach := r.join("coach")
	shows := func() bool { return coach.next("state")["exercise"] != nil }
	until(t, "the exercise to show", shows)
	coach.send(fmt.Sprintf(`{"type":"act","t":%d,"act":"exercise","text":"stop","boat":"Otter"}`, time.Now().UnixMilli()))
	until(t, "the exercise to be gone", func() bool { return !shows() })
	practises("gybe")
	until(t, "the next to show", shows)
	coach.send(fmt.Sprintf(`{"type":"act","t":%d,"act":"plan","phrase":"","boat":"Otter"}`, time.Now().UnixMilli()))
	until(t, "free sailing", func() bool { return !shows() })
}
