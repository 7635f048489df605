"""The parts of the table that are painted anew while a hem is dragged. Knows nothing of Qt."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from app.window.table.rect import Rect
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
        rows: list[list[Segment]] = []
        for s in chain.segments:
            hull = hull_of(s)
            # In so many words, for it is asked of every outline in each frame of a drag.
            meeting = [
                r
                for r in self.rects
                if r[0] <= hull[2] and hull[0] <= r[2] and r[1] <= hull[3] and hull[1] <= r[3]
            ]
            for part in _parts(s, meeting) if meeting else ():
                if rows and part.start == rows[-1][-1].end:
                    rows[-1].append(part)
                else:
                    rows.append([part])
        if len(rows) > 1 and rows[-1][-1].end == rows[0][0].start:
            # Of a ring that starts there both belong together, with a joint and no ends.
            rows[0][:0] = rows.pop()
        return rows


def _parts(s: Segment, meeting: Sequence[Rect]) -> Iterator[Segment]:
    """A curve whole; of a line what lies in rectangles that its own meets."""
    if not isinstance(s, Line):
        yield s
        return
    done = -1.0
    for first, last in sorted(filter(None, (within(s, r) for r in meeting))):
        # Rectangles that meet would have the same stretch drawn twice.
        if last > done:
            t = max(first, done, 0.0)
            yield s if (t, last) == (0.0, 1.0) else s.part(t, last)
            done = last


def within(line: Line, rect: Rect) -> tuple[float, float] | None:
    """From which t to which the line lies in the rectangle; None when it does not.

    Liang and Barsky, "A new concept and method for line clipping", ACM Transactions on
    Graphics 3 (1984).
    """
    start, end = line.start, line.end
    first, last = 0.0, 1.0
    for at, run, low, high in (
        (start.x, end.x - start.x, rect.x0, rect.x1),
        (start.y, end.y - start.y, rect.y0, rect.y1),
    ):
        if run == 0.0:
            if not low <= at <= high:
                return None
            continue
        enters, leaves = (low - at) / run, (high - at) / run
        if run < 0.0:
            enters, leaves = leaves, enters
        first = max(first, enters)
        last = min(last, leaves)
    return (first, last) if first <= last else None


@kept(most=16384)
def hull_of(segment: Segment) -> Rect:
    """Around its ends and handles, so around all of it."""
    return around(segment.controls)


def around(points: Iterable[Point]) -> Rect:
    """The smallest rectangle around at least one point."""
    many = tuple(points)
    xs, ys = [p.x for p in many], [p.y for p in many]
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
