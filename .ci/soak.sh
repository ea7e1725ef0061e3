#!/usr/bin/env bash
# soak.sh TAGS: the body of `make soak`, for a night or a lunch break.
# FUZZTIME is how long each fuzz target runs; CHECKS how many random cases each
# property is tried on.
set -euo pipefail
cd "$(dirname "$0")/.."

tags=$1
fuzz_time=${FUZZTIME:-60s}
checks=${CHECKS:-5000}

# The whole suite with more random cases; tests without properties do not mind.
RAPID_CHECKS=$checks go test -tags "$tags" -timeout 0 -count 1 ./...

for package in $(go list -tags "$tags" ./...); do
  targets=$(go test -tags "$tags" -list '^Fuzz' "$package" | grep '^Fuzz' || true)
  for target in $targets; do
    echo "== $package: $target for $fuzz_time"
    go test -tags "$tags" -timeout 0 -run '^$' -fuzz "^$target\$" -fuzztime "$fuzz_time" -fuzzminimizetime 20x "$package"
  done
done
