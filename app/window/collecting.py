"""When Python looks for garbage: not while that would be in the way."""

from __future__ import annotations

import gc
from enum import Enum


class Not(Enum):
    """What it is in the way of."""

    # It is done in whichever thread happens to be running, and a window that is taken apart in
    # a worker's thread brings the program down.
    WORK = "work in another thread"
    # Going through all that is remembered takes as long as five frames; no frame leaves any.
    GESTURE = "a gesture"


class Collecting:
    """Off as long as anything asks for it; then as it was."""

    def __init__(self) -> None:
        self._asking: set[Not] = set()
        self._was_on = False

    def ask(self, during: Not, *, off: bool) -> None:
        """No collecting from now on `during` that; or as far as that goes, again."""
        if off and not self._asking:
            self._was_on = gc.isenabled()
            gc.disable()
        before = bool(self._asking)
        (self._asking.add if off else self._asking.discard)(during)
        if before and not self._asking and self._was_on:
            gc.enable()
