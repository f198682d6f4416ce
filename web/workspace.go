package web

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"sync"

	"doorwright/document"
	"doorwright/journal"
)

// workspaceView is all that is kept here.
type workspaceView struct {
	Says, Came, Wrong string
	Problems          []string
	Logs              tableView
	Elsewhere         bool // whoever looks is not at the machine itself
}

// waiting is a pack that was looked at and may be taken in: the last one, by the hash of its bytes. It is only kept so
// that nobody must send a large file twice; when it is gone, the file is chosen again.
type waiting struct {
	mu   sync.Mutex
	seal string
	pack *journal.Memory
}

func (w *waiting) put(seal string, pack *journal.Memory) {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.seal, w.pack = seal, pack
}

// take gives the pack of a seal once; nil when it is gone.
func (w *waiting) take(seal string) *journal.Memory {
	w.mu.Lock()
	defer w.mu.Unlock()
	if seal == "" || w.seal != seal {
		return nil
	}
	pack := w.pack
	w.seal, w.pack = "", nil
	return pack
}

func (h *handler) workspace(w http.ResponseWriter, r *http.Request) {
	v := workspaceView{}
	if n, err := strconv.Atoi(r.URL.Query().Get("came")); err == nil && n > 0 {
		v.Came = counted(n, "entry was", "entries were") + " taken in."
	}
	h.showWorkspace(w, r, v)
}

func (h *handler) showWorkspace(w http.ResponseWriter, r *http.Request, v workspaceView) {
	report, err := h.Journal.Verify(r.Context())
	if err != nil {
		h.refuse(w, r, http.StatusInternalServerError, "What is kept cannot be read", err.Error())
		return
	}
	state := h.Journal.State()
	v.Elsewhere, v.Problems = h.elsewhere(r), report.Wrong
	v.Says = fmt.Sprintf("%s, %s in %s, %s.", counted(len(state.Jobs), "job", "jobs"), counted(state.Entries, "entry", "entries"),
		counted(len(report.Heads), "log", "logs"), counted(report.Blobs, "photo", "photos"))
	own, _ := h.Journal.Device()
	v.Logs = tableView{ID: "logs", Title: "Logs, one of each device that has written", Head: []string{"log", "who works at it", "entries", "root of its entries"}}
	for _, x := range report.Heads {
		name := x.Log
		if name == own {
			name += ", this device"
		}
		v.Logs.Rows = append(v.Logs.Rows, []cell{{Text: name}, {Text: state.Seats[x.Log]}, {Text: fmt.Sprint(x.Size), Figure: true}, {Text: x.Root.String()}})
	}
	if v.Wrong != "" {
		unfit(w)
	}
	h.show(w, r, workspacePage(sheet{Title: "Workspace", Who: h.who(r), Where: []step{{"Jobs", "/"}}}, v))
}

// backup gives everything that is kept here as a pack.
func (h *handler) backup(w http.ResponseWriter, r *http.Request) {
	var b bytes.Buffer
	if err := h.Journal.Export(r.Context(), &b); err != nil {
		h.refuse(w, r, http.StatusInternalServerError, "The pack cannot be made", err.Error())
		return
	}
	today := h.Now()
	send(w, "application/zip", fmt.Sprintf("workspace-%04d-%02d-%02d%s", today.Year, today.Month, today.Day, journal.PackSuffix), b.Bytes())
}

// offerView is a pack before it is taken in.
type offerView struct {
	Says, Seal string
	Jobs       []offeredJob
	Told       []string
	Entries    tableView
}

// offeredJob is what a pack has to say of a job; the job without a name is the workspace.
type offeredJob struct {
	Name    string
	New     bool
	Says    string
	Changes []string // of its document, field by field
}

// changedFields are the fields in which two documents of a job differ, in words.
func changedFields(was, is []byte) []string {
	changes, err := document.Compare(was, is)
	if err != nil {
		return []string{"its document: " + err.Error()}
	}
	var all []string
	for _, c := range changes {
		all = append(all, fmt.Sprintf("%s: now %q, then %q", c.Where, strings.TrimSpace(c.Was), strings.TrimSpace(c.Is)))
	}
	return all
}

// mostUpload bounds a pack that is sent.
const mostUpload = 256 << 20

// mostOffered is how many entries of a pack are shown one by one.
const mostOffered = 200

// offered shows what a pack would bring.
func (h *handler) offered(w http.ResponseWriter, r *http.Request) {
	if !h.atMachine(w, r) {
		return
	}
	pack, seal, err := sentPack(w, r)
	var o *journal.Offer
	if err == nil {
		o, err = h.Journal.Offered(r.Context(), pack)
	}
	if err != nil {
		h.showWorkspace(w, r, workspaceView{Wrong: err.Error()})
		return
	}
	v := h.offerOf(o)
	told, err := photosTold(r.Context(), pack, o.Entries)
	if err != nil {
		h.showWorkspace(w, r, workspaceView{Wrong: err.Error()})
		return
	}
	v.Told = append(v.Told, told...)
	if o.Brings.Entries > 0 {
		v.Seal = seal
		h.waiting.put(seal, pack)
	}
	h.show(w, r, offerPage(sheet{Title: "Look before it is taken in", Who: h.who(r), Where: []step{{"Jobs", "/"}, {"Workspace", "/workspace"}}}, v))
}

// atMachine refuses who is not at the machine itself: what is taken in carries names of others.
func (h *handler) atMachine(w http.ResponseWriter, r *http.Request) bool {
	if h.elsewhere(r) {
		h.refuse(w, r, http.StatusForbidden, "Only at the machine itself", "A device that has joined takes in no packs: they carry what others wrote.")
		return false
	}
	return true
}

func sentPack(w http.ResponseWriter, r *http.Request) (*journal.Memory, string, error) {
	r.Body = http.MaxBytesReader(w, r.Body, mostUpload)
	if err := r.ParseMultipartForm(mostUpload); err != nil {
		return nil, "", fmt.Errorf("the form cannot be read: %w", err)
	}
	file, _, err := r.FormFile("pack")
	if err != nil {
		return nil, "", errors.New("choose the file of a pack")
	}
	defer file.Close() //nolint:errcheck // it was only read
	data, err := io.ReadAll(file)
	if err != nil {
		return nil, "", err
	}
	pack, err := journal.OpenPack(r.Context(), data)
	sum := sha256.Sum256(data)
	return pack, hex.EncodeToString(sum[:]), err
}

// photosTold says which photos of a pack are not as they would be kept here. A pack is signed, so its bytes are taken in as
// they are.
func photosTold(ctx context.Context, pack journal.Store, entries []*journal.Entry) ([]string, error) {
	var told []string
	beside, seen := 0, map[string]bool{}
	for _, e := range entries {
		p, ok := e.Body.(journal.Photographed)
		if !ok || seen[p.Blob] {
			continue
		}
		seen[p.Blob] = true
		data, err := pack.Blob(ctx, p.Blob)
		if err != nil {
			return nil, err
		}
		switch shown, _, err := bared(data); {
		case err != nil:
			told = append(told, fmt.Sprintf("The photo %q is kept, but cannot be shown: %v.", p.Caption, err))
		case !bytes.Equal(shown, data):
			beside++
		}
	}
	if beside > 0 {
		told = append(told, counted(beside, "photo has", "photos have")+" more in the file than the picture, such as place, time and device. "+
			"It is not shown here, but stays in what was signed, and in every pack that is made from it.")
	}
	return told, nil
}

func (h *handler) offerOf(o *journal.Offer) offerView {
	v := offerView{Says: "It brings nothing that is not here already.", Told: o.Told}
	if o.Brings.Entries > 0 {
		v.Says = fmt.Sprintf("It brings %s of %s, and %s. Nothing that is written here is taken away.", counted(o.Brings.Entries, "entry", "entries"),
			counted(o.Brings.Logs, "log", "logs"), counted(o.Brings.Photos, "photo", "photos"))
	}
	state := h.Journal.State()
	counts := map[string]int{}
	for _, e := range o.Entries {
		if counts[e.Job()]++; counts[e.Job()] == 1 {
			v.Jobs = append(v.Jobs, offeredJob{Name: e.Job(), New: e.Job() != "" && state.Job(e.Job()) == nil})
		}
	}
	for i := range v.Jobs {
		j := &v.Jobs[i]
		j.Says = counted(counts[j.Name], "entry", "entries")
		if j.New {
			j.Says += ", a new job here"
		} else if old, then := state.Job(j.Name), o.Then.Job(j.Name); old != nil && then != nil {
			j.Changes = changedFields(old.Document, then.Document)
		}
		if j.Name == "" {
			j.Name = "people, meters and devices"
		}
	}
	v.Entries = tableView{ID: "entries", Title: "Entries, the last first", Head: []string{"when", "who", "job", "what"}}
	teller := journal.NewTeller(o.Then)
	for _, e := range slices.Backward(o.Entries) {
		if len(v.Entries.Rows) == mostOffered {
			v.Entries.Says = fmt.Sprintf("The last %d of %d.", mostOffered, len(o.Entries))
			break
		}
		v.Entries.Rows = append(v.Entries.Rows, []cell{{Text: whenOf(e), Figure: true}, {Text: e.Who}, {Text: e.Job()}, {Text: teller.Words(e)}})
	}
	return v
}

func whenOf(e *journal.Entry) string { return e.At.Format("2006-01-02 15:04") }

// merged takes a pack in that was looked at.
func (h *handler) merged(w http.ResponseWriter, r *http.Request) {
	if !h.atMachine(w, r) || !h.form(w, r) {
		return
	}
	pack := h.waiting.take(r.PostForm.Get("seal"))
	if pack == nil {
		h.showWorkspace(w, r, workspaceView{Wrong: "Nothing was taken in: another pack was looked at since. Choose the file again."})
		return
	}
	m, err := h.Journal.Merge(r.Context(), pack)
	if err != nil {
		h.showWorkspace(w, r, workspaceView{Wrong: "Nothing was taken in: " + err.Error()})
		return
	}
	http.Redirect(w, r, fmt.Sprintf("/workspace?came=%d", m.Entries), http.StatusSeeOther)
}
