package serve

import (
	"compress/gzip"
	"net/http"
	"strings"
)

// compressed compresses text for whoever takes it. What is compressed already, or in parts, goes as it is.
func compressed(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Add("Vary", "Accept-Encoding")
		if !strings.Contains(r.Header.Get("Accept-Encoding"), "gzip") || r.Header.Get("Range") != "" {
			next.ServeHTTP(w, r)
			return
		}
		c := &compressor{ResponseWriter: w}
		defer c.close()
		next.ServeHTTP(c, r)
	})
}

// compressor compresses what turns out to be text.
type compressor struct {
	http.ResponseWriter
	zip     *gzip.Writer
	started bool
}

func (c *compressor) WriteHeader(code int) {
	if !c.started {
		c.started = true
		head := c.Header()
		if isText(head.Get("Content-Type")) && code != http.StatusNoContent && code != http.StatusNotModified && head.Get("Content-Encoding") == "" {
			head.Set("Content-Encoding", "gzip")
			head.Del("Content-Length")
			c.zip = gzip.NewWriter(c.ResponseWriter)
		}
	}
	c.ResponseWriter.WriteHeader(code)
}

func (c *compressor) Write(data []byte) (int, error) {
	if !c.started {
		c.WriteHeader(http.StatusOK)
	}
	if c.zip != nil {
		return c.zip.Write(data)
	}
	return c.ResponseWriter.Write(data)
}

func (c *compressor) close() {
	if c.zip != nil {
		c.zip.Close() //nolint:errcheck // the connection is gone: nobody is there to be told
	}
}

func isText(kind string) bool {
	for _, k := range []string{"text/", "application/json", "application/javascript", "image/svg+xml"} {
		if strings.HasPrefix(kind, k) {
			return true
		}
	}
	return false
}
