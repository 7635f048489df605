"""Our curves as Qt's. Each chain is turned once; a drag keeps most of what it shows."""

from __future__ import annotations

from PySide6.QtCore import QPointF
from PySide6.QtGui import QPainterPath

from core.curve import Chain, Cubic, Point, Ring
from core.kept import kept


def path_of(chain: Chain) -> QPainterPath:
    """The chain in mm; closed when it is a ring."""
    path = QPainterPath(point_of(chain.start))
    for s in chain:
        if isinstance(s, Cubic):
            path.cubicTo(s.c1.x, s.c1.y, s.c2.x, s.c2.y, s.end.x, s.end.y)
        else:
            path.lineTo(s.end.x, s.end.y)
    if isinstance(chain, Ring):
        path.closeSubpath()
    return path


def point_of(p: Point) -> QPointF:
    return QPointF(p.x, p.y)


@kept(most=512)
def kept_path(chain: Chain) -> QPainterPath:
    """As `path_of`, remembered: not to be drawn on with."""
    return path_of(chain)
