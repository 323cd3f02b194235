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
# Only footage that the demo itself made is made anew: its truth lies beside it.
if [ -f "$out/cards/truth.json" ]; then rm -rf "$out/cards"; fi

step "Making the footage of one session: three cameras, as their cards are copied"
if [ -e "$out/cards" ]; then
  echo "$out/cards is there, and not as a finished demo leaves it. Name a new folder." >&2
  exit 1
fi
# Footage that an interrupted run left half made is made anew.
rm -rf "$out/cards.unfinished"
"$build/demo/jigtime_demo_maker" "$out/cards.unfinished" $length
mv "$out/cards.unfinished" "$out/cards"

step "A new journal"
"$jigtime" new "$journal" --build "Marten, serial 7" --zone Europe/Lisbon --place "Village workshop"

step "Import: three cards, no footage is copied or changed"
allow_1 "$jigtime" import "$journal" --session $day --camera bench="$out/cards/bench" \
  --camera overhead="$out/cards/overhead" --camera side="$out/cards/side"

step "Line up: one clock for all clips, by sound"
allow_1 "$jigtime" align "$journal" --session $day --json >"$out/align.json"
"$jigtime" show "$journal" --session $day

step "Who works on what, and what the drawing asks for"
"$jigtime" person "$journal" add "Tova Brandel" --role builder
"$jigtime" person "$journal" add "Emil Karsk" --role helper
for task in "Pin the upper skin to the ribs" "Drill the skin to final size" "Deburr the trim tab brackets" "Check the formed heads" "Clean the skin"; do
  "$jigtime" task "$journal" add "$task" --assembly "Tail / Elevator, left"
done
"$jigtime" task "$journal" add "Rivet the upper skin" --assembly "Tail / Elevator, left" --sheet 9 --step 14 --plan MS20426AD3-3.5=56

step "Tags, from a table"
"$jigtime" tags "$journal" --session $day --read "$out/cards/tags.csv"

step "Marks to come back to"
python3 - "$out/cards/truth.json" <<'MARKS' | while IFS="$(printf '\t')" read -r at note; do "$jigtime" mark "$journal" --session $day --at "$at" --note "$note"; done
import json, sys
for mark in json.load(open(sys.argv[1], encoding="utf-8"))["marks"]:
    ms = round(mark["at_s"] * 1000)
    print(f"{ms // 3600000}:{ms // 60000 % 60:02}:{ms // 1000 % 60:02}.{ms % 1000:03}", mark["note"], sep="\t")
MARKS

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
