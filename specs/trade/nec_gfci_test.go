package trade

import (
	"math"
	"testing"
)

// Sources: NEC 210.8(B) and 422.5(A) by edition: inspectors' and contractors'
// magazines, forum quotations, continuing-education pages. The 2023
// single-phase limit is 50 A (three of four pages; one says 100).
func TestGFCI(t *testing.T) {
	for _, c := range []struct {
		name string
		q    GFCIQuery
		want GFCIAnswer
	}{
		{"2014, 120 V 20 A near a sink", GFCIQuery{NEC2014, false, KitchenOrSink, 1, 120, 120, 20}, GFCIRequired},
		{"2014, 208 V 20 A near a sink", GFCIQuery{NEC2014, false, KitchenOrSink, 1, 208, 120, 20}, GFCINotRequired},
		{"2014, 120 V 30 A near a sink", GFCIQuery{NEC2014, false, KitchenOrSink, 1, 120, 120, 30}, GFCINotRequired},
		{"2014, hard-wired", GFCIQuery{NEC2014, true, KitchenOrSink, 1, 120, 120, 20}, GFCINotRequired},
		{"2014, 120 V 20 A elsewhere", GFCIQuery{NEC2014, false, ElsewhereIndoors, 1, 120, 120, 20}, GFCINotRequired},
		{"2017, 208 V 50 A near a sink", GFCIQuery{NEC2017, false, KitchenOrSink, 1, 208, 120, 50}, GFCIRequired},
		{"2017, 208 V 60 A near a sink", GFCIQuery{NEC2017, false, KitchenOrSink, 1, 208, 120, 60}, GFCINotRequired},
		{"2017, 208 V three-phase 100 A", GFCIQuery{NEC2017, false, KitchenOrSink, 3, 208, 120, 100}, GFCIRequired},
		{"2017, three-phase 110 A", GFCIQuery{NEC2017, false, KitchenOrSink, 3, 208, 120, 110}, GFCINotRequired},
		{"2017, 480Y/277", GFCIQuery{NEC2017, false, KitchenOrSink, 3, 480, 277, 30}, GFCINotRequired},
		{"2017, high leg, three-phase", GFCIQuery{NEC2017, false, KitchenOrSink, 3, 240, 208, 30}, GFCINotRequired},
		{"2017, two 120 V legs of a high-leg delta", GFCIQuery{NEC2017, false, KitchenOrSink, 1, 240, 120, 30}, GFCIRequired},
		{"2017, location unknown", GFCIQuery{NEC2017, false, LocationUnknown, 1, 208, 120, 30}, GFCIAskAHJ},
		{"2017, hard-wired", GFCIQuery{NEC2017, true, KitchenOrSink, 1, 208, 120, 30}, GFCINotRequired},
		{"2017, bar area", GFCIQuery{NEC2017, false, BeverageArea, 1, 208, 120, 30}, GFCINotRequired},
		{"2020, near a sink", GFCIQuery{NEC2020, false, KitchenOrSink, 1, 208, 120, 20}, GFCIRequired},
		{"2020, hard-wired 60 A", GFCIQuery{NEC2020, true, KitchenOrSink, 3, 208, 120, 60}, GFCIAskAHJ},
		{"2020, hard-wired 70 A", GFCIQuery{NEC2020, true, KitchenOrSink, 3, 208, 120, 70}, GFCINotRequired},
		{"2020, single-phase 60 A receptacle", GFCIQuery{NEC2020, false, KitchenOrSink, 1, 208, 120, 60}, GFCIAskAHJ},
		{"2020, single-phase 70 A receptacle", GFCIQuery{NEC2020, false, KitchenOrSink, 1, 208, 120, 70}, GFCINotRequired},
		{"2020, bar area", GFCIQuery{NEC2020, false, BeverageArea, 1, 208, 120, 30}, GFCIAskAHJ},
		{"2020, elsewhere", GFCIQuery{NEC2020, false, ElsewhereIndoors, 1, 208, 120, 30}, GFCIAskAHJ},
		{"2023, bar area", GFCIQuery{NEC2023, false, BeverageArea, 1, 208, 120, 50}, GFCIRequired},
		{"2023, elsewhere, three-phase 80 A", GFCIQuery{NEC2023, false, ElsewhereIndoors, 3, 208, 120, 80}, GFCINotRequired},
		{"2023, three-phase 100 A near a sink", GFCIQuery{NEC2023, false, KitchenOrSink, 3, 208, 120, 100}, GFCIRequired},
		{"2023, hard-wired", GFCIQuery{NEC2023, true, LocationUnknown, 1, 208, 120, 30}, GFCIAskAHJ},
		{"2023, exactly 150 V to ground", GFCIQuery{NEC2023, false, KitchenOrSink, 1, 150, 150, 20}, GFCIRequired},
		{"2023, 151 V to ground", GFCIQuery{NEC2023, false, KitchenOrSink, 1, 151, 151, 20}, GFCINotRequired},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := value[GFCIRuling](t)(GFCI(c.q))
			same(t, "answer", r.Answer, c.want)
			if r.Why == "" || r.Source.Document != "NEC" || r.Answer.String() == "no answer" {
				t.Errorf("ruling without its reason: %+v", r)
			}
		})
	}
	good := GFCIQuery{NEC2020, false, KitchenOrSink, 1, 208, 120, 20}
	for name, mod := range map[string]func(*GFCIQuery){
		"edition": func(q *GFCIQuery) { q.Edition = 2011 },
		"phases":  func(q *GFCIQuery) { q.Phases = 2 },
		"volts":   func(q *GFCIQuery) { q.Volts = 0 },
		"ground":  func(q *GFCIQuery) { q.VoltsToGround = math.NaN() },
		"amps":    func(q *GFCIQuery) { q.Amps = -1 },
	} {
		q := good
		mod(&q)
		_, err := GFCI(q)
		fails(t, name, err, ErrRange)
	}
}
