"""How the main window opens the lesson, and saves what the teacher asks for."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from app.lesson.script import Captions, Laid, Lesson, lesson_of
from app.lesson.window import LessonWindow
from app.window.ask import Ask
from app.window.document import State
from app.window.lengths import Shown
from app.window.messages import Messages
from app.window.outcome import outcome
from app.window.session import Session
from app.window.table.sights import sights_of
from core.measure import Unit


def lesson_of_state(state: State) -> Lesson:
    """The lesson of what is on the table; of a nest, of its largest size.

    AlterationError when the change is refused or there is none.
    """
    found = outcome(state)
    if found.refusal is not None:
        raise found.refusal
    sights = [s for s in sights_of(state) if s.altered is not None and not s.led]
    return lesson_of([Laid(s.altered, s.spot) for s in sights if s.altered is not None])


class LessonOpener:
    """Keeps the captions for as long as the main window is open."""

    def __init__(self, session: Session, messages: Messages, ask: Ask, parent: QWidget) -> None:
        self._session, self._messages, self._ask, self._parent = session, messages, ask, parent
        self.captions = Captions()
        self.window: LessonWindow | None = None

    def open(self) -> None:
        """Fills the screen with the lesson of what is on the table."""
        self._session.commit_preview()
        unit = Unit.INCH if self._session.shown is Shown.INCH else Unit.CM
        with self._messages.guarding():
            lesson = lesson_of_state(self._session.state)
            window = LessonWindow(lesson, self._parent, captions=self.captions, unit=unit)
            window.wants_handout.connect(lambda: self._save(window, practice=False))
            window.wants_practice.connect(lambda: self._save(window, practice=True))
            # The main window lies behind the lesson: what is said there would not be seen.
            self._messages.said.connect(window.tell)
            if self.window is not None:
                self.window.deleteLater()
            self.window = window
            window.showFullScreen()

    def _save(self, window: LessonWindow, *, practice: bool) -> None:
        window.pause()
        path = self._ask.handout_to_save(practice=practice)
        if path is None:
            return
        # The handout brings the writers along, which the start of the program is spared.
        from app.lesson.handout import pages_of, practice_pages, save_pdf, save_pictures

        lesson, unit, busy = window.lesson, window.unit, self._session.busy
        with self._messages.guarding():
            with busy.paging("Drawing the handout", over=window) as breathe:
                if practice:
                    save_pdf(practice_pages(lesson, unit), path, breathe=breathe)
                elif path.suffix.lower() == ".pdf":
                    pages = pages_of(lesson, self.captions, unit, beside=window.both_ways)
                    save_pdf(pages, path, breathe=breathe)
                else:
                    beside = window.both_ways
                    save_pictures(lesson, self.captions, path, unit, beside=beside, breathe=breathe)
            self._messages.say(f"Saved {path.name} in {path.resolve().parent}.")
