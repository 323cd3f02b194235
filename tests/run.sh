#!/bin/sh
# Sets up, builds and tests everything: tests/run.sh [ctest options]. Ends with "N passed, N failed".
set -eu
root=$(cd "$(dirname "$0")/.." && pwd)
build=${JIGTIME_BUILD:-$root/build-test}
"$root/third_party/install.sh" build test
strict=
# As on a machine that has never built it, whatever this one remembers.
[ -z "${CI:-}" ] || strict="-D WARNINGS_AS_ERRORS=ON -D PRECOMPILED_HEADERS=ON -D UNITY=ON -D CCACHE=OFF"
cmake -S "$root" -B "$build" -G Ninja -D BUILD_TESTING=ON $strict ${JIGTIME_CMAKE:-}
cmake --build "$build"

log=$build/ctest.log
status=0
ctest --test-dir "$build" --output-on-failure --no-tests=error -j "$(nproc)" "$@" >"$log" 2>&1 || status=$?
grep -v ' Passed ' "$log" | grep -v '^ *Start ' || true
total=$(sed -n 's/^.* tests failed out of \([0-9]*\)$/\1/p' "$log" | tail -n 1)
failed=$(sed -n 's/^.*, \([0-9]*\) tests failed out of [0-9]*$/\1/p' "$log" | tail -n 1)
if [ -z "$total" ] || [ -z "$failed" ]; then
  echo "The tests did not run to their end." >&2
  exit 1
fi
echo "$((total - failed)) passed, $failed failed"
exit "$status"
