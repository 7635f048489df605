"""What is to be seen on the table at one moment, and where two moments of a drag differ.

Knows nothing of Qt.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import TypeVar

from app.window.document import EdgeId, PieceId
from app.window.lengths import Shown
from app.window.table.labels import AIR
from app.window.table.levels import BEYOND
from app.window.table.near import around, joined
from app.window.table.notes import Notes
from app.window.table.rect import Rect
from app.window.table.sights import Sight
from app.window.table.tools.tool import Tool
from app.window.table.view import View
from core.curve import Chain, Line, Point, Segment, Vector
from core.piece.model import Kind, Piece

Thing = TypeVar("Thing")

# Pixels about a line that moved, for its pen and the ring at its end; and about a mark, for
# notches, arrowheads and drill holes.
PEN, MARK = 8.0, 20.0
# And about the ends of a level, which is drawn beyond the piece.
LEVEL = BEYOND + 2.0
# Two lines from one point run the same way within this sine.
SAME_WAY = 1e-9


@dataclass(frozen=True, eq=False)
class Scene:
    """Everything that is painted; ``held`` are the pieces whose hem or level is held."""

    width: int
    height: int
    ratio: float
    dark: bool
    view: View
    shown: Shown
    sights: tuple[Sight, ...]
    notes: Notes
    selected: EdgeId | None = None
    place: Point | None = None
    tool: Tool | None = None
    figures: dict[tuple[int, str], Rect] | None = None
    held: tuple[PieceId | None, PieceId | None] = (None, None)

    @property
    def _around(self) -> tuple[object, ...]:
        looks = self.width, self.height, self.ratio, self.dark, self.view, self.shown
        return *looks, self.selected, self.place, self.held, len(self.sights)

    def shows_the_same(self, other: Scene) -> bool:
        """The very same pieces and labels, seen in the same way and with no tool over them?"""
        things = self.sights is other.sights and self.notes is other.notes
        return things and self._around == other._around and not (self.tool or other.tool)


def moved_between(was: Scene, now: Scene) -> tuple[Rect, ...] | None:
    """Where, in pixels, the two differ; None when other pieces lie there, or lie otherwise."""
    if was._around != now._around or was.tool or now.tool:
        return None
    rects: list[Rect] = []
    for a, b in zip(was.sights, now.sights, strict=True):
        if not _same_before(a, b):
            return None
        spot, view = a.spot, now.view
        rects += (_seen(r, spot, view, PEN) for r in _lines(a, b, now.selected))
        rects += (_seen(r, spot, view, MARK) for r in _marks(a.now, b.now))
        if a.level is not b.level or a.level is not None:
            rects += (_seen(r, spot, view, LEVEL) for r in _levels(a, b))
        if a.before is not b.before or a.level is not None:
            rects += (_seen(r, spot, view, MARK) for r in _tapers(a, b))
    return joined([*rects, *_written(was, now)])


def _same_before(a: Sight, b: Sight) -> bool:
    same = a.which == b.which and a.spot == b.spot and a.before.outline is b.before.outline
    alike = (a.altered is None) == (b.altered is None) and (a.led, a.over) == (b.led, b.over)
    return same and alike


def _seen(rect: Rect, spot: Vector, view: View, more: float) -> Rect:
    """So many pixels around a rectangle in mm."""
    x, y, scale = spot.x - view.x, spot.y - view.y, view.scale
    x0, y0, x1, y1 = rect
    return Rect(
        (x0 + x) * scale - more,
        (y0 + y) * scale - more,
        (x1 + x) * scale + more,
        (y1 + y) * scale + more,
    )


def _levels(a: Sight, b: Sight) -> Iterator[Rect]:
    """The levels, and what is tinted or hatched between them."""
    if a.level_lines != b.level_lines:
        for lines in (a.level_lines, b.level_lines):
            yield from _around_all(p for ends in lines for p in ends)


def _tapers(a: Sight, b: Sight) -> Iterator[Rect]:
    """The diamonds that lie elsewhere."""
    for p in {*a.tapers} ^ {*b.tapers}:
        yield Rect(p.x, p.y, p.x, p.y)


def _lines(a: Sight, b: Sight, selected: EdgeId | None) -> Iterator[Rect]:
    """What of the lines of one piece is drawn elsewhere, unmoved and in mm."""
    if a.now is b.now:
        return
    outlines = a.now.outline.ring, b.now.outline.ring
    if outlines[0] is not outlines[1]:
        # The cloth between what was and what is, is tinted: so one rectangle around both.
        yield from _around_all(_unshared(*outlines))
    stitchings = [p.stitching for p in (a.now, b.now) if p.stitching is not None]
    if len(stitchings) == 2 and stitchings[0] is not stitchings[1]:
        # Dashes begin at its start: behind a change they all lie elsewhere.
        yield from _around_all(s.ring for s in stitchings)
    seams = a.seams, b.seams
    if a.shortened or b.shortened:
        yield from _around_all(c for both in seams for c in both)
    else:
        parts = (tuple(s for c in both for s in c) for both in seams)
        yield from _around_all(_unshared(*parts))
    if selected is not None and selected.piece == a.which:
        rows = ([p.edge_chain(e) for e in p.edges] for p in (a.now, b.now))
        yield from _around_all(c[selected.number] for c in rows if selected.number < len(c))


def _around_all(parts: Iterable[Chain | Segment | Point]) -> Iterator[Rect]:
    points: list[Point] = []
    for part in parts:
        if isinstance(part, Point):
            points.append(part)
        elif isinstance(part, Chain):
            points += [p for s in part.segments for p in s.controls]
        else:
            points += part.controls
    if points:
        yield around(points)


def _unshared(was: Iterable[Segment], now: Iterable[Segment]) -> Iterator[Segment | Point]:
    """What is not the very same in both; of a line that only got longer, its two ends."""
    old, new = tuple(was), tuple(now)
    known, kept = {*map(id, old)}, {*map(id, new)}
    gone = [s for s in old if id(s) not in kept]
    lines = [s for s in gone if isinstance(s, Line)]
    # What goes down by the same amount in both is made anew, and lies where it lay.
    again = {(s.start.x, s.start.y): s for s in gone}
    for s in new:
        if id(s) in known:
            continue
        same = again.get((s.start.x, s.start.y))
        if same is not None and same == s:
            gone.remove(same)
            continue
        longer = next((other for other in lines if _same_line(s, other)), None)
        if longer is None:
            yield s
            continue
        lines.remove(longer)
        gone.remove(longer)
        yield from (s.start, longer.start) if s.end == longer.end else (s.end, longer.end)
    yield from gone


def _same_line(a: Segment, b: Line) -> bool:
    if not isinstance(a, Line) or (a.start != b.start) == (a.end != b.end):
        return False
    return abs((a.end - a.start).cross(b.end - b.start)) <= SAME_WAY * a.length() * b.length()


def _marks(was: Piece, now: Piece) -> Iterator[Rect]:
    """Marks and darts that are not what they were; a dart with its hole, if a mark has it."""
    pairs = () if was.marks is now.marks else _pairs(was.marks, now.marks)
    for a, b in pairs:
        if a is not b and a != b:
            yield from _around_all(m.geometry for m in (a, b) if m is not None)
            apexes = [d.apex for p in (was, now) for d in p.darts]
            yield from _around_all(apexes if Kind.DRILL in {m.kind for m in (a, b) if m} else ())
    for c, d in _pairs(was.darts, now.darts):
        if c != d:
            yield from _around_all(p for x in (c, d) if x for p in (*x.mouth, x.apex))


def _pairs(a: Sequence[Thing], b: Sequence[Thing]) -> Iterator[tuple[Thing | None, Thing | None]]:
    if len(a) == len(b):
        yield from zip(a, b, strict=True)
    else:
        yield from ((x, None) for x in (*a, *b))


def _written(was: Scene, now: Scene) -> Iterator[Rect]:
    """Labels and grips that are elsewhere, or say something else."""
    a, b = was.notes, now.notes
    for _, rect in {*a.labels.items()} ^ {*b.labels.items()}:
        yield rect.grown(AIR)
    for _, (x0, y0, x1, y1) in {*a.leads.items()} ^ {*b.leads.items()}:
        yield Rect(min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1)).grown(AIR)
    for grips in (a.grips, b.grips):
        yield from (r.grown(AIR) for r in grips.values())
