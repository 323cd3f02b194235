"""A window on a screen of its own (Xvfb), driven by keys (xdotool): for the window's tests and the pictures of its screens."""
import os
import shutil
import subprocess
import tempfile
import time
from pathlib import Path


class Screen:
    """An X server without a monitor, gone at the end."""

    def __init__(self, width=1280, height=800):
        read, write = os.pipe()
        # Without -noreset the server starts over when its last window closes, and whoever opens one just then is turned away.
        self.server = subprocess.Popen(["Xvfb", "-displayfd", str(write), "-screen", "0", f"{width}x{height}x24", "-nolisten", "tcp", "-noreset"],
                                       pass_fds=(write,), stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        os.close(write)
        with os.fdopen(read) as told:
            self.display = ":" + told.readline().strip()

    def close(self):
        self.server.terminate()
        self.server.wait(10)


class Window:
    """The program under test with settings, cache and locks of its own."""

    def __init__(self, jigtime, screen, home, size=(1280, 800), paper="dark", scale=100):
        self.jigtime, self.screen, self.home, self.program = str(jigtime), screen, Path(home), None
        self.environment = dict(os.environ, DISPLAY=screen.display, HOME=str(home), XDG_CONFIG_HOME=str(self.home / "config"),
                                XDG_RUNTIME_DIR=str(self.home / "run"), LIBGL_ALWAYS_SOFTWARE="1", JIGTIME_TIMES="1", TZ="Pacific/Chatham")
        self.environment.setdefault("XDG_CACHE_HOME", str(self.home / "cache"))
        self.environment.pop("WAYLAND_DISPLAY", None)
        for folder in ("config/jigtime", "run"):
            (self.home / folder).mkdir(parents=True, exist_ok=True)
        (self.home / "config/jigtime/window.txt").write_text(
            f"paper: {paper}\nscale_percent: {scale}\nwidth: {size[0]}\nheight: {size[1]}\n")

    def open(self, *arguments, title="Jigtime", **popen):
        with open(self.home / "window.log", "a") as errors:
            self.program = subprocess.Popen([self.jigtime, *map(str, arguments)], env=self.environment, stderr=errors, **popen)
        try:
            self.wait_for(lambda: self.find(title), f"a window called {title}")
        except AssertionError as vain:
            log = (self.home / "window.log").read_text()
            raise AssertionError(f"{vain}; the program's status is {self.program.poll()}, it said: {log}") from None
        self.xdotool("windowfocus", "--sync", self.find(title))

    def find(self, title):
        done = subprocess.run(["xdotool", "search", "--onlyvisible", "--name", title], env=self.environment, capture_output=True, text=True)
        found = done.stdout.split()
        return found[0] if found else None

    def xdotool(self, *arguments):
        subprocess.run(["xdotool", *map(str, arguments)], env=self.environment, check=True, stdout=subprocess.DEVNULL)

    def press(self, *keys):
        for key in keys:
            self.xdotool("key", key)

    def type(self, text):
        self.xdotool("type", "--delay", "12", text)

    def picture(self, path):
        """What is on the screen, as a PNG."""
        raw = subprocess.run(["xwd", "-silent", "-root", "-display", self.screen.display], check=True, capture_output=True)
        subprocess.run(["convert", "xwd:-", str(path)], input=raw.stdout, check=True)

    def processor_seconds(self):
        fields = Path(f"/proc/{self.program.pid}/stat").read_text().rsplit(")", 1)[1].split()
        return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")

    def settle(self, seconds=15):
        """Until it sleeps: all keys are taken, all pictures are there."""
        end = time.monotonic() + seconds
        before = None
        while time.monotonic() < end:
            state = Path(f"/proc/{self.program.pid}/stat").read_text().rsplit(")", 1)[1].split()[0]
            now = (state, self.processor_seconds())
            if now == before and state == "S":
                return
            before = now
            time.sleep(0.3)

    def first_frame_ms(self):
        for line in (self.home / "window.log").read_text().splitlines():
            if line.startswith("first frame after"):
                return float(line.split()[3])
        return None

    def close(self):
        """By its own key; says how it ended."""
        self.press("ctrl+q")
        return self.program.wait(30)

    @staticmethod
    def wait_for(ready, what, seconds=30):
        end = time.monotonic() + seconds
        while time.monotonic() < end:
            answer = ready()
            if answer:
                return answer
            time.sleep(0.05)
        raise AssertionError(f"waited {seconds} s in vain for {what}")


def new_home():
    return Path(tempfile.mkdtemp(prefix="jigtime-window-"))


def drop(home):
    shutil.rmtree(home, ignore_errors=True)
