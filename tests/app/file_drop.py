"""Files let go over a window, as a file manager does it: the XDND protocol, version 5 (freedesktop.org, "Drag-and-Drop Protocol for the X Window System").

Run: file_drop.py DISPLAY WINDOW X Y FILE ..., WINDOW as xdotool prints it. Says what the window answered.
"""
import sys
import time
from pathlib import Path

from Xlib import X, Xatom, display
from Xlib.protocol import event

VERSION = 5
WAIT_S = 15


class Source:
    """The window that the files come from, never shown; it answers whoever asks for their names."""

    def __init__(self, name, files):
        self.display = display.Display(name)
        screen = self.display.screen()
        self.window = screen.root.create_window(0, 0, 1, 1, 0, screen.root_depth)
        self.root = screen.root
        self.list = "".join(Path(file).absolute().as_uri() + "\r\n" for file in files).encode()  # RFC 2483, text/uri-list
        self.window.set_selection_owner(self.atom("XdndSelection"), X.CurrentTime)

    def atom(self, name):
        return self.display.intern_atom(name)

    def tell(self, target, name, data):
        message = event.ClientMessage(window=target, client_type=self.atom(name), data=(32, [self.window.id, *data]))
        target.send_event(message)
        self.display.flush()

    def give(self, request):
        """The names, to the window that asked for the selection."""
        property_ = request.property if request.target == self.atom("text/uri-list") else X.NONE
        if property_ != X.NONE:
            request.requestor.change_property(property_, request.target, 8, self.list)
        request.requestor.send_event(event.SelectionNotify(time=request.time, requestor=request.requestor, selection=request.selection,
                                                           target=request.target, property=property_))
        self.display.flush()

    def answer(self, wanted):
        """The data of the message of that name, once it comes; meanwhile the names are given to whoever asks."""
        end = time.monotonic() + WAIT_S
        while time.monotonic() < end:
            if not self.display.pending_events():
                time.sleep(0.01)
                continue
            came = self.display.next_event()
            if came.type == X.SelectionRequest:
                self.give(came)
            elif came.type == X.ClientMessage and came.client_type == self.atom(wanted):
                return came.data[1]
        raise TimeoutError(f"the window sent no {wanted} within {WAIT_S} s")


def drop(name, target, x, y, files):
    """Enter, move, let go; whether the window took the files."""
    source = Source(name, files)
    window = source.display.create_resource_object("window", int(target))
    aware = window.get_full_property(source.atom("XdndAware"), Xatom.ATOM)
    if aware is None:
        return False
    copy = source.atom("XdndActionCopy")
    source.tell(window, "XdndEnter", [VERSION << 24, source.atom("text/uri-list"), 0, 0])
    source.tell(window, "XdndPosition", [0, x << 16 | y, X.CurrentTime, copy])
    if not source.answer("XdndStatus")[1] & 1:
        source.tell(window, "XdndLeave", [0, 0, 0, 0])
        return False
    source.tell(window, "XdndDrop", [0, X.CurrentTime, 0, 0])
    return bool(source.answer("XdndFinished")[1] & 1)


if __name__ == "__main__":
    name, target, x, y, *files = sys.argv[1:]
    taken = drop(name, target, int(x), int(y), files)
    print("taken" if taken else "refused")
    sys.exit(0 if taken else 1)
