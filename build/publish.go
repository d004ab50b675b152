package build

import (
	"context"

	"workings/calc/diag"
)

// Publish builds a manual and puts its site into a folder, all of it or
// nothing (Site.Write); files is how many there are. Its files are written as they are
// made and never lie in memory together. What is wrong with the manual is in
// the list, and with an error in it nothing is published; all else is in err,
// ErrInterrupted if the context ended before the new site was in place.
func Publish(ctx context.Context, src Source, dir string, opt Options) (files int, list diag.List, err error) {
	// Reading and computing cannot be stopped, but need not be waited for.
	done := make(chan *reading, 1)
	go func() { done <- read(src, opt) }()
	var r *reading
	select {
	case r = <-done:
	case <-ctx.Done():
		return 0, nil, ErrInterrupted
	}
	if !r.complete {
		return 0, r.findings(nil), nil
	}
	site, results, err := plan(r.releases, r.known, r.opt)
	if err != nil {
		return 0, append(r.findings(nil), unmade(r.releases, err)...), nil
	}
	st, err := newStage(ctx, dir, site)
	if err != nil {
		return 0, r.findings(nil), err
	}
	defer st.release()
	if err := site.makeAll(st, opt.Progress); err != nil {
		if notWritten(err) {
			return 0, r.findings(nil), err
		}
		return 0, append(r.findings(nil), unmade(r.releases, err)...), nil
	}
	r.list = append(r.list, found(results)...)
	list = r.findings(site)
	if list.HasErrors() {
		return 0, list, nil
	}
	return len(site.Paths()), list, st.publish(site)
}
