package situation

import (
	"doorwright/circuit"
	"doorwright/fault"
)

// workbench is the whole island of some frames, used for one fault after another: what a fault joins is a patch, so that
// nothing has to be analysed anew.
type workbench struct {
	bench *Bench
	local *circuit.Local
	rest  State
	fault *fault.Fault // that is on it; nil for none but that of the frames
	lost  bool         // it found no answer: what it shows means nothing
}

// workbench is that of the frames, made when it is first needed.
func (fs *Frames) workbench() *workbench {
	if fs.work == nil {
		w := &workbench{bench: fs.still.twin(nil)}
		w.rest = w.bench.Save()
		w.bench.sys.Solve()
		w.local = w.bench.sys.Patched()
		w.bench.solver = w
		fs.work = w
	}
	return fs.work
}

// Solve makes the workbench the solver of its bench.
func (w *workbench) Solve() circuit.Report {
	r := w.local.Solve()
	w.lost = w.lost || r.Outcome == circuit.NotConverged
	return r
}

// with puts the undisturbed island on the workbench, with a fault that came while everything was at rest; nil for none.
func (w *workbench) with(f *fault.Fault) *Bench {
	b := w.bench
	if w.fault != nil {
		b.lift(w.fault)
		w.local.Unpatch()
		b.fault, b.forced, b.inputs = nil, nil, nil
	}
	w.fault, w.lost = f, false
	b.Back(w.rest)
	if f != nil {
		b.fault, b.stale = f, true
		b.impose(f)
		b.island.patch(w.local, f)
		b.settle()
	}
	return b
}

// patch adds the elements that a fault brings along.
func (is *Island) patch(l *circuit.Local, f *fault.Fault) {
	for i := range f.Edits {
		e := &f.Edits[i]
		switch e.Op {
		case fault.Join:
			l.Join(is.nodeOf(e.A), is.nodeOf(e.B), e.Ohms)
		case fault.Inject:
			l.Inject(is.nodeOf(e.A), is.nodeOf(e.B), foreign(e))
		}
	}
}
