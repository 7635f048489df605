"""What is to be seen of each piece. Knows nothing of Qt."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import cached_property, lru_cache
from typing import NamedTuple

import numpy as np

from app.window.document import AtLevel, EdgeId, PieceId, Sheets, State
from app.window.outcome import outcome
from app.window.table.coarse import Floats, flat, kept_flat
from app.window.table.labels import Polyline
from app.window.table.levels import across, moved
from core.alter.model import Altered, StepKind
from core.curve import Box, Chain, Point, Vector
from core.piece.model import Dart, Kind, Mark, Piece, Role
from core.piece.sizes import sizes_of

# A hole this near (mm) to a dart's apex is the dart's own.
AT_APEX = 25.0
SEAM_STEPS = (StepKind.CARRY_SEAMS, StepKind.CUT_SEAMS, StepKind.TRUE_SEAMS)


@dataclass(frozen=True, eq=False)
class Sight:
    """One piece on the table: moved by ``spot``, before and now; ``altered`` if it takes part,
    at a ``level`` if not at the hem. Of sizes that lie over each other only the largest is
    written upon and held: ``over`` are the sizes it stands for, and the others are ``led``.
    ``sewn`` are the edges to which each of its edges is sewn, by its number; ``amount_mm`` is what
    was asked for it, which may be its size's own.
    """

    which: PieceId
    spot: Vector
    before: Piece
    altered: Altered | None
    level: AtLevel | None = None
    led: bool = False
    over: tuple[str, ...] = ()
    sewn: Mapping[int, tuple[EdgeId, ...]] = field(default_factory=dict)
    amount_mm: float = 0.0

    @property
    def now(self) -> Piece:
        return self.altered.piece if self.altered else self.before

    @property
    def name(self) -> str:
        """What is written on it."""
        sizes = (*self.over, self.now.size)
        return f"{self.now.title} {sizes[0]}–{sizes[-1]}" if self.over else self.now.name

    @property
    def differs(self) -> bool:
        return self.altered is not None and self.altered.piece is not self.altered.before

    @cached_property
    def box(self) -> Box:
        """Around the piece before and now, in its place; as exact as the eye needs it."""
        both = np.concatenate((kept_flat(self.before.outline.ring), self.outline_line))
        (x0, y0), (x1, y1) = both.min(axis=0).tolist(), both.max(axis=0).tolist()
        v = self.spot
        return Box(x0 + v.x, y0 + v.y, x1 + v.x, y1 + v.y)

    @property
    def outline_line(self) -> Floats:
        """The outline now, as a coarse polyline in mm, unmoved."""
        return kept_flat(self.now.outline.ring)

    @cached_property
    def seams(self) -> tuple[Chain, ...]:
        """The carried parts of the seams, or those cut off; at a level those redrawn."""
        steps = self.altered.steps if self.altered else ()
        return tuple(c for step in steps if step.kind in SEAM_STEPS for c in step.lines)

    @property
    def shortened(self) -> bool:
        """Are the seams those that were cut off?"""
        return self._by_mm < 0.0 and self.level is None

    @property
    def _by_mm(self) -> float:
        return self.altered.change.by_mm if self.altered else 0.0

    @property
    def level_mm(self) -> float | None:
        """How far below its highest point the level of the piece lies; it goes by its mates."""
        level = self.altered.level if self.altered and self.level else None
        return None if level is None else level.at_mm

    @cached_property
    def level_lines(self) -> tuple[tuple[Point, Point], ...]:
        """The level across the piece as it was, unmoved; and where its lower edge went, or the
        lower end of what is folded out.
        """
        crossing = None if self.level_mm is None else across(self.before, self.level_mm)
        if crossing is None:
            return ()
        step = self.before.grain.down * abs(self._by_mm)
        return (crossing,) if not self.differs else (crossing, moved(crossing, step))

    @property
    def tapers(self) -> tuple[Point, ...]:
        """Where the fit lines stop, before the change: from there the seams are carried on. At
        a level, where the seams begin and cease to be redrawn.
        """
        if self.level is not None:
            return tuple(p for chain in self.seams for p in (chain.start, chain.end))
        hem = self.before.hem
        return tuple(self.before.ring.at(t.place) for t in (hem.first, hem.last)) if hem else ()

    @cached_property
    def grain_line(self) -> Chain | None:
        """The drawn grain line."""
        for mark in self.now.marks:
            if mark.shape == self.now.grain.shape and isinstance(mark.geometry, Chain):
                return mark.geometry
        return None

    @cached_property
    def plain_marks(self) -> tuple[Mark, ...]:
        """All marks but the grain's (its arrowheads are drawn anew) and the darts'."""
        darts = {key for d in self.now.darts for key in d.shapes}
        return tuple(m for m in self.now.marks if m.kind is not Kind.GRAIN and m.shape not in darts)

    @cached_property
    def edge_lines(self) -> tuple[Floats, ...]:
        """Each edge as it is sewn, as a coarse polyline in mm, unmoved: straight over darts."""
        return tuple(flat(self.now.sewn_segments(e)) for e in self.now.edges)

    @cached_property
    def notches(self) -> tuple[tuple[Point, Vector], ...]:
        """Notches given as points: the place on the outline, and the direction into the piece."""
        found = (m.geometry for m in self.now.marks if m.kind is Kind.NOTCH)
        points = [p for p in found if isinstance(p, Point)]
        if not points:
            return ()
        inward = 1.0 if self.now.outline.ring.signed_area() > 0.0 else -1.0
        line = Polyline(self.outline_line)
        near = [line.nearest(p.x, p.y) for p in points]
        return tuple((Point(*at), Vector(*way).square() * inward) for at, way in near)

    def drilled(self, dart: Dart) -> bool:
        """Does the file itself mark the apex of the dart by a hole?"""
        holes = (_middle(m.geometry) for m in self.now.marks if m.kind is Kind.DRILL)
        return any(hole.distance(dart.apex) < AT_APEX for hole in holes)

    @property
    def hem_middle(self) -> Point | None:
        """The middle of the hem, where its grip is, in its place."""
        if self._hem_line is None:
            return None
        x, y = self._hem_line.at(0.5)[0]
        return Point(x, y) + self.spot

    @property
    def hem_length(self) -> float:
        """In mm, as coarse as the eye needs it."""
        return self._hem_line.length if self._hem_line else 0.0

    @cached_property
    def _hem_line(self) -> Polyline | None:
        if self.now.hem is None:
            return None
        # Not from `edge_lines`: a drag asks for the hem in each frame, and for no other edge.
        hems = [self.now.sewn_segments(e) for e in self.now.edges if e.role is Role.HEM]
        if hems:
            return max((Polyline(flat(hem)) for hem in hems), key=lambda p: p.length)
        hem = self.now.hem
        return Polyline(flat(self.now.ring.run(hem.first.place, hem.last.place)))


def _middle(geometry: Chain | Point) -> Point:
    return geometry if isinstance(geometry, Point) else geometry.bounds().centre


def sights_of(state: State) -> tuple[Sight, ...]:
    """Every piece of the state, in the order of the files."""
    altered = outcome(state).altered
    spots, pieces = state.sheets.spots, state.sheets.pieces
    leading, stands_for = _standing(state.sheets, state.altering)
    sewn = _sewn(state.sheets)
    return tuple(
        Sight(
            which,
            spots[which],
            piece,
            altered.get(which),
            state.level,
            which in leading,
            stands_for.get(which, ()),
            sewn.get(which, {}),
            state.amount_of(piece.size),
        )
        for which, piece in pieces.items()
    )


@lru_cache(maxsize=16)
def _sewn(sheets: Sheets) -> Mapping[PieceId, Mapping[int, tuple[EdgeId, ...]]]:
    """For each piece the edges to which its edges are sewn."""
    ids = {piece.key: which for which, piece in sheets.pieces.items()}
    by_key = {piece.key: piece for piece in sheets.pieces.values()}
    out: dict[PieceId, dict[int, tuple[EdgeId, ...]]] = {}
    for found in (pair.edges(by_key) for pair in sheets.mates):
        for a, b in (found, found[::-1]) if found else ():
            of = out.setdefault(ids[a.piece], {})
            of[a.number] = (*of.get(a.number, ()), EdgeId(ids[b.piece], b.number))
    return out


def lie_there(sights: Iterable[Sight], state: State) -> bool:
    """Are these the pieces of the state, whatever is known of them, where they lie?"""
    sheets = state.sheets
    lay = {s.which: (id(s.before.outline), s.spot) for s in sights}
    return lay == {k: (id(p.outline), sheets.spots[k]) for k, p in sheets.pieces.items()}


class _Standing(NamedTuple):
    """For each piece that lies over larger sizes of itself the largest of these, and for those
    the sizes that they stand for."""

    leading: Mapping[PieceId, PieceId]
    sizes: Mapping[PieceId, tuple[str, ...]]


@lru_cache(maxsize=16)
def _standing(sheets: Sheets, part: tuple[PieceId, ...]) -> _Standing:
    """Of the pieces that take part in the change one of these leads, where there is one."""
    taking = set(part)
    area = {which: abs(p.outline.ring.signed_area()) for which, p in sheets.pieces.items()}
    leading: dict[PieceId, PieceId] = {}
    behind: dict[PieceId, list[Piece]] = {}
    for which, larger in sheets.over.items():
        same = [other for other in larger if (other in taking) or which not in taking]
        if same:
            leading[which] = max(same, key=area.__getitem__)
    for which in sheets.pieces:
        if which in leading:
            behind.setdefault(leading[which], []).append(sheets.pieces[which])
    return _Standing(leading, {which: sizes_of(some) for which, some in behind.items()})


def box_around(sights: Iterable[Sight]) -> Box | None:
    """Around all of them; None when there are none."""
    boxes = [s.box for s in sights]
    if not boxes:
        return None
    whole = boxes[0]
    for box in boxes[1:]:
        whole = whole | box
    return whole
