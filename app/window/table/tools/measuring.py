"""Measuring between two places, along an outline, and with a ruler laid to an edge."""

from __future__ import annotations

from collections.abc import Sequence

from app.window.document import EdgeId, PieceId
from app.window.session import Session
from app.window.table.sights import Sight
from app.window.table.tools.readings import Measure, Reading, words_of
from app.window.table.tools.spots import SAME, Spot, Want, again
from app.window.table.tools.tool import Tool

FIRST = {
    Measure.BETWEEN: "Click the first of two points.",
    Measure.ALONG: "Click a place on an outline.",
    Measure.RULER: "Click an edge, near the end at which the ruler begins.",
}
SECOND = {
    Measure.BETWEEN: "Click the second point.",
    Measure.ALONG: "Click another place on the same outline; the shorter way is measured.",
}
SAME_PLACE = "Both places are the same one."


class Measuring(Tool):
    """Its readings stay until it is left."""

    def __init__(self, session: Session, measure: Measure) -> None:
        super().__init__(session)
        self.measure = measure
        self.name = measure.value
        self._sights: Sequence[Sight] = ()
        self._adjusting = False

    @property
    def prompt(self) -> str:
        if self.taken:
            return SECOND[self.measure]
        if not self.readings:
            return FIRST[self.measure]
        last = words_of(self.readings[-1], self._sights, self.session.shown)
        return f"{last}. {FIRST[self.measure]} Esc ends it."

    @property
    def wants(self) -> Want:
        return Want.ANYWHERE if self.measure is Measure.BETWEEN else Want.OUTLINE

    @property
    def own(self) -> PieceId | None:
        along = self.measure is Measure.ALONG and self.taken
        return self.taken[0].which if along else None

    def aim(self, spot: Spot | None) -> None:
        self.cursor, self._adjusting = spot, False

    def nudge(self, spot: Spot) -> None:
        """The last place of a reading just made is the chosen one, until the pointer moves."""
        self.cursor = spot
        if self._adjusting and self.readings:
            first, _ = self.readings[-1].spots
            changed = Reading(self.measure, (first, spot))
            self.readings = (*self.readings[:-1], changed)

    def take(self, sights: Sequence[Sight]) -> None:
        self._sights, self.refusal = sights, ""
        spot = self.cursor
        if spot is None:
            return
        if self.measure is Measure.RULER:
            self._lay(spot, sights)
        elif not self.taken:
            self.taken, self._adjusting = (spot,), False
        elif spot.at.distance(self.taken[0].at) <= SAME:
            self.refusal = SAME_PLACE
        else:
            self.readings = (*self.readings, Reading(self.measure, (self.taken[0], spot)))
            self.taken, self._adjusting = (), True

    def back(self) -> None:
        """The first place of an unfinished reading, else the last reading."""
        self.refusal, self._adjusting = "", False
        if self.taken:
            self.taken = ()
        else:
            self.readings = self.readings[:-1]

    def follow(self, sights: Sequence[Sight]) -> None:
        self._sights = sights
        super().follow(sights)

    def _lay(self, spot: Spot, sights: Sequence[Sight]) -> None:
        """The ruler at the edge there, from its nearer end; at an edge that has one, turned."""
        sight = next((s for s in sights if s.which == spot.which), None)
        if sight is None:
            return
        p = spot.at.moved(sight.spot, -1.0)
        chains = [sight.now.edge_chain(e) for e in sight.now.edges]
        away = [chain.nearest(p).distance for chain in chains]
        number = away.index(min(away))
        chain = chains[number]
        from_end = chain.length_to(chain.nearest(p).place) > chain.length() / 2.0
        edge = EdgeId(sight.which, number)
        rest = tuple(r for r in self.readings if r.edge != edge)
        self.readings = (*rest, Reading(Measure.RULER, edge=edge, from_end=from_end))

    def hint(self, sights: Sequence[Sight]) -> str:
        """How far it is from the first place to the cursor; nothing before there is one."""
        self._sights = sights
        if not self.taken or self.cursor is None:
            return ""
        first = again(self.taken[0], sights)
        if first is None or first.at.distance(self.cursor.at) <= SAME:
            return ""
        return words_of(Reading(self.measure, (first, self.cursor)), sights, self.session.shown)

    @property
    def sketch(self) -> Reading | None:
        """The reading that a click would make."""
        if not self.taken or self.cursor is None:
            return None
        if self.taken[0].at.distance(self.cursor.at) <= SAME:
            return None
        return Reading(self.measure, (self.taken[0], self.cursor))
