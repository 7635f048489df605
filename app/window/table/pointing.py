"""What lies under the pointer, and what it is called."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

from app.window.document import EdgeId, PieceId
from app.window.lengths import Shown, bare
from app.window.table.edge_notes import SAME
from app.window.table.holds import Hold, Part, hold_at
from app.window.table.notes import Notes
from app.window.table.rect import Rect
from app.window.table.sights import Sight
from app.window.table.view import View
from core.curve import Chain, Line, Point
from core.piece.model import Dart, Kind, Mark, Role

# Pixels within which the pointer takes hold of an edge; within which it is at a mark or a line.
HOLD, NEAR_MARK, NEAR_LINE = 7.0, 7.0, 5.0
LINES = {Kind.INNER: "inner line", Kind.FOLD: "fold line", Kind.CUTOUT: "cutout"}


@dataclass(frozen=True)
class Under:
    """What lies under the pixel (x, y) of the table; each is looked for when asked after."""

    sights: tuple[Sight, ...]
    view: View
    notes: Notes
    x: float
    y: float

    @cached_property
    def hem_grip(self) -> PieceId | None:
        return self._grip(self.notes.grips)

    @cached_property
    def level_grip(self) -> PieceId | None:
        return self._grip(self.notes.level_grips)

    def _grip(self, grips: dict[PieceId, Rect]) -> PieceId | None:
        """The grip under the pointer, the one drawn last first."""
        found = (k for k, r in reversed(grips.items()) if r.holds(self.x, self.y))
        return next(found, None)

    @cached_property
    def hold(self) -> Hold | None:
        return hold_at(self.sights, self.view, self.x, self.y)

    @cached_property
    def here(self) -> Point:
        """In mm on the table."""
        return self.view.to_mm(self.x, self.y)

    @cached_property
    def edge(self) -> EdgeId | None:
        """The nearest edge within the hold."""
        reach = HOLD / self.view.scale
        best: EdgeId | None = None
        for sight in self.close:
            now, p = sight.now, self.here.moved(sight.spot, -1.0)
            for index, edge in enumerate(now.edges):
                near = now.edge_chain(edge).nearest(p)
                if near.distance < reach:
                    reach, best = near.distance, EdgeId(sight.which, index)
        return best

    @cached_property
    def close(self) -> tuple[Sight, ...]:
        """The pieces that the pointer is over, or almost."""
        air = (HOLD + NEAR_MARK) / self.view.scale
        p = self.here
        return tuple(
            s
            for s in self.sights
            if s.box.x0 - air <= p.x <= s.box.x1 + air and s.box.y0 - air <= p.y <= s.box.y1 + air
        )

    def words(self, shown: Shown) -> str:
        """What it is called, with the figure that goes with it; nothing over plain cloth."""
        by_id = {s.which: s for s in self.sights}
        if self.hem_grip is not None:
            sight = by_id[self.hem_grip]
            return f"{sight.name}: grip of the hem, {_of_hem(sight, shown)}"
        if self.level_grip is not None:
            sight = by_id[self.level_grip]
            return f"{sight.name}: grip of the level, {_of_level(sight, shown)}"
        if self.hold is not None:
            return _held(by_id[self.hold.which], self.hold)
        found = next(self._marks(shown), "")
        if found or self.edge is None:
            return found or next(self._lines(), "")
        return edge_words(by_id[self.edge.piece], self.edge.number, shown)

    def _marks(self, shown: Shown) -> Iterator[str]:
        """What is small or lies inside goes before the edge that runs by it."""
        mark, line = NEAR_MARK / self.view.scale, NEAR_LINE / self.view.scale
        for sight in self.close:
            p = self.here.moved(sight.spot, -1.0)
            for found in sight.now.marks:
                if found.kind is Kind.NOTCH and _away(found, p) <= mark:
                    yield notch_words(sight, found, shown)
            for dart in sight.now.darts:
                if _from_dart(dart, p) <= line:
                    yield dart_words(sight, dart, shown)
            for found in sight.now.marks:
                if found.kind is Kind.DRILL and _away(found, p) <= mark:
                    yield f"{sight.name}: drill hole"
            if sight.grain_line is not None and sight.grain_line.nearest(p).distance <= line:
                sure = "" if sight.now.grain.because.sure else ", not certain"
                yield f"{sight.name}: grain{sure}"
            for a, b in sight.level_lines[:1]:
                if Line(a, b).nearest(p).distance <= line:
                    yield f"{sight.name}: level, {_of_level(sight, shown)}"

    def _lines(self) -> Iterator[str]:
        line = NEAR_LINE / self.view.scale
        for sight in self.close:
            p = self.here.moved(sight.spot, -1.0)
            for mark in sight.plain_marks:
                if mark.kind in LINES and _away(mark, p) <= line:
                    yield f"{sight.name}: {mark.called or LINES[mark.kind]}"
            both = sight.now.stitching is not None
            if both and sight.now.outline.ring.nearest(p).distance <= line:
                yield f"{sight.name}: cutting line"


def edge_words(sight: Sight, number: int, shown: Shown) -> str:
    """``Front: side seam, 38.8 → 50.8 cm``; with a question mark where it is not certain."""
    edge = sight.now.edges[number]
    role = "edge without a name" if edge.role is Role.OTHER else edge.role.value
    doubt = "" if edge.because.sure else " ?"
    now = sight.now.edge_lengths[number]
    was = now
    if sight.altered is not None:
        figure = sight.altered.figures.edges[number]
        was, now = figure.before_mm, figure.after_mm
    before = f"{bare(was, shown)} → " if abs(now - was) >= SAME else ""
    return f"{sight.name}: {role}{doubt}, {before}{told(now, shown)}"


def told(mm: float, shown: Shown) -> str:
    """A measured length, as fine as a tape is read."""
    return f"{bare(mm, shown)} {shown.sign}"


def notch_words(sight: Sight, mark: Mark, shown: Shown) -> str:
    """On which edge, and how far from its end at the hem, or else from its nearer end."""
    now = sight.now
    p = middle_of(mark)
    away = [now.edge_chain(e).nearest(p).distance for e in now.edges]
    if not away:
        return f"{sight.name}: notch"
    number = away.index(min(away))
    edge = now.edges[number]
    chain = now.edge_chain(edge)
    along = chain.length_to(chain.nearest(p).place)
    rest = chain.length() - along
    where = f"{told(min(along, rest), shown)} from its nearer end"
    if now.hem is not None and edge.start == now.hem.last.place:
        where = f"{told(along, shown)} above the hem"
    elif now.hem is not None and edge.end == now.hem.first.place:
        where = f"{told(rest, shown)} above the hem"
    return f"{sight.name}: notch in the {edge.role.value}, {where}"


def dart_words(sight: Sight, dart: Dart, shown: Shown) -> str:
    """With its intake and its legs."""
    legs = " and ".join(dict.fromkeys(bare(leg, shown) for leg in dart.legs))
    doubt = "" if dart.because.sure else " ?"
    intake = bare(dart.intake, shown)
    return f"{sight.name}: dart{doubt}, intake {intake}, legs {legs} {shown.sign}"


def middle_of(mark: Mark) -> Point:
    """The point of a mark, or the middle of its line."""
    where = mark.geometry
    return where if isinstance(where, Point) else where.bounds().centre


def _away(mark: Mark, p: Point) -> float:
    where = mark.geometry
    return where.nearest(p).distance if isinstance(where, Chain) else where.distance(p)


def _from_dart(dart: Dart, p: Point) -> float:
    legs = (Line(end, dart.apex) for end in dart.mouth if end != dart.apex)
    return min((leg.nearest(p).distance for leg in legs), default=dart.apex.distance(p))


def _of_hem(sight: Sight, shown: Shown) -> str:
    hems = [k for k, e in enumerate(sight.now.edges) if e.role is Role.HEM]
    return edge_words(sight, hems[0], shown).rsplit(", ", 1)[-1] if hems else "drag it"


def _of_level(sight: Sight, shown: Shown) -> str:
    return f"{told(sight.level_mm or 0.0, shown)} below the highest point"


def _held(sight: Sight, hold: Hold) -> str:
    """A taper point or a seam end, by the seam that it lies on."""
    edges = sight.now.edges
    seam = edges[1 if hold.last else -1].role.value if len(edges) > 1 else "seam"
    word = "taper point" if hold.part is Part.TAPER else "end"
    return f"{sight.name}: {word} of the {seam}"
