"""The document as it is worked on: its states in a row, what is shown, what is selected."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import QObject, QTimer, Signal
from PySide6.QtGui import QUndoCommand, QUndoStack
from PySide6.QtWidgets import QWidget

from app.window.ahead import work_out
from app.window.busy import Busy, StoppedError
from app.window.collecting import Not
from app.window.document import AtLevel, EdgeId, State
from app.window.lengths import Shown
from app.window.outcome import Landed, Outcome, Reach, outcome
from app.window.ways import text_between
from core.alter.model import Change

# How often, in ms, lists follow a gesture: figures that change faster cannot be read.
READABLE_MS = 90
# With more pieces than this what is told of them waits until they are shown: each in its turn
# of the event loop, the window goes on answering.
MANY = 40


class _Entry(QUndoCommand):
    """One finished gesture: the state before it and the state after it."""

    def __init__(self, session: Session, text: str, after: State) -> None:
        super().__init__(text)
        self._session, self._before, self._after = session, session.settled, after

    def undo(self) -> None:
        self._session.settle(self._before)

    def redo(self) -> None:
        self._session.settle(self._after)


class Session(QObject):
    """Holds one state at a time. A gesture previews, then commits one entry or takes it back.

    ``state_shown`` follows every preview, ``state_told`` only as often as one can read, and at
    once what is settled, but for very many pieces; other pieces or other knowledge of them are
    told by ``sheets_shown``, as often; ``refused`` carries why an amount was not
    reached, or nothing once that is over; after ``attempted`` the controls show again what holds.
    """

    state_shown = Signal()
    state_told = Signal()
    sheets_shown = Signal()
    unit_shown = Signal()
    edge_selected = Signal()
    saved_or_not = Signal()
    refused = Signal(str)
    attempted = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.busy = Busy(parent if isinstance(parent, QWidget) else None)
        self.stack = QUndoStack(self)
        self.stack.cleanChanged.connect(self.saved_or_not)
        self.settled = State()
        self._preview: State | None = None
        self._reach: Reach | None = None
        self._listed = self.settled.sheets
        self.shown = Shown.CM
        self.selected: EdgeId | None = None
        # Is what is said of a piece of a nest said of it in every size?
        self.every_size = True
        self.refusal = ""
        self._telling = QTimer(self)
        self._telling.setSingleShot(True)
        self._telling.timeout.connect(self._tell_now)

    @property
    def state(self) -> State:
        """What is to be seen: the preview of a gesture, else what is settled."""
        return self._preview or self.settled

    @property
    def previewing(self) -> bool:
        """Does a gesture show something that is not settled?"""
        return self._preview is not None

    @property
    def changed(self) -> bool:
        """Is there anything that was not saved?"""
        return not self.stack.isClean() and not self.settled.empty

    def begin(self, state: State) -> None:
        """A document to start from; what was there is forgotten."""
        self.stack.clear()
        self.settle(state)

    def settle(self, state: State) -> None:
        """Shows a state that is not a preview. For begin, undo and redo only."""
        before, was = self.state, self.settled
        self.settled, self._reach = state, None
        self._see(None)
        if self.selected and was.sheets is not state.sheets:
            self.select(_same_edge(self.selected, was, state))
        self._show_after(before)
        self.refuse("")

    def commit(self, text: str, after: State) -> None:
        """Ends a gesture with one entry, named for the undo list; without, when given up."""
        if after is not self.settled and self._worked_out(after) is not None:
            self.stack.push(_Entry(self, text, after))

    def _worked_out(self, state: State) -> Outcome | None:
        """What comes of it, worked out beside the window; None when that was given up."""
        if self.busy.running:
            # A box that loses the keys to what is shown meanwhile says what it said before.
            return None
        try:
            return self.busy.run("Altering the pieces", lambda: work_out(state))
        except StoppedError as stopped:
            self.refuse(str(stopped))
            self.attempted.emit()
            return None

    def preview_by(self, mm: float) -> Landed:
        """Shows the pieces changed by `mm`, or by as much as works, until the gesture ends."""
        if self._reach is None:
            self._reach = Reach(self._draft)
        landed = self._reach.towards(mm)
        before = self.state
        self._see(landed.state)
        self._show_after(before)
        self.refuse(landed.refusal)
        return landed

    def _see(self, preview: State | None) -> None:
        self._preview = preview
        self.busy.collecting.ask(Not.GESTURE, off=preview is not None)

    @property
    def _draft(self) -> State:
        """What is settled, as a gesture begins from it."""
        return replace(self.settled, draft=True)

    def preview_at(self, level: AtLevel) -> None:
        """Shows the change made at that level; where it is not possible, what was shown stays."""
        wished = self._draft.at(level)
        refusal = outcome(wished).refusal
        if refusal is None and level != self.state.level:
            before = self.state
            self._see(wished)
            self._show_after(before)
        self.refuse(str(refusal or ""))

    def preview(self, wished: State) -> None:
        """Shows a state until the gesture ends; where it cannot be, what was shown stays."""
        refusal = outcome(wished).refusal
        if refusal is None:
            before = self.state
            self._see(wished)
            self._show_after(before)
        self.refuse(str(refusal or ""))

    def commit_shown(self, text: str) -> None:
        """Keeps what the gesture shows as one entry of that name."""
        shown = self._preview
        self._see(None)
        if shown is not None:
            self.commit(text, replace(shown, draft=False))

    def commit_preview(self) -> None:
        """Keeps what the gesture shows, as one entry; nothing when it came back to its start."""
        shown, was, refusal = self._preview, self.settled, self.refusal
        if shown is None or _asked(shown) == _asked(was):
            self.cancel()
            self.refuse(refusal)
        else:
            self.attempt(replace(shown, draft=False))
            self.refuse(self.refusal or refusal)

    def set_by(self, mm: float) -> None:
        """The change as typed: one entry, or a refusal that leaves everything as it is."""
        self.cancel()
        self.attempt(self.settled.by(mm))

    def set_change(self, change: Change) -> None:
        """The whole change, another way of doing it say; else as `set_by`."""
        self.commit_preview()
        self.attempt(self.settled.changing(change))

    def set_level(self, level: AtLevel | None) -> None:
        """Where the change is made, at the hem when None; else as `set_by`."""
        self.commit_preview()
        self.attempt(self.settled.at(level))

    def attempt(self, wished: State) -> None:
        """One entry when it is another state and can be; else why not, and all stays."""
        was, found = self.settled, self._worked_out(wished)
        if found is None:
            return
        refusal = found.refusal
        if refusal is None and _asked(wished) != _asked(was):
            self.commit(text_between(was, wished, self.shown), wished)
        self.refuse(str(refusal or ""))
        self.attempted.emit()

    def refuse(self, sentence: str) -> None:
        """Says why an amount was not reached; nothing takes it back."""
        self.refusal = sentence
        self.refused.emit(sentence)

    def cancel(self) -> None:
        """Takes a preview back."""
        if self._preview is not None:
            self.settle(self.settled)

    def select(self, edge: EdgeId | None) -> None:
        if edge != self.selected:
            self.selected = edge
            self.edge_selected.emit()

    def show_in(self, shown: Shown) -> None:
        """Shows lengths in that unit. No entry: it changes how one looks, not the work."""
        if shown is not self.shown:
            self.shown = shown
            self.unit_shown.emit()

    def _show_after(self, before: State) -> None:
        if not self.previewing:
            self._tell_sheets()
        if before is not self.state:
            self.state_shown.emit()
            self._tell()

    def _tell(self) -> None:
        if self.previewing:
            if not self._telling.isActive():
                self._telling.start(READABLE_MS)
        elif len(self.state.sheets.pieces) > MANY:
            self._telling.start(0)
        else:
            self._telling.stop()
            self.state_told.emit()

    def _tell_now(self) -> None:
        self._tell_sheets()
        self.state_told.emit()

    def _tell_sheets(self) -> None:
        if self._listed is not self.state.sheets:
            self._listed = self.state.sheets
            self.sheets_shown.emit()


def _asked(state: State) -> tuple[object, ...]:
    return state.change, state.level, state.more_by_size


def _same_edge(which: EdgeId, before: State, after: State) -> EdgeId | None:
    """The edge that runs where that one ran, or begins there: a taper point was slid, or it was
    split. A new hem numbers all edges anew."""
    from core.files.ties import edge_at, point_on

    was, now = (s.sheets.pieces.get(which.piece) for s in (before, after))
    if was is None or now is None or which.number >= len(was.edges):
        return None
    number = edge_at(now, point_on(was, was.edges[which.number]))
    return None if number is None else EdgeId(which.piece, number)
