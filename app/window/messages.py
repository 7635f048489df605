"""The one channel through which the window speaks, and the one place that catches failures."""

from __future__ import annotations

import logging
from collections.abc import Iterator
from contextlib import contextmanager

from PySide6.QtCore import QObject, Signal

from core.errors import HemwardError

log = logging.getLogger(__name__)


class Messages(QObject):
    """Sentences for the person at the table; ``said`` is emitted for each, ``all`` keeps them."""

    said = Signal(str)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.all: list[str] = []

    def say(self, sentence: str) -> None:
        self.all.append(sentence)
        self.said.emit(sentence)

    def tell(self, error: BaseException) -> None:
        """A foreseen failure as the sentence it is; any other in plain words, details logged."""
        if isinstance(error, HemwardError):
            self.say(str(error))
            return
        log.error("unforeseen", exc_info=error)
        self.say(
            f"Something unforeseen happened ({type(error).__name__}: {error}). Your work is still"
            " here; save it under a new name."
        )

    @contextmanager
    def guarding(self) -> Iterator[None]:
        """Whatever goes wrong inside is told, and ends there."""
        try:
            yield
        except Exception as error:
            self.tell(error)
