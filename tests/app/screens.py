"""Pictures of every screen, full and empty, dark and light, at two sizes of text: screens.py JIGTIME JOURNAL FOLDER [--quick]

With --quick only that all of them can be drawn: dark, 100 %.
"""
import subprocess
import sys
import time
from pathlib import Path

from window_driver import Screen, Window, drop, new_home

SCREENS = [("sessions", "F2"), ("bench", "F3"), ("fasteners", "F4"), ("ledger", "F5"), ("items", "F6"), ("find", "F7"), ("keys", "F1")]


def run(jigtime, *arguments):
    subprocess.run([jigtime, *map(str, arguments)], check=True, stdout=subprocess.DEVNULL)


def shoot(window, folder, name):
    window.settle()
    path = folder / f"{name}.png"
    window.picture(path)
    assert path.stat().st_size > 4000, f"{path} is blank"


def tour(window, folder, name, full):
    for screen, key in SCREENS:
        window.press(key)
        if screen == "bench" and full:
            window.press("g")
            window.type("1:20")
            window.press("Return")
            window.settle()
        if screen == "find":
            window.type("skin")
        shoot(window, folder, f"{name}-{screen}")
    if full:
        window.press("F1", "F3", "b", "f")
        window.type("3-3")
        shoot(window, folder, f"{name}-tagging")
        window.press("Escape")


def main():
    jigtime, journal, folder = sys.argv[1], Path(sys.argv[2]), Path(sys.argv[3])
    quick = "--quick" in sys.argv
    folder.mkdir(parents=True, exist_ok=True)
    looks = [("dark", 100, (1280, 800))]
    if not quick:
        looks += [("light", 100, (1280, 800)), ("dark", 125, (1280, 720)), ("light", 125, (1280, 720)), ("dark", 200, (1280, 720)), ("light", 200, (1920, 1080))]
    for paper, scale, size in looks:
        screen, home = Screen(*size), new_home()
        try:
            full, empty = home / "full.jigtime", home / "empty.jigtime"
            run(jigtime, "backup", journal, "--to", full)
            run(jigtime, "item", full, "open", "--kind", "tool", "--words", "short bucking bar for the outer holes", "--session", "2026-03-14", "--at", "0:03:52")
            run(jigtime, "new", empty, "--build", "Marten, serial 8", "--zone", "Europe/Lisbon")
            name = f"{paper}-{scale}-{size[0]}"
            for which, path, title in (("full", full, "serial 7"), ("empty", empty, "serial 8")):
                window = Window(jigtime, screen, home, size, paper, scale)
                window.open(path, title=title)
                window.settle()
                tour(window, folder, f"{name}-{which}", which == "full")
                assert window.close() == 0
            window = Window(jigtime, screen, home, size, paper, scale)
            window.open()
            shoot(window, folder, f"{name}-start")
            window.close()
        finally:
            screen.close()
            drop(home)


if __name__ == "__main__":
    main()
