#!/bin/sh
# Pictures of every screen into BUILD/screens: screens.sh BUILD [--quick]. Needs the demo's journal, which it makes if need be.
set -eu
here=$(cd "$(dirname "$0")" && pwd)
build=$(cd "$1" && pwd)
export XDG_CACHE_HOME="$build/demo-test-cache"
[ -f "$build/demo-test/elevator.jigtime" ] || JIGTIME_BUILD=$build "$here/../../demo/run.sh" --quick "$build/demo-test" >/dev/null
exec /usr/bin/python3 "$here/screens.py" "$build/src/cli/jigtime" "$build/demo-test/elevator.jigtime" "$build/screens" ${2:-}
