package web

import (
	"bytes"
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"mime"
	"net/http"
	"path"
	"sync"
	"time"

	"doorwright/draw"
)

//go:embed static
var static embed.FS

// assets are the files that pages need, with the inks of drawings in the style sheet.
var assets = sync.OnceValue(func() map[string][]byte {
	all := map[string][]byte{}
	entries, err := static.ReadDir("static")
	if err != nil {
		panic(err) // they are part of the program
	}
	for _, e := range entries {
		data, err := static.ReadFile(path.Join("static", e.Name()))
		if err != nil {
			panic(err)
		}
		if e.Name() == "app.css" {
			data = append(data, inks()...)
		}
		all[e.Name()] = data
	}
	return all
})

// inks are the styles of drawings: light, dark where the system asks for it, and dark by choice.
func inks() string {
	return draw.Rules() + draw.Styles(":root", false) +
		"@media screen and (prefers-color-scheme:dark){\n" + draw.Styles(":root:not([data-theme=light]):not([data-theme=contrast])", true) + "}\n" +
		draw.Styles(":root[data-theme=dark]", true)
}

// asset is the address of a file, with a mark of its content so that it can be kept for ever.
func asset(name string) string {
	sum := sha256.Sum256(assets()[name])
	return "/static/" + name + "?v=" + hex.EncodeToString(sum[:6])
}

func serveAsset(w http.ResponseWriter, r *http.Request) {
	name := r.PathValue("file")
	data, ok := assets()[name]
	if !ok {
		http.NotFound(w, r)
		return
	}
	w.Header().Set("Content-Type", mime.TypeByExtension(path.Ext(name)))
	w.Header().Set("Cache-Control", "public, max-age=31536000, immutable")
	http.ServeContent(w, r, "", time.Time{}, bytes.NewReader(data))
}
