#!/bin/sh
# Sets up, builds and runs the main job on the demo's cameras: demo/run.sh [--quick] [FOLDER]
# Everything it makes lies in FOLDER (out-demo beside this folder if none is named); made again each time.
set -eu
root=$(cd "$(dirname "$0")/.." && pwd)
length=""
if [ "${1:-}" = "--quick" ]; then
  length=--quick
  shift
fi
out=${1:-$root/out-demo}
build=${JIGTIME_BUILD:-$root/build}

if [ -z "${JIGTIME_BUILD:-}" ]; then
  "$root/third_party/install.sh" build
  cmake -S "$root" -B "$build" -G Ninja -D BUILD_TESTING=OFF -D CMAKE_BUILD_TYPE=RelWithDebInfo >/dev/null
  cmake --build "$build"
fi
jigtime=$build/src/cli/jigtime
day=2026-03-14

step() { printf '\n== %s\n' "$*"; }
# Exit status 1 means: done, but something needs the builder. Here that is wanted: one file is cut off.
allow_1() { "$@" || [ $? -eq 1 ]; }

mkdir -p "$out"
journal=$out/elevator.jigtime
rm -f "$journal" "$journal-wal" "$journal-shm"

step "Making the footage of one session: three cameras, as their cards are copied"
"$build/demo/jigtime_demo_maker" "$out/cards" $length

step "A new journal"
"$jigtime" new "$journal" --build "Marten, serial 7" --zone Europe/Lisbon --place "Village workshop"

step "Import: three cards, no footage is copied or changed"
allow_1 "$jigtime" import "$journal" --session $day --camera bench="$out/cards/bench" \
  --camera overhead="$out/cards/overhead" --camera side="$out/cards/side"

step "Line up: one clock for all clips, by sound"
allow_1 "$jigtime" align "$journal" --session $day --json >"$out/align.json"
"$jigtime" show "$journal" --session $day

step "Tags, marks and what the drawing asks for"
"$jigtime" tags "$journal" --session $day --read "$out/cards/tags.csv"

step "Hours"
"$jigtime" hours "$journal"
"$jigtime" hours "$journal" --json >"$out/hours.json"

step "Fasteners, planned against set"
"$jigtime" rivets "$journal"

step "What the microphones propose"
"$jigtime" detect "$journal" --session $day

step "Find"
"$jigtime" find "$journal" skin

step "Export"
"$jigtime" export "$journal" --session $day --to "$out/export"

step "Against the truth that the maker of the footage wrote down"
python3 "$root/demo/check_truth.py" "$out/cards/truth.json" "$out/align.json" "$out/hours.json"

printf '\nThe timeline to look at: %s\nThe journal: %s\n' "$out/export/timeline.html" "$journal"
