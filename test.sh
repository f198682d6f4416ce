#!/bin/sh
# Runs every test. On a fresh Debian machine with nothing but Go it first installs what the tests need: ngspice, the
# circuit simulator our answers are checked against. Arguments go on to go test, such as -count=1 or -short.
set -eu
cd "$(dirname "$0")"

fail() {
    echo "test.sh: $*" >&2
    exit 1
}

command -v go >/dev/null || fail "Go is not installed (or not on the PATH); go.mod says which release is needed."

if ! command -v ngspice >/dev/null; then
    command -v apt-get >/dev/null ||
        fail "the tests need ngspice, and there is no apt-get here to install it. Install ngspice and run this again."
    if [ "$(id -u)" -eq 0 ]; then
        as_root=
    elif command -v sudo >/dev/null; then
        as_root=sudo
    else
        fail "the tests need ngspice. Run this as root, or install sudo, or have root run: apt-get install ngspice"
    fi
    echo "Installing ngspice ..."
    $as_root apt-get update -q
    $as_root env DEBIAN_FRONTEND=noninteractive apt-get install -q -y --no-install-recommends ngspice
fi

go mod download
go test "$@" ./...
echo "All tests passed."
