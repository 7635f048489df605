"""A window that changes a pattern at random until it is killed, and what it had by then.

Run as ``python tests/app/recovering.py FOLDER SOON_MS FILES...`` it works in a window that no
screen shows. It prints a line for each state that it settles (its print), and for the one that
is on disk; there it is written SOON_MS after each change.
"""

from __future__ import annotations

import contextlib
import random
import sys
from dataclasses import replace
from hashlib import sha256
from pathlib import Path

from PySide6.QtCore import QSettings, QTimer

from app.window.document import AtLevel, EdgeId, PieceId, Sheet, State
from app.window.in_sizes import with_role
from app.window.main import MainWindow
from app.window.outcome import finished
from app.window.starting import application
from core.alter.model import HemWay, SeamWay
from core.errors import HemwardError
from core.files import render
from core.piece.model import Piece, Role
from core.piece.said import called, with_taper

DONE, ON_DISK = "done", "on disk"


def print_of_state(state: State) -> str:
    """All that a person sees of a state, and the bytes that saving it would give."""
    order = {s.number: k for k, s in enumerate(state.sheets.all)}
    told = [
        repr((state.change, state.level, sorted((state.more_by_size or {}).items()))),
        repr(sorted((order[which.sheet], which.key) for which in state.off)),
        repr(sorted(order[number] for number in state.proved)),
    ]
    for sheet in state.sheets.all:
        drawing = sheet.drawing
        told.append(f"{drawing.path.name} {drawing.unit.mm_per_unit}")
        told += [repr((p.name, p.edges, p.hem, p.darts, p.grain)) for p in drawing.pieces]
        told.append(_saved(state, sheet))
    return sha256("\n".join(told).encode()).hexdigest()


def _saved(state: State, sheet: Sheet) -> str:
    try:
        return sha256(render(finished(state, sheet))).hexdigest()
    except HemwardError as error:
        return str(error)


class Worker:
    """Hands that change something every few milliseconds."""

    def __init__(self, window: MainWindow, drawn: random.Random) -> None:
        self.window, self.session, self.drawn = window, window.session, drawn

    def work(self) -> None:
        """One change, and what came of it."""
        lengths = (self._length, self._way, self._level)
        said = (self._role, self._name, self._taper, self._switch)
        do = self.drawn.choice((*lengths, *said, self._undo))
        # What the piece does not allow is told, and nothing has changed.
        with contextlib.suppress(HemwardError):
            do()
        self.tell()

    def tell(self) -> None:
        """What holds now, and what is on disk."""
        self._say(DONE, self.session.settled)
        keeper = self.window.keeper
        if keeper is not None and keeper.kept is not None:
            self._say(ON_DISK, keeper.kept)

    def _say(self, what: str, state: State) -> None:
        print(f"{what} {print_of_state(state)}", flush=True)

    def _some_piece(self) -> tuple[PieceId, Piece]:
        which = self.drawn.choice(list(self.session.settled.sheets.pieces))
        return which, self.session.settled.read_piece(which)

    def _length(self) -> None:
        self.session.set_by(float(self.drawn.randrange(-40, 90)))

    def _way(self) -> None:
        change = self.session.settled.change
        seams, hem = self.drawn.choice(list(SeamWay)), self.drawn.choice(list(HemWay))
        self.session.set_change(replace(change, seams=seams, hem=hem))

    def _level(self) -> None:
        at = self.drawn.choice([None, AtLevel(float(self.drawn.randrange(250, 500)))])
        self.session.set_level(at)

    def _role(self) -> None:
        which, piece = self._some_piece()
        edge = EdgeId(which, self.drawn.randrange(1, len(piece.edges)))
        role = self.drawn.choice([Role.SIDE, Role.OTHER])
        self.session.commit("role", with_role(self.session.settled, (edge,), role))

    def _name(self) -> None:
        which, piece = self._some_piece()
        named = called(piece, f"leg {self.drawn.randrange(1000)} für Ä")
        self.session.commit("name", self.session.settled.with_piece(which, named))

    def _taper(self) -> None:
        which, piece = self._some_piece()
        seam = piece.edge_chain(piece.edges[1])
        at = seam.at(seam.at_length(seam.length() * self.drawn.uniform(0.5, 0.9)))
        slid = with_taper(piece, at, last=True)
        self.session.commit("taper", self.session.settled.with_piece(which, slid))

    def _switch(self) -> None:
        which, _ = self._some_piece()
        on = which in self.session.settled.off
        self.session.commit("switch", self.session.settled.switched(which, on=on))

    def _undo(self) -> None:
        # Back at the start there would be nothing left to save.
        if self.session.stack.index() > 3:
            self.session.stack.undo()


def main(folder: Path, soon_ms: int, files: list[Path]) -> None:
    """Opens the files, and works until it is killed."""
    app = application()
    settings = QSettings(str(folder.with_name("settings.ini")), QSettings.Format.IniFormat)
    window = MainWindow(settings=settings, recovery=folder)
    soon = window.keeper.findChild(QTimer) if window.keeper else None
    assert soon is not None
    soon.setInterval(soon_ms)
    window.show()
    window.opening.open(files)
    worker = Worker(window, random.Random())
    print("ready", flush=True)
    timer = QTimer()
    timer.timeout.connect(worker.work)
    timer.start(10)
    sys.exit(app.exec())


if __name__ == "__main__":
    main(Path(sys.argv[1]), int(sys.argv[2]), [Path(name) for name in sys.argv[3:]])
