#!/usr/bin/env bash
# test.sh TAGS PACKAGES…: the body of `make test`. TAGS are the build tags of the
# program with its window; PACKAGES are those that have no window.
#
# What fails fast comes first. A step that holds says only its name and when it
# began.
set -euo pipefail
cd "$(dirname "$0")/.."

# The same language on every machine: one that Fyne knows (it complains of C), and
# letters as every system has them without installing a language.
unset LC_ALL
export LANG=en_GB.UTF-8 LC_CTYPE=C.UTF-8

# Random tests draw the same every time here; `make soak` lets them wander.
export RAPID_SEED=1

tags=$1
shift
below=("$@")

step() { printf '== %3d s: %s\n' "$SECONDS" "$*"; }

# Says nothing unless the command fails: then all that it printed.
quietly() {
  local out
  if ! out=$("$@" 2>&1); then
    printf '%s\n' "$out" >&2
    printf 'failed: %s\n' "$*" >&2
    return 1
  fi
}

formatted() {
  local bad
  bad=$(gofmt -l .)
  if [ -n "$bad" ]; then
    printf 'not formatted; make fmt does it:\n%s\n' "$bad"
    return 1
  fi
}

# Nothing here needs the C library's resolver or compiler but the window, so
# these compile as they do for the headless program.
without_cgo() { CGO_ENABLED=0 go "$@"; }
for_system() { CGO_ENABLED=0 GOOS=$1 GOARCH=$2 go build -tags headless "${below[@]}"; }

step "formatting"
quietly formatted

step "modules"
quietly go mod verify
quietly go mod tidy -diff

step "build with the window"
quietly env CGO_ENABLED=1 go build -tags "$tags" ./...
quietly make build

step "build without a window"
quietly make headless

step "vet"
quietly go vet -tags "$tags" ./...
quietly without_cgo vet -tags headless "${below[@]}"

step "staticcheck"
quietly go tool staticcheck -tags "$tags" ./...
quietly env CGO_ENABLED=0 go tool staticcheck -tags headless "${below[@]}"

step "build for windows/amd64"
quietly for_system windows amd64

step "build for darwin/arm64"
quietly for_system darwin arm64

# Vetted above; no need to do it again for each test binary.
step "tests"
go test -tags "$tags" -vet=off -timeout 15m ./...

step "tests of the program without a window"
without_cgo test -tags headless -vet=off -timeout 5m ./cmd/fettlebook

step "done"
