"""What the text formats look like, held against files that somebody has read: golden.py compare|accept REPORT_SAMPLES

`compare` prints what differs and fails. To change a format: run `compare`, read every line of the difference, hold it against the
format's standard, then run `accept` and commit the files with the change. `accept` prints the same difference again.
"""
import difflib
import re
import subprocess
import sys
import tempfile
from pathlib import Path
from urllib.parse import quote

GOLDEN = Path(__file__).resolve().parent / "golden"
# Pictures of type differ with the fonts of a machine; the style sheet and the script are no words of the session.
KEPT = {"hours.csv", "spans.csv", "fasteners.csv", "session.json", "timeline.otio", "session.ics", "film.ffmetadata", "book.html"}


def written(samples, folder):
    """Name -> text, as the program writes it now; names in ASCII, whatever a camera is called, so that every checkout can hold them."""
    subprocess.run([samples, folder, "/dev/null"], check=True)
    texts = {}
    for path in sorted((folder / "golden").rglob("*")):
        name = path.relative_to(folder / "golden").as_posix()
        if path.is_file() and (name in KEPT or path.suffix == ".vtt"):
            text = path.read_bytes().decode("utf-8")
            texts[quote(name)] = re.sub(r"<style>.*?</style>", "<style></style>", text, flags=re.S)
    return texts


def read_back():
    return {path.relative_to(GOLDEN).as_posix(): path.read_bytes().decode("utf-8") for path in sorted(GOLDEN.rglob("*")) if path.is_file()}


def show(text):
    # Ends of lines are part of the formats: RFC 4180 and RFC 5545 want CR and LF.
    return [line.replace("\r", "\\r") for line in text.split("\n")]


def main():
    if len(sys.argv) != 3 or sys.argv[1] not in ["compare", "accept"]:
        sys.exit(__doc__)
    with tempfile.TemporaryDirectory(prefix="jigtime-golden-") as folder:
        now, golden = written(sys.argv[2], Path(folder)), read_back()
    different = [name for name in sorted(now.keys() | golden.keys()) if now.get(name) != golden.get(name)]
    for name in different:
        print("\n".join(difflib.unified_diff(show(golden.get(name, "")), show(now.get(name, "")), f"golden/{name}", f"written now/{name}", lineterm="")))
    if not now:
        sys.exit("nothing was written")
    if sys.argv[1] == "compare":
        sys.exit(f"{len(different)} of {len(now)} files differ; see tests/report/golden.py" if different else 0)
    for name in different:
        path = GOLDEN / name
        path.unlink(missing_ok=True)
        if name in now:
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(now[name].encode("utf-8"))


if __name__ == "__main__":
    main()
