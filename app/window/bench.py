"""Where the work is done: the document, and all that shows and changes it."""

from __future__ import annotations

from PySide6.QtCore import QSettings
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from app.lesson.opening import LessonOpener
from app.window.ask import Leave
from app.window.document import State
from app.window.findings import Told
from app.window.front import Front
from app.window.lengths import Shown, in_unit
from app.window.opening import Opening
from app.window.page_parts import bare_layout
from app.window.printing import picture_on_paper, picture_to_printer
from app.window.recovery.keeper import Keeper
from app.window.recovery.offer import Offer
from app.window.saving import Saving
from app.window.session import Session
from app.window.table.canvas import Table
from app.window.way.pages import Pages
from app.window.way.rail import WayRail
from app.window.way.stage import Stage
from app.window.way.stages import standings
from app.window.way.tape import Tape
from app.window.way.tool_strip import ToolStrip
from app.window.way.way import Way

UNIT_KEY = "unit"
# Pixels of width below which the words of the way are left out.
NARROW_WINDOW = 900
# And of height, below which the table has what else is dispensable.
LOW_WINDOW = 380


class Bench:
    """Behind the front of `window`, which shows it as soon as anything is open."""

    def __init__(self, window: QWidget, front: Front) -> None:
        self._window, self._front = window, front
        self._ask, self._messages = front.ask, front.messages
        # What the message line says of a refusal.
        self._refused = ""
        self.session = Session(window)
        self.way = Way(self.session, window)
        self.opening = Opening(self.session, self._messages, window)
        self.opening.opened = front.viewing.opened
        self.saving = Saving(self.session, self._messages, self._ask)
        self.lesson = LessonOpener(self.session, self._messages, self._ask, window)
        folder = front.recovery
        self.keeper = Keeper(self.session, self._messages, folder) if folder else None
        self.offer = Offer(
            self.session,
            self._messages,
            number=self.opening.next_number,
            may_leave=self.may_leave,
            kept=self._kept_again,
        )
        # Each is made in its place: of what is moved later, Qt works out the look once more.
        self._work = QWidget(front.middle)
        self._middle = QWidget(self._work)
        self.table = Table(self.session, self._middle)
        self.strip = ToolStrip(self.session, self.table, self._middle)
        self.tape = Tape(self.session, self._middle)
        self.rail = WayRail(self.way, self._work)
        self.pages = Pages(
            self.session, self._messages, self._ask, front.ways_out, parent=self._work
        )

    def stand(self) -> None:
        """Takes its place in the window, and follows what is done there."""
        front, session = self._front, self.session
        self._lay_out()
        front.middle.addWidget(self._work)
        front.column.insertWidget(front.column.indexOf(front.message_bar), self.offer.bar)
        front.bar.follow(session)
        front.foot.follow(self.way)
        self._follow_undo()
        self.pages.pointed.connect(self._point)
        self.pages.wanted.connect(front.open)
        self.pages.tool_wanted.connect(self.table.pick_up)
        self.way.went.connect(self._show_stage)
        self.pages.length.findings.checked_anew.connect(self._show_standings)
        session.saved_or_not.connect(self._show_standings)
        session.sheets_shown.connect(self._show_welcome_or_work)
        session.unit_shown.connect(self._keep_unit)
        session.refused.connect(self._tell_refusal)
        self._show_stage()
        self.make_room()
        session.show_in(_kept_unit(front.settings))
        self._show_welcome_or_work()
        front.welcome.draw_pictures(lambda: session.busy.running)

    def _lay_out(self) -> None:
        """Rail, table between its tools and the tape, page."""
        column = bare_layout(QVBoxLayout(self._middle))
        column.addWidget(self.strip)
        column.addWidget(self.table, 1)
        column.addWidget(self.tape)
        row = bare_layout(QHBoxLayout(self._work))
        row.addWidget(self.rail)
        row.addWidget(self._middle, 1)
        row.addWidget(self.pages)

    def make_room(self) -> None:
        """In a narrow window the way is shown by its rings alone, so that the table stays wide."""
        self.rail.narrow(self._window.width() < NARROW_WINDOW)
        self.strip.low(self._window.height() < LOW_WINDOW)

    def _follow_undo(self) -> None:
        stack, undo, redo = self.session.stack, self._front.undo, self._front.redo
        stack.canUndoChanged.connect(undo.setEnabled)
        stack.canRedoChanged.connect(redo.setEnabled)
        stack.undoTextChanged.connect(undo.tell)
        stack.redoTextChanged.connect(redo.tell)

    def _show_stage(self) -> None:
        self.pages.go(self.way.now)
        self.table.tools.end_correcting()
        self.tape.setVisible(self.way.now is Stage.LENGTH)

    def _show_standings(self) -> None:
        session = self.session
        saved = not session.state.empty and not session.state.nothing and not session.changed
        checks = self.pages.length.findings.checks
        self.rail.show_standings(standings(session.state, session.shown, checks, saved=saved))

    def _show_welcome_or_work(self) -> None:
        front, empty = self._front, self.session.state.empty
        front.middle.setCurrentIndex(0 if empty else 1)
        front.foot.show_onward(not empty)
        for action in front.needs_work:
            action.setEnabled(not empty)
        (front.welcome.open if empty else self.table).setFocus()

    def _point(self, told: Told) -> None:
        if told.edge is not None:
            self.session.select(told.edge)
        if told.piece is not None and told.place is not None:
            self.table.show_place(told.piece, told.place)

    def _tell_refusal(self, sentence: str) -> None:
        """The length page says it below its number; at the other stages nobody would see that."""
        at_length = self.way.now is Stage.LENGTH
        told = "" if at_length else in_unit(sentence, self.session.shown)
        if told == self._refused:
            return
        before, self._refused = self._refused, told
        if told:
            self._messages.say(told)
        else:
            self._front.message_bar.put_away(before)

    def _keep_unit(self) -> None:
        shown = self.session.shown
        self._front.settings.setValue(UNIT_KEY, shown.value)
        self._front.view_menu.inches.setChecked(shown is Shown.INCH)

    def show_in_inches(self, *, on: bool) -> None:
        """At any stage; or in centimetres."""
        self.session.show_in(Shown.INCH if on else Shown.CM)

    def print_picture(self) -> None:
        """A picture of what is on the table, to a printer."""
        from app.paper.printer import new_printer

        printer = new_printer(lying=True)
        if self._ask.printer(printer, "Print a picture of the table"):
            with self._messages.guarding():
                picture_to_printer(self.table, printer, self._front.bar.name.accessibleName())
                self._messages.say(
                    "The picture was sent to the printer. It is not to scale; true-scale sheets"
                    " are under Paper."
                )

    def save_picture(self) -> None:
        """A picture of what is on the table, as a PDF."""
        path = self._ask.picture_to_save()
        if path is not None:
            with self._messages.guarding():
                picture_on_paper(self.table, path, self._front.bar.name.accessibleName())
                self._messages.say(f"Saved {path.name} in {path.resolve().parent}.")

    def undo(self) -> None:
        self.session.commit_preview()
        self.session.stack.undo()

    def redo(self) -> None:
        self.session.commit_preview()
        self.session.stack.redo()

    def clear(self) -> None:
        """Takes everything off the table; asks first when it was not saved."""
        if self.may_leave():
            self.session.select(None)
            self.session.begin(State())
            self.saving.forget()

    def may_leave(self) -> bool:
        """May what lies on the table go? Asks when it was not saved."""
        self.session.commit_preview()
        if not self.session.changed:
            return True
        answer = self._ask.leave_unsaved()
        return answer is Leave.DISCARD or (answer is Leave.SAVE and self.saving.save())

    def leave(self) -> None:
        """The window closes: no copy of the work is needed any more."""
        self.offer.leave()
        if self.keeper is not None:
            self.keeper.forget()

    def _kept_again(self) -> bool:
        """Work was brought back: is it on disk again?"""
        self.saving.forget()
        if self.keeper is None:
            return False
        self.keeper.keep()
        return self.keeper.kept is self.session.settled


def _kept_unit(settings: QSettings) -> Shown:
    kept = settings.value(UNIT_KEY, Shown.CM.value, type=str)
    return next((s for s in Shown if s.value == kept), Shown.CM)
