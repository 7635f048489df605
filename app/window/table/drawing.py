"""Drawing a piece the way the trade draws it. The painter is in mm; pens are in pixels."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QPainter, QPainterPath, QPen, QPolygonF

from app.window import theme
from app.window.document import UNSEEN, EdgeId
from app.window.table.holds import Part, holds_of
from app.window.table.levels import BEYOND, beyond
from app.window.table.near import Near
from app.window.table.paths import kept_path, path_near, path_of, point_of
from app.window.table.rect import Rect
from app.window.table.sights import Sight
from core.curve import Chain, Point, Vector
from core.piece.model import Dart, Kind, Mark

NO_BRUSH = Qt.BrushStyle.NoBrush
# Sizes in pixels.
OUTLINE = 1.5
DRILL, NOTCH, TAPER, ARROW, PLACE = 3.5, 8.0, 6.0, 8.0, 14.0
SEAM_END = 4.5


def set_pen(
    painter: QPainter, colour: str, width: float = 1.0, *, dashes: tuple[float, ...] = ()
) -> None:
    """A pen that stays as wide on the screen at any zoom, and on a screen of any sharpness: Qt
    counts such widths in the screen's own dots.
    """
    painter.setPen(pen(colour, width * painter.device().devicePixelRatioF(), dashes=dashes))


# A drag asks for the same few in each of its frames; whoever is given one only sets it.
@lru_cache(maxsize=128)
def pen(colour: str, dots: float, *, dashes: tuple[float, ...] = ()) -> QPen:
    """As many dots of the screen wide at any zoom; dashes are counted in widths."""
    made = QPen(QColor(colour), dots)
    made.setCosmetic(True)
    made.setCapStyle(Qt.PenCapStyle.RoundCap)
    made.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    if dashes:
        made.setCapStyle(Qt.PenCapStyle.FlatCap)
        made.setDashPattern(list(dashes))
    return made


def draw_sights(
    painter: QPainter,
    sights: Sequence[Sight],
    selected: EdgeId | None,
    px: float,
    near: Near | None = None,
) -> None:
    """All that is to be seen of all pieces; `px` is the size of a pixel in mm.

    With `near` the painter is clipped to that, so what lies elsewhere may be left out.
    """
    for sight in sights:
        draw_band(painter, sight)
        draw_piece(painter, sight, px, near)
        if selected and selected.piece == sight.which:
            draw_selected(painter, sight, selected.number)
        draw_level(painter, sight, px)
        draw_seams(painter, sight)
    for hold in holds_of(sights):
        if hold.part is Part.SEAM_END:
            _draw_seam_end(painter, hold.at, px)
    draw_tapers(painter, sights, px, near)
    for sight in sights:
        _draw_added(painter, sight, px)


def _draw_added(painter: QPainter, sight: Sight, px: float) -> None:
    """Notches that the change adds: over the taper point at which they stand, and past it."""
    for mark in sight.now.marks:
        if mark.is_added and isinstance(mark.geometry, Chain):
            set_pen(painter, theme.look().ink, 2)
            a, b = mark.geometry.start + sight.spot, mark.geometry.end + sight.spot
            way = (b - a).unit() * (TAPER * 1.8 * px)
            painter.drawLine(point_of(a.moved(way, -1.0)), point_of(b + way))


def _draw_seam_end(painter: QPainter, p: Point, px: float) -> None:
    """A small ring to take hold of."""
    set_pen(painter, theme.look().blue, 2)
    painter.setBrush(QColor(theme.look().sheet))
    painter.drawEllipse(point_of(p), SEAM_END * px, SEAM_END * px)


def draw_piece(painter: QPainter, sight: Sight, px: float, near: Near | None = None) -> None:
    """Outline, stitching line, darts, marks, grain; `px` is the size of a pixel in mm."""
    painter.save()
    painter.translate(sight.spot.x, sight.spot.y)
    takes_part = sight.altered is not None
    ink = theme.look().blue if takes_part else theme.look().quiet
    here = None if near is None else near.at(sight.spot)
    # Under a size that is led lies a larger one, which is tinted for both.
    _draw_outline(painter, sight, ink, here, filled=takes_part and not sight.led)
    for mark in sight.plain_marks:
        if here is None or here.holds(mark.geometry):
            _draw_mark(painter, mark, px)
    _draw_notches(painter, sight, px)
    for dart in sight.now.darts:
        _draw_dart(painter, dart, ink, 0.0 if sight.drilled(dart) else px)
    if sight.grain_line is not None and (here is None or here.holds(sight.grain_line)):
        _draw_grain(painter, sight.grain_line, px)
    painter.restore()


def _draw_outline(
    painter: QPainter, sight: Sight, ink: str, here: Near | None, *, filled: bool
) -> None:
    ring = sight.now.outline.ring
    if filled:
        # The line covers the steps of its edge, and unsmoothed it is three times as fast.
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
        painter.fillPath(kept_path(ring), theme.look().wash)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    set_pen(painter, ink, OUTLINE)
    painter.setBrush(NO_BRUSH)
    painter.drawPath(path_near(ring, here))
    if sight.now.stitching is not None:
        # Its dashes are counted from its start, so it is drawn whole.
        set_pen(painter, ink, dashes=(4, 3))
        painter.drawPath(kept_path(sight.now.stitching.ring))


def _draw_mark(painter: QPainter, mark: Mark, px: float) -> None:
    """Lines as they were drawn; a point as a small cross, a drill hole as a circle.

    Writing is set among the labels, so that it covers nothing.
    """
    if mark.kind is Kind.TEXT or mark.kind in UNSEEN:
        return
    painter.setBrush(NO_BRUSH)
    set_pen(painter, theme.look().ink, dashes=(6, 3) if mark.kind is Kind.INNER else ())
    if isinstance(mark.geometry, Chain):
        painter.drawPath(kept_path(mark.geometry))
    elif mark.kind is Kind.DRILL:
        _draw_drill(painter, mark.geometry, px)
    elif mark.kind is not Kind.NOTCH:
        _draw_cross(painter, mark.geometry, px)


def _draw_notches(painter: QPainter, sight: Sight, px: float) -> None:
    """Those that the file gives as points: a short line into the piece."""
    if sight.notches:
        set_pen(painter, theme.look().ink)
    for p, inward in sight.notches:
        painter.drawLine(point_of(p), point_of(p.moved(inward, NOTCH * px)))


def _draw_drill(painter: QPainter, p: Point, px: float) -> None:
    painter.drawEllipse(point_of(p), DRILL * px, DRILL * px)


def _draw_cross(painter: QPainter, p: Point, px: float) -> None:
    r = DRILL * px
    painter.drawLine(QLineF(p.x - r, p.y - r, p.x + r, p.y + r))
    painter.drawLine(QLineF(p.x - r, p.y + r, p.x + r, p.y - r))


def _draw_dart(painter: QPainter, dart: Dart, ink: str, px: float) -> None:
    """Both legs to the apex, and the drill circle just short of it; none with `px` 0."""
    set_pen(painter, ink)
    painter.setBrush(NO_BRUSH)
    a, b = dart.mouth
    painter.drawPolyline(QPolygonF([point_of(p) for p in (a, dart.apex, b)]))
    back = a.towards(b, 0.5) - dart.apex
    if back.norm > 0.0 and px > 0.0:
        _draw_drill(painter, dart.apex.moved(back.unit(), 2 * DRILL * px), px)


def _draw_grain(painter: QPainter, line: Chain, px: float) -> None:
    """The line with an arrowhead at both ends."""
    set_pen(painter, theme.look().ink)
    painter.setBrush(NO_BRUSH)
    painter.drawPath(kept_path(line))
    run = line.end - line.start
    if run.norm > 0.0:
        _draw_head(painter, line.end, run.unit(), px)
        _draw_head(painter, line.start, -run.unit(), px)


def _draw_head(painter: QPainter, tip: Point, ahead: Vector, px: float) -> None:
    sides = [tip.moved(ahead.turned(turn), -ARROW * px) for turn in (0.4, -0.4)]
    painter.drawPolyline(QPolygonF([point_of(p) for p in (sides[0], tip, sides[1])]))


def draw_band(painter: QPainter, sight: Sight) -> None:
    """What was put in at a level, tinted; what was folded out, hatched on the piece as it was."""
    if len(sight.level_lines) < 2:
        return
    (a, b), (c, d) = sight.level_lines
    folded = sight.altered is not None and sight.altered.change.by_mm < 0.0
    painter.save()
    painter.translate(sight.spot.x, sight.spot.y)
    painter.setClipPath(kept_path((sight.before if folded else sight.now).outline.ring))
    brush = QBrush(QColor(theme.look().orange) if folded else theme.look().band)
    if folded:
        brush.setStyle(Qt.BrushStyle.BDiagPattern)
        brush.setTransform(painter.worldTransform().inverted()[0])
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(brush)
    painter.drawPolygon(QPolygonF([point_of(p) for p in (a, b, d, c)]))
    painter.restore()


def draw_level(painter: QPainter, sight: Sight, px: float) -> None:
    """The level across the piece, a little beyond both its sides; the other edge in dots."""
    if not sight.level_lines:
        return
    painter.save()
    painter.translate(sight.spot.x, sight.spot.y)
    for k, ends in enumerate(sight.level_lines):
        set_pen(painter, theme.look().blue, dashes=(10, 3, 2, 3) if k == 0 else (3, 3))
        a, b = beyond(ends, BEYOND * px)
        painter.drawLine(point_of(a), point_of(b))
    painter.restore()


def draw_seams(painter: QPainter, sight: Sight) -> None:
    """What was carried on of the seams, heavier; what was cut off of them, in dashes."""
    if not sight.differs:
        return
    painter.save()
    painter.translate(sight.spot.x, sight.spot.y)
    painter.setBrush(NO_BRUSH)
    set_pen(painter, theme.look().orange, 2.5, dashes=(2, 2) if sight.shortened else ())
    for chain in sight.seams:
        painter.drawPath(path_of(chain))
    painter.restore()


def draw_tapers(
    painter: QPainter, sights: Sequence[Sight], px: float, near: Near | None = None
) -> None:
    """A diamond where each fit line stops."""
    set_pen(painter, theme.look().green, 2)
    painter.setBrush(QColor(theme.look().sheet))
    r = TAPER * px
    diamond = QPolygonF([QPointF(x, y) for x, y in ((0.0, -r), (r, 0.0), (0.0, r), (-r, 0.0))])
    for sight in sights:
        for taper in sight.tapers if sight.altered is not None else ():
            x, y = taper.x + sight.spot.x, taper.y + sight.spot.y
            if near is None or near.touches(Rect(x - r, y - r, x + r, y + r)):
                painter.drawPolygon(diamond.translated(x, y))


def draw_selected(painter: QPainter, sight: Sight, edge: int) -> None:
    """The selected edge, heavy."""
    now = sight.now
    if edge >= len(now.edges):
        return
    path: QPainterPath = path_of(now.edge_chain(now.edges[edge]))
    painter.save()
    painter.translate(sight.spot.x, sight.spot.y)
    painter.setBrush(NO_BRUSH)
    set_pen(painter, theme.look().blue, 4)
    painter.drawPath(path)
    painter.restore()


def draw_place(painter: QPainter, p: Point, px: float) -> None:
    """A ring with a question mark beside it, round the place that a finding speaks of."""
    set_pen(painter, theme.look().vermilion, 2)
    painter.setBrush(NO_BRUSH)
    r = PLACE * px
    painter.drawEllipse(point_of(p), r, r)
    # Text is drawn in pixels, or a mm would be its size.
    painter.save()
    at = painter.worldTransform().map(QPointF(p.x + 0.8 * r, p.y - 0.8 * r))
    painter.resetTransform()
    painter.setFont(theme.type_of(15, bold=True))
    painter.drawText(QRectF(at.x(), at.y() - 18, 18, 18), Qt.AlignmentFlag.AlignCenter, "?")
    painter.restore()
