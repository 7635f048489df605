"""A tool of the table: it asks for one place after the other, in a sentence each."""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Sequence

from app.window.document import EdgeId, PieceId
from app.window.session import Session
from app.window.table.sights import Sight
from app.window.table.tools.readings import Reading
from app.window.table.tools.spots import Spot, Want, again


class Tool(ABC):
    """``cursor`` is the place that a click or Enter would take, ``taken`` those that were taken.
    A tool that is ``over`` is put away by the table; ``refusal`` says why a place was no good.
    """

    name = ""
    # Are the pieces shown as they were before the change while it is in hand?
    on_original = False

    def __init__(self, session: Session) -> None:
        self.session = session
        self.cursor: Spot | None = None
        self.taken: tuple[Spot, ...] = ()
        self.readings: tuple[Reading, ...] = ()
        self.refusal = ""
        self.over = False

    @property
    @abstractmethod
    def prompt(self) -> str:
        """What to click next, in one sentence."""

    @property
    def wants(self) -> Want:
        """Which places it asks for now."""
        return Want.OUTLINE

    @property
    def own(self) -> PieceId | None:
        """The piece on which the next place must lie, if it must."""
        return None

    @property
    def draft(self) -> tuple[Spot, ...]:
        """The places to be joined by a line while the next one is sought."""
        return (*self.taken, self.cursor) if self.cursor else self.taken

    @property
    def edges(self) -> tuple[EdgeId, ...]:
        """Edges that were taken, to be drawn heavily."""
        return ()

    def aim(self, spot: Spot | None) -> None:
        """The pointer, or the keys, are at that place now."""
        self.cursor = spot

    def nudge(self, spot: Spot) -> None:
        """The keys move the chosen place there."""
        self.aim(spot)

    @abstractmethod
    def take(self, sights: Sequence[Sight]) -> None:
        """A click, or Enter: the place under the cursor is meant."""

    def back(self) -> None:
        """Takes the last place back."""
        self.taken, self.refusal = self.taken[:-1], ""

    def follow(self, sights: Sequence[Sight]) -> None:
        """The pieces have changed: what is known of them is found again, or dropped."""
        found = tuple(again(s, sights) for s in self.taken)
        kept = tuple(s for s in found if s is not None)
        self.taken = kept if len(kept) == len(self.taken) else ()
        self.cursor = again(self.cursor, sights) if self.cursor else None
        self.readings = tuple(r for r in (r.again(sights) for r in self.readings) if r)
