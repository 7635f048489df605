"""Our curves as Qt's. Each chain is turned once; a drag keeps most of what it shows."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import QPointF
from PySide6.QtGui import QPainterPath

from app.window.table.near import Near
from core.curve import Chain, Cubic, Point, Ring, Segment
from core.kept import kept


def path_of(chain: Chain) -> QPainterPath:
    """The chain in mm; closed when it is a ring."""
    path = QPainterPath(point_of(chain.start))
    _run(path, chain)
    if isinstance(chain, Ring):
        path.closeSubpath()
    return path


def _run(path: QPainterPath, segments: Iterable[Segment]) -> None:
    for s in segments:
        if isinstance(s, Cubic):
            path.cubicTo(s.c1.x, s.c1.y, s.c2.x, s.c2.y, s.end.x, s.end.y)
        else:
            path.lineTo(s.end.x, s.end.y)


def path_near(chain: Chain, near: Near | None) -> QPainterPath:
    """What of the chain lies there, and perhaps a little more; all of it when None."""
    if near is None:
        return kept_path(chain)
    path = QPainterPath()
    for row in near.stretches(chain):
        path.moveTo(row[0].start.x, row[0].start.y)
        _run(path, row)
        if len(row) == len(chain) and row[-1].end == row[0].start:
            path.closeSubpath()
    return path


def point_of(p: Point) -> QPointF:
    return QPointF(p.x, p.y)


@kept(most=2048)
def kept_path(chain: Chain) -> QPainterPath:
    """As `path_of`, remembered: not to be drawn on with."""
    return path_of(chain)
