#!/bin/sh
# Runs every test. On a fresh Debian machine with nothing but Go it first installs what the tests need: ngspice, the
# circuit simulator our answers are checked against, the readers that our papers are checked with, and the browser that the
# pages are tried in. Arguments go on to go test, such as -count=1 or -short.
set -eu
cd "$(dirname "$0")"

fail() {
    echo "test.sh: $*" >&2
    exit 1
}

command -v go >/dev/null || fail "Go is not installed (or not on the PATH); go.mod says which release is needed."

missing=
need() { command -v "$1" >/dev/null || missing="$missing $2"; }
need ngspice ngspice
need pdftotext poppler-utils
need qpdf qpdf
need zbarimg zbar-tools
need chromium chromium
need npm npm

if [ -n "$missing" ]; then
    command -v apt-get >/dev/null ||
        fail "the tests need$missing, and there is no apt-get here to install it. Install it and run this again."
    if [ "$(id -u)" -eq 0 ]; then
        as_root=
    elif command -v sudo >/dev/null; then
        as_root=sudo
    else
        fail "the tests need$missing. Run this as root, or install sudo, or have root run: apt-get install$missing"
    fi
    echo "Installing$missing ..."
    $as_root apt-get update -q
    # shellcheck disable=SC2086 # the list is several words
    $as_root env DEBIAN_FRONTEND=noninteractive apt-get install -q -y --no-install-recommends $missing
fi

go mod download
go test "$@" ./...
echo "All tests passed."
