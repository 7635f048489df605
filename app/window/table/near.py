"""The parts of the table that are painted anew while a hem is dragged. Knows nothing of Qt."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from app.window.table.labels import Rect
from app.window.table.view import View
from core.curve import Chain, Line, Point, Segment, Vector
from core.kept import kept

# By so many pixels beyond it a line may be drawn with a pen that reaches into a rectangle.
PEN = 6.0


class Near(NamedTuple):
    """Rectangles in mm that hold all lines to be seen within those painted anew."""

    rects: tuple[Rect, ...]

    @classmethod
    def seen(cls, rects: Sequence[Rect], view: View) -> Near:
        """About rectangles of pixels."""
        wider = [r.grown(PEN) for r in rects]
        corners = ((view.to_mm(r.x0, r.y0), view.to_mm(r.x1, r.y1)) for r in wider)
        return cls(tuple(Rect(a.x, a.y, b.x, b.y) for a, b in corners))

    def at(self, spot: Vector) -> Near:
        """The same as a piece sees them that lies on that spot."""
        x, y = spot.x, spot.y
        return Near(tuple(Rect(r.x0 - x, r.y0 - y, r.x1 - x, r.y1 - y) for r in self.rects))

    def touches(self, rect: Rect) -> bool:
        """Does any of them touch that one, which may be without width or height?"""
        return any(r.meets(rect) for r in self.rects)

    def holds(self, geometry: Chain | Point) -> bool:
        """Does any of it lie there, or perhaps: asked of the handles?"""
        if isinstance(geometry, Point):
            return self.touches(Rect(geometry.x, geometry.y, geometry.x, geometry.y))
        return any(self.touches(hull_of(s)) for s in geometry)

    def stretches(self, chain: Chain) -> list[list[Segment]]:
        """The parts of a chain that lie there: curves whole, lines cut where they leave it.

        A long line costs most of the time that an outline takes to be drawn.
        """
        hulls = [hull_of(s) for s in chain]
        here = Near(tuple(r for r in self.rects if r.meets(_both(hulls))))
        rows: list[list[Segment]] = []
        for part in (p for s, hull in zip(chain, hulls, strict=True) for p in here._parts(s, hull)):
            if rows and part.start == rows[-1][-1].end:
                rows[-1].append(part)
            else:
                rows.append([part])
        if len(rows) > 1 and rows[-1][-1].end == rows[0][0].start:
            # Of a ring that starts there both belong together, with a joint and no ends.
            rows[0][:0] = rows.pop()
        return rows

    def _parts(self, s: Segment, hull: Rect) -> Iterator[Segment]:
        if not self.touches(hull):
            return
        if not isinstance(s, Line):
            yield s
            return
        done = -1.0
        for first, last in sorted(filter(None, (within(s, r) for r in self.rects))):
            # Rectangles that meet would have the same stretch drawn twice.
            if last > done:
                yield s.part(max(first, done, 0.0), last)
                done = last


def within(line: Line, rect: Rect) -> tuple[float, float] | None:
    """From which t to which the line lies in the rectangle; None when it does not.

    Liang and Barsky, "A new concept and method for line clipping", ACM Transactions on
    Graphics 3 (1984).
    """
    first, last = 0.0, 1.0
    for at, to, low, high in (
        (line.start.x, line.end.x, rect.x0, rect.x1),
        (line.start.y, line.end.y, rect.y0, rect.y1),
    ):
        run = to - at
        if run == 0.0:
            if not low <= at <= high:
                return None
            continue
        enters, leaves = sorted(((low - at) / run, (high - at) / run))
        first, last = max(first, enters), min(last, leaves)
    return (first, last) if first <= last else None


@kept(most=16384)
def hull_of(segment: Segment) -> Rect:
    """Around its ends and handles, so around all of it."""
    return around(segment.controls)


def around(points: Iterable[Point]) -> Rect:
    """The smallest rectangle around at least one point."""
    xs, ys = zip(*((p.x, p.y) for p in points), strict=True)
    return Rect(min(xs), min(ys), max(xs), max(ys))


def joined(rects: Iterable[Rect]) -> tuple[Rect, ...]:
    """Rectangles that do not overlap, which hold all of those."""
    apart: list[Rect] = []
    for rect in rects:
        whole = rect
        while True:
            meeting = [r for r in apart if r.overlaps(whole)]
            if not meeting:
                break
            apart = [r for r in apart if r not in meeting]
            whole = _both([whole, *meeting])
        apart.append(whole)
    return tuple(apart)


def _both(rects: Sequence[Rect]) -> Rect:
    x0, y0, x1, y1 = zip(*rects, strict=True)
    return Rect(min(x0), min(y0), max(x1), max(y1))
