package paper

// Head is the signed head of one log that the record was kept in.
type Head struct {
	Log    string
	Size   int64  // entries
	Root   string // of its Merkle tree, in base 64
	Signed string // the head with its signature, as it is checked
}

// heads lists the signed heads, and says what they show and what they do not.
func (w *Work) heads(f *flow) {
	if len(w.Heads) == 0 {
		return
	}
	f.head("Heads of the logs that the record was kept in")
	f.say("Whoever holds these lines can check later that nothing before them was altered: evidence begins when another " +
		"party holds the head. They do not show that what was written down is true, and nothing about what came later.")
	t := table{size: small, columns: []column{{title: "log"}, {title: "entries", right: true}, {title: "root"}, {title: "head and signature"}}}
	for _, h := range w.Heads {
		t.add(h.Log, whole(int(h.Size)), h.Root, h.Signed)
	}
	f.table(t)
}
