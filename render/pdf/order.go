package pdf

import (
	"cmp"
	"firstfill/render/words"
	"firstfill/specs/check"
	"slices"
)

// A step is one open point on the path to ready.
type step struct {
	f     *words.Told
	stage check.Stage // by which it must be settled; a cause takes its consequence's if that is earlier
}

// order sorts the open findings into the order in which they must be settled:
// by stage, what blocks before what is to be confirmed, and a cause always
// before what may follow from it.
func order(r *words.Report) []step {
	var open []*words.Told
	at := map[string]int{}
	for _, f := range r.Findings {
		if f.Verdict <= check.Confirm {
			open = append(open, f)
		}
	}
	slices.SortStableFunc(open, func(a, b *words.Told) int {
		return cmp.Or(cmp.Compare(stageOf(a), stageOf(b)), cmp.Compare(a.Verdict, b.Verdict))
	})
	for i, f := range open {
		at[f.ID] = i
	}
	var steps []step
	done := make([]bool, len(open))
	var visit func(i int, by check.Stage)
	visit = func(i int, by check.Stage) {
		if done[i] {
			return
		}
		done[i] = true
		f := open[i]
		by = min(by, stageOf(f))
		for _, id := range causesOf(f) {
			if k, ok := at[id]; ok {
				visit(k, by)
			}
		}
		steps = append(steps, step{f, by})
	}
	for i := range open {
		visit(i, stageOf(open[i]))
	}
	return steps
}

func stageOf(f *words.Told) check.Stage {
	if f.Check == nil {
		return check.BeforeStart
	}
	return f.Check.Stage
}

func causesOf(f *words.Told) []string {
	var ids []string
	if f.Cause != "" {
		ids = append(ids, f.Cause)
	}
	if f.Check != nil {
		for _, a := range f.Check.After {
			ids = append(ids, a.ID)
		}
	}
	return ids
}
