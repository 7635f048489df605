"""Plain tapered panels in numbers, for closed forms; nothing goes through recognition."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from core.alter.model import Altered, Change
from core.alter.together import alter_together
from core.curve import Cubic, Line, Place, Point, Ring, Segment, Vector
from core.piece.mates import Mates
from core.piece.model import (
    Because,
    Dart,
    Edge,
    Grain,
    HemRun,
    Kind,
    Mark,
    Origin,
    Outline,
    Piece,
    Role,
    Taper,
)

NOWHERE = Vector(0.0, 0.0)
SURE = Because(True, "drawn so")


@dataclass(frozen=True)
class Panel:
    """A panel `top` wide above and `bottom` below, `height` high, even on both sides (mm).

    `square` draws the hem as the arc that is square to both seams. `notches` are mm from the
    hem, along the left and along the right seam. `dart` is the width of a dart in the hem.
    """

    name: str
    key: int
    top: float
    bottom: float
    height: float
    left: Role = Role.INSEAM
    right: Role = Role.SIDE
    square: bool = False
    notches: tuple[Sequence[float], Sequence[float]] = ((), ())
    dart: float = 0.0
    at: Vector = NOWHERE

    @property
    def inset(self) -> float:
        return (self.top - self.bottom) / 2

    @property
    def seam(self) -> float:
        """Length of either seam."""
        return math.hypot(self.inset, self.height)

    def downs(self) -> tuple[Vector, Vector]:
        a = Vector(self.inset, self.height).unit()
        return a, Vector(-a.x, a.y)

    def hem_ends(self) -> tuple[Point, Point]:
        y = self.height
        return Point(-self.bottom / 2, y) + self.at, Point(self.bottom / 2, y) + self.at

    def piece(self) -> Piece:
        first, last = self.hem_ends()
        tops = Point(-self.top / 2, 0.0) + self.at, Point(self.top / 2, 0.0) + self.at
        hem = self._hem(first, last)
        lines = (Line(last, tops[1]), Line(tops[1], tops[0]), Line(tops[0], first))
        ring = Ring((*hem, *lines))
        n = len(hem)
        places = [Place(0, 0.0), *(Place(n + k, 0.0) for k in range(3)), Place(0, 0.0)]
        roles = (Role.HEM, self.right, Role.WAIST, self.left)
        edges = [Edge(r, places[k], places[k + 1], SURE) for k, r in enumerate(roles)]
        downs = self.downs()
        tapers = Taper(places[0], downs[0], SURE), Taper(places[1], downs[1], SURE)
        return Piece(
            key=self.key,
            name=self.name,
            outline=Outline(ring, tuple(Origin(self.key, k) for k in range(len(ring)))),
            grain=Grain(Vector(0.0, 1.0), SURE),
            edges=tuple(edges),
            hem=HemRun(*tapers),
            darts=self._darts(hem),
            marks=tuple(self._marks()),
        )

    def _hem(self, first: Point, last: Point) -> tuple[Segment, ...]:
        if self.square:
            out, into = (-d.square() for d in self.downs())
            sweep = 2 * math.asin(self.inset / self.seam)
            # 4/3 tan(sweep / 4) R, with R half the chord over sin(sweep / 2); sound when straight.
            handle = 2 * self.bottom / 3 / (1.0 + math.cos(sweep / 2))
            return (Cubic(first, first.moved(out, handle), last.moved(into, -handle), last),)
        if self.dart == 0.0:
            return (Line(first, last),)
        middle = first.towards(last, 0.5)
        half = Vector(self.dart / 2, 0.0)
        apex = middle + Vector(0.0, -self.height / 4)
        points = (first, middle.moved(half, -1.0), apex, middle + half, last)
        return tuple(Line(a, b) for a, b in itertools.pairwise(points))

    def _darts(self, hem: Sequence[Segment]) -> tuple[Dart, ...]:
        if self.dart == 0.0:
            return ()
        mouth = hem[0].end, hem[3].start
        return (Dart(mouth, hem[1].end, SURE, Role.HEM, (Place(1, 0.0), Place(3, 0.0))),)

    def _marks(self) -> list[Mark]:
        ends, downs = self.hem_ends(), self.downs()
        spots = [
            end.moved(down, -away)
            for end, down, aways in zip(ends, downs, self.notches, strict=True)
            for away in aways
        ]
        return [Mark(Kind.NOTCH, 100 * self.key + k, p) for k, p in enumerate(spots)]


def mates(*roles: Role) -> tuple[Mates, ...]:
    """Pieces 0 and 1 joined at these edges."""
    return tuple(Mates((0, r), (1, r), SURE) for r in roles)


def changed(*panels: Panel, by: float = 0.0, joined: Sequence[Mates] = ()) -> tuple[Altered, ...]:
    return alter_together([p.piece() for p in panels], Change(by), mates=joined)


def tampered(altered: Altered, **parts: object) -> Altered:
    """The same alteration with something about its piece made wrong."""
    return replace(altered, piece=replace(altered.piece, **parts))  # type: ignore[arg-type]
