"""Corrections with the mouse: a dart by three points, the grain by two, two edges sewn together.

They are made on the pieces as they were before the change.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np

from app.window.document import EdgeId, PieceId, State
from app.window.in_sizes import (
    corrected,
    edges_alike,
    in_how_many,
    pieces_alike,
    with_dart,
    without_dart,
)
from app.window.session import Session
from app.window.table.coarse import Floats
from app.window.table.sights import Sight
from app.window.table.tools.spots import Spot, Stop, Want, on_outline
from app.window.table.tools.tool import Tool
from app.window.tied import other_sizes, with_tie
from core.curve import Point
from core.errors import HemwardError
from core.piece.alike import edge_alike
from core.piece.darts_alike import Three
from core.piece.model import Piece
from core.piece.said import split_edge, with_grain

FIRST_OF_DART = (
    "Click the first point of the mouth, on the edge; or the apex of a dart that is none, to take"
    " it away."
)
NOT_INSIDE = "The apex of a dart lies inside its piece."
OUTSIDE = "No piece lies there."


class Correcting(Tool):
    """A tool that makes one entry of the undo list, and is over then."""

    on_original = True

    def _correct(
        self, which: PieceId, text: str, how: Callable[[State], tuple[State, int]]
    ) -> None:
        """One entry for what is said of that piece, and of as many sizes as `how` gives; or why
        not, and the tool begins again."""
        state = self.session.settled
        try:
            after, count = how(state)
        except HemwardError as error:
            self.refusal, self.taken = str(error), ()
            return
        told = f"{state.piece(which).name}: {text}{in_how_many(state, which, count)}"
        self.session.commit(told, after)
        self.over = True

    def _correct_all(
        self, edges: tuple[EdgeId, ...], text: str, how: Callable[[Piece, int], Piece]
    ) -> None:
        """As `_correct`, in every size in which there is the same edge."""
        count = len(edges)
        self._correct(edges[0].piece, text, lambda state: (corrected(state, edges, how), count))

    def _alike(self, edge: EdgeId) -> tuple[EdgeId, ...]:
        every = self.session.every_size
        return edges_alike(self.session.settled, edge) if every else (edge,)

    def _clicked(self, sights: Sequence[Sight]) -> tuple[Spot, Sight] | None:
        """The place that was clicked and the piece on which it lies; what was refused is over."""
        self.refusal = ""
        spot = self.cursor
        sight = self._of(spot.which, sights) if spot else None
        return None if spot is None or sight is None else (spot, sight)

    def _of(self, which: PieceId | None, sights: Sequence[Sight]) -> Sight | None:
        return next((s for s in sights if s.which == which), None)


class MarkDart(Correcting):
    """Both points of the mouth on one edge, then the apex."""

    name = "Mark a dart"

    @property
    def prompt(self) -> str:
        return (
            FIRST_OF_DART,
            "Click the other point of the mouth, on the same edge.",
            "Click the apex, inside the piece.",
        )[min(len(self.taken), 2)]

    @property
    def wants(self) -> Want:
        return (Want.OUTLINE_OR_APEX, Want.OUTLINE, Want.ANYWHERE)[min(len(self.taken), 2)]

    @property
    def own(self) -> PieceId | None:
        return self.taken[0].which if self.taken else None

    def take(self, sights: Sequence[Sight]) -> None:
        self.refusal = ""
        spot = self.cursor
        if spot is None:
            return
        sight = self._of(self.own or spot.which, sights)
        if sight is None:
            return
        if not self.taken and spot.stop is Stop.APEX:
            which, every = sight.which, self.session.every_size
            self._correct(
                which, "no dart there", lambda s: without_dart(s, which, spot.key, every=every)
            )
        elif len(self.taken) < 2:
            self.taken = (*self.taken, spot)
            self.cursor = self._inwards(sight) if len(self.taken) == 2 else spot
        else:
            if not holds(sight, spot.at) and not on_outline(spot, sight):
                self.refusal = NOT_INSIDE
                return
            three = Three(*(s.at.moved(sight.spot, -1.0) for s in (*self.taken, spot)))
            which, every = sight.which, self.session.every_size
            self._correct(which, "dart marked", lambda s: with_dart(s, which, three, every=every))

    def _inwards(self, sight: Sight) -> Spot:
        """From where the keys go on to the apex: inside the piece, twice the mouth's width."""
        a, b = (s.at for s in self.taken)
        middle = a.towards(b, 0.5)
        width = a.distance(b)
        if width == 0.0:
            return Spot(Stop.FREE, middle)
        off = (b - a).unit().square() * (2.0 * width)
        inside = holds(sight, middle + off)
        return Spot(Stop.FREE, middle + (off if inside else -off))


class SetGrain(Correcting):
    """From the top of the piece towards its hem."""

    name = "Set the grain"

    @property
    def prompt(self) -> str:
        return (
            "Click the upper end of the grain, inside the piece.",
            "Click its lower end, towards the hem.",
        )[min(len(self.taken), 1)]

    @property
    def wants(self) -> Want:
        return Want.ANYWHERE

    def take(self, sights: Sequence[Sight]) -> None:
        self.refusal = ""
        spot = self.cursor
        if spot is None:
            return
        if not self.taken:
            self.taken = (spot,)
            return
        top, end = self.taken[0].at, spot.at
        sight = self._of(self.taken[0].which, sights) or piece_at(sights, top.towards(end, 0.5))
        if sight is None:
            self.refusal, self.taken = OUTSIDE, ()
            return
        every = self.session.every_size
        pieces = pieces_alike(self.session.settled, sight.which) if every else (sight.which,)
        edges = tuple(EdgeId(which, 0) for which in pieces)
        self._correct_all(edges, "grain set", lambda p, _: with_grain(p, end - top))


class SplitEdge(Correcting):
    """At the place that is clicked, where one seam ends and the next begins."""

    name = "Split an edge"

    @property
    def prompt(self) -> str:
        return "Click where on the edge one seam ends and the next begins."

    def take(self, sights: Sequence[Sight]) -> None:
        clicked = self._clicked(sights)
        if clicked is None:
            return
        spot, sight = clicked
        number = nearest_edge(sight, spot)
        chain = sight.now.edge_chain(sight.now.edges[number])
        at = chain.nearest(spot.at.moved(sight.spot, -1.0)).place
        share = chain.length_to(at) / chain.length()

        def split(piece: Piece, number: int) -> Piece:
            own = piece.edge_chain(piece.edges[number])
            return split_edge(piece, number, own.at(own.at_length(share * own.length())))

        self._correct_all(self._alike(EdgeId(sight.which, number)), "edge split", split)


class SewEdges(Correcting):
    """Two edges of different pieces."""

    name = "Sew two edges together"

    def __init__(self, session: Session) -> None:
        super().__init__(session)
        self._first: EdgeId | None = None

    @property
    def prompt(self) -> str:
        if self._first is None:
            return "Click the first of the two edges."
        piece = self.session.settled.piece(self._first.piece)
        role = piece.edges[self._first.number].role.value
        return f"Click the edge of another piece to which the {role} of {piece.name} is sewn."

    @property
    def edges(self) -> tuple[EdgeId, ...]:
        return () if self._first is None else (self._first,)

    @property
    def draft(self) -> tuple[Spot, ...]:
        return ()

    def back(self) -> None:
        super().back()
        self._first = None

    def take(self, sights: Sequence[Sight]) -> None:
        clicked = self._clicked(sights)
        if clicked is None:
            return
        spot, sight = clicked
        edge = EdgeId(sight.which, nearest_edge(sight, spot))
        if self._first is None:
            self._first = edge
        elif self._first.piece == edge.piece:
            self.refusal = "That is the same piece."
        else:
            self._sew(self._first, edge)

    def _sew(self, first: EdgeId, second: EdgeId) -> None:
        state = self.session.settled
        second = in_size_of(state, first, second)
        a, b = (edge_named(state, edge) for edge in (first, second))
        every = self.session.every_size
        text = f"{a} sewn to {b}{in_sizes_too(state, first, second, every_size=every)}"
        after = with_tie(state, first, second, sewn=True, every_size=every)
        self.session.commit(text, after)
        self.over = True


def in_size_of(state: State, first: EdgeId, second: EdgeId) -> EdgeId:
    """The second edge in the size of the first: in a nest the lines of several sizes lie under
    the pointer, and one is meant. As it is, where there is no such edge."""
    size, clicked = state.piece(first.piece).size, state.piece(second.piece)
    if not size or clicked.size in {"", size}:
        return second
    for which, piece in state.sheets.pieces.items():
        if (which.sheet, piece.title, piece.size) == (second.piece.sheet, clicked.title, size):
            number = edge_alike(clicked, second.number, piece)
            return second if number is None else EdgeId(which, number)
    return second


def nearest_edge(sight: Sight, spot: Spot) -> int:
    """The number of the edge of the piece that runs by the place."""
    at = spot.at.moved(sight.spot, -1.0)
    away = [sight.now.edge_chain(e).nearest(at).distance for e in sight.now.edges]
    return away.index(min(away))


def in_sizes_too(state: State, a: EdgeId, b: EdgeId, *, every_size: bool) -> str:
    """What is added to the name of a step that was made in several sizes at once."""
    return ", in every size" if every_size and other_sizes(state, a, b) else ""


def edge_named(state: State, edge: EdgeId) -> str:
    """``Front side seam``."""
    piece = state.piece(edge.piece)
    return f"{piece.name} {piece.edges[edge.number].role.value}"


def piece_at(sights: Sequence[Sight], p: Point) -> Sight | None:
    """The smallest piece that lies under a place on the table."""
    under = [s for s in sights if holds(s, p)]
    return min(under, key=lambda s: s.box.width * s.box.height, default=None)


def holds(sight: Sight, p: Point) -> bool:
    """Does the place lie within the outline? By crossings of a line to the right (even, odd)."""
    line: Floats = sight.outline_line
    ring = np.vstack((line, line[:1])) + np.array((sight.spot.x, sight.spot.y))
    (x0, y0), (x1, y1) = ring[:-1].T, ring[1:].T
    crosses = (y0 > p.y) != (y1 > p.y)
    with np.errstate(divide="ignore", invalid="ignore"):
        at = x0 + (p.y - y0) / (y1 - y0) * (x1 - x0)
    return bool(np.count_nonzero(crosses & (at > p.x)) % 2)
