"""Notches, holes, inner lines, grain line and writing at a level."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property

from core.alter.inner_lines import each_point
from core.alter.level.contours import followed
from core.alter.level.darts import CarriedDart
from core.alter.level.fold_lines import bent_fold, ruled_anew
from core.alter.level.lines import crosses, larger_part, open_line
from core.alter.level.model import Level, Part
from core.alter.level.relay import Relaid
from core.alter.marks import (
    AT_APEX,
    ON_OUTLINE,
    RIGID,
    anchor,
    moved,
    named,
    of_contour,
)
from core.alter.model import Finding, Severity
from core.curve import Chain, Line, NearestPlace, Point, Ring, Vector
from core.curve.ends import with_ends
from core.piece.cutting import WIDEST_ALLOWANCE
from core.piece.model import ContourDart, Kind, Mark, Piece

# An end of an inner line within this (mm) of a seam ends on it.
TOUCHES = 1.0
# A fold line's arrow is no longer than this (mm) along the grain; it is moved whole.
ARROW = 25.0
# A closed shape that crosses by more than this (mm) is one to look at.
SMALL = 10.0


@dataclass(frozen=True)
class Carried:
    """The marks after the change, and what is to be told of them."""

    marks: tuple[Mark, ...]
    findings: tuple[Finding, ...]


@dataclass(frozen=True)
class Setting:
    """What the marks need to know: the piece, its lines before and after, its darts.

    `outer` is the cutting line around the sewn one, where the piece has both; `contours` are
    the contour darts after the change.
    """

    piece: Piece
    level: Level
    sewn: Relaid
    outer: Relaid | None
    darts: tuple[CarriedDart, ...]
    contours: tuple[ContourDart, ...] = ()

    @property
    def lines(self) -> tuple[Relaid, ...]:
        return (self.sewn,) if self.outer is None else (self.sewn, self.outer)

    @cached_property
    def grain_heights(self) -> tuple[float, float]:
        """The highest and the lowest point of the grain line, with its arrows."""
        lines = [m.geometry for m in self.piece.marks if m.kind is Kind.GRAIN]
        found = [self.level.frame.height(p) for g in lines for p in _controls(g)]
        return min(found), max(found)


def carry_marks(setting: Setting) -> Carried:
    """Every mark: left, moved, opened, cut, or lost and named."""
    marks: list[Mark] = []
    findings: list[Finding] = []
    vertices = 0
    for mark in setting.piece.marks:
        now = _carried(setting, mark)
        if now is not None:
            marks.append(now)
            findings += _told(setting, mark)
        elif mark.kind in (Kind.TURN_POINT, Kind.CURVE_POINT):
            vertices += 1
        else:
            findings.append(_lost(setting.piece, mark))
    if vertices:
        findings.append(_vertices_gone(setting.piece, vertices))
    return Carried(tuple(marks), tuple(findings))


def _carried(setting: Setting, mark: Mark) -> Mark | None:
    level = setting.level
    if mark.kind is Kind.GRAIN:
        return _grain(setting, mark)
    dart = next((d for d in setting.darts if _belongs(d, mark)), None)
    if dart is not None:
        return _of_dart(level, dart, mark)
    for was, now in zip(setting.piece.contours, setting.contours, strict=True):
        if of_contour(was, mark):
            return _of_contour(was, now, mark)
    if mark.kind in (Kind.TURN_POINT, Kind.CURVE_POINT):
        return _vertex(setting, mark)
    if mark.kind is Kind.NOTCH:
        return _notch(setting, mark)
    if isinstance(mark.geometry, Point) or mark.kind in RIGID or _is_arrow(level, mark):
        return _whole(level, mark)
    if isinstance(mark.geometry, Ring):
        return _closed(level, mark, mark.geometry)
    return _open(setting, mark, mark.geometry)


def _belongs(dart: CarriedDart, mark: Mark) -> bool:
    """Is the mark one of the dart's own lines, or the hole near its apex?"""
    if mark.shape in dart.before.shapes:
        return True
    return mark.kind is Kind.DRILL and anchor(mark).distance(dart.before.apex) < AT_APEX


def _of_dart(level: Level, dart: CarriedDart, mark: Mark) -> Mark:
    """The dart's hole goes with the apex; its lines are redrawn straight where it crosses."""
    before, after = dart.before, dart.after
    geometry = mark.geometry
    if isinstance(geometry, Point) or mark.shape not in before.shapes:
        return moved(mark, after.apex - before.apex)
    if not dart.crosses:
        return moved(mark, after.mouth[0] - before.mouth[0])
    steps = [
        (p, q - p)
        for p, q in zip((*before.mouth, before.apex), (*after.mouth, after.apex), strict=True)
    ]

    def carried(p: Point) -> Point:
        return p + min(steps, key=lambda s: s[0].distance(p))[1]

    lines = tuple(Line(carried(s.start), carried(s.end)) for s in geometry)
    return replace(mark, geometry=type(geometry)(lines))


def _of_contour(was: ContourDart, now: ContourDart, mark: Mark) -> Mark:
    """The contour dart's lines are redrawn to its corners; a hole goes with its corner."""

    def carried(p: Point) -> Point:
        return followed(was, now, p)

    if mark.shape not in was.shapes or isinstance(mark.geometry, Point):
        return moved(mark, carried(anchor(mark)) - anchor(mark))
    return replace(mark, geometry=each_point(mark.geometry, carried))


def _vertex(setting: Setting, mark: Mark) -> Mark | None:
    """A turn or curve point goes with its vertex; None when that is no longer there."""
    line = setting.outer or setting.sewn
    joint = setting.piece.vertex_marks.get(mark.shape)
    if joint is None:
        return _notch(setting, mark)
    place = line.before.nearest(joint).place
    if line.span_at(place) is not None:
        return None
    return moved(mark, line.point(place) - joint)


def _notch(setting: Setting, mark: Mark) -> Mark | None:
    """A notch stays on the line it is on, at the height to which it goes."""
    foot, line = min(
        ((line.before.nearest(p), line) for line in setting.lines for p in _feet(mark)),
        key=lambda found: found[0].distance,
    )
    if foot.distance > (ON_OUTLINE if setting.outer is None else WIDEST_ALLOWANCE):
        return _whole(setting.level, mark)
    if setting.level.part(foot.point) is Part.REMOVED:
        return None
    return moved(mark, line.point(foot.place) - foot.point)


def _feet(mark: Mark) -> tuple[Point, ...]:
    if isinstance(mark.geometry, Point):
        return (mark.geometry,)
    return (mark.geometry.start, mark.geometry.end)


def _is_arrow(level: Level, mark: Mark) -> bool:
    return mark.kind is Kind.FOLD and _extent(level, mark.geometry) < ARROW


def _extent(level: Level, geometry: Ring | Chain | Point) -> float:
    """How far along the grain a shape reaches, in mm."""
    heights = [level.frame.height(p) for p in _controls(geometry)]
    return max(heights) - min(heights)


def _whole(level: Level, mark: Mark) -> Mark | None:
    """A small mark goes with the part on which its middle lies; writing is never lost."""
    at = anchor(mark)
    if level.part(at) is Part.REMOVED and mark.kind not in (Kind.TEXT, Kind.ASIDE):
        return None
    return moved(mark, level.step_of(at))


def _closed(level: Level, mark: Mark, ring: Ring) -> Mark | None:
    """A closed line is never opened: it goes whole with its larger part."""
    match larger_part(level, ring):
        case Part.STAYS:
            return mark
        case Part.MOVES:
            return moved(mark, level.step)
    return None


def _open(setting: Setting, mark: Mark, chain: Chain) -> Mark | None:
    """An open line; its ends stay on the seams on which they lie."""
    level = setting.level
    now = open_line(level, mark)
    if now is None or not isinstance(now.geometry, Chain):
        return now
    now = _on_seams(setting, chain, now, now.geometry)
    return ruled_anew(level, mark, now)


def _on_seams(setting: Setting, chain: Chain, now: Mark, opened: Chain) -> Mark:
    """The opened line with its ends on the seams as they are trued."""
    first, last = _seam_step(setting, chain.start), _seam_step(setting, chain.end)
    if first.norm == last.norm == 0.0:
        return now
    segments = list(opened)
    segments[0] = with_ends(segments[0], segments[0].start + first, segments[0].end)
    segments[-1] = with_ends(segments[-1], segments[-1].start, segments[-1].end + last)
    return replace(now, geometry=Chain(tuple(segments)))


def _seam_step(setting: Setting, end: Point) -> Vector:
    """How far a redrawn seam goes aside under the end of a line that lies on it."""
    for line in setting.lines:
        foot = line.before.nearest(end)
        if foot.distance < TOUCHES and _redrawn(line, foot):
            return line.point(foot.place) - setting.level.point(foot.point)
    return Vector(0.0, 0.0)


def _redrawn(line: Relaid, foot: NearestPlace) -> bool:
    folded = line.level.part(foot.point) is Part.REMOVED
    return line.span_at(foot.place) is not None and not folded


def _grain(setting: Setting, mark: Mark) -> Mark:
    """The grain line with its lower half moved along the grain, so that it stays true.

    Its arrows stay as they are. An end that is folded out comes up to the line; a grain
    line that lies wholly in what is folded out comes up whole.
    """
    level = setting.level
    top, low = setting.grain_heights
    up, down = _rise(level, top), _rise(level, low)
    if level.part_at(top) is level.part_at(low) is Part.REMOVED:
        up = down
    if up == down or isinstance(mark.geometry, Point):
        return moved(mark, level.frame.down * down)
    above, below = level.frame.down * up, level.frame.down * down
    middle = (top + low) / 2

    def carried(p: Point) -> Point:
        return p + (below if level.frame.height(p) > middle else above)

    return replace(mark, geometry=each_point(mark.geometry, carried))


def _rise(level: Level, height: float) -> float:
    """By how much a point at that height goes down."""
    match level.part_at(height):
        case Part.STAYS:
            return 0.0
        case Part.MOVES:
            return level.by_mm
    return level.height - height


def _controls(geometry: Ring | Chain | Point) -> tuple[Point, ...]:
    if isinstance(geometry, Point):
        return (geometry,)
    return tuple(p for s in geometry for p in s.controls)


def _lost(piece: Piece, mark: Mark) -> Finding:
    return Finding(
        Severity.LOOK,
        f"{piece.name}: {named(mark)} lay in the part that is folded out and is gone.",
        anchor(mark),
    )


def _vertices_gone(piece: Piece, count: int) -> Finding:
    what = "a point that marked a vertex" if count == 1 else f"{count} points that marked vertices"
    return Finding(
        Severity.NOTE, f"{piece.name}: {what} of the redrawn seams went with the old seams."
    )


def _told(setting: Setting, mark: Mark) -> Iterator[Finding]:
    """What somebody should look at though it is still there."""
    level, name = setting.level, f"{setting.piece.name}: {named(mark)}"
    if isinstance(mark.geometry, Point) or mark.kind in (Kind.GRAIN, Kind.NOTCH, Kind.DART):
        return
    if any(mark.shape in d.before.shapes for d in setting.darts):
        return
    yield from bent_fold(level, mark, setting.piece.name)
    if isinstance(mark.geometry, Ring):
        if crosses(level, mark.geometry) and _extent(level, mark.geometry) > SMALL:
            yield Finding(
                Severity.LOOK,
                f"{name} crosses the line; it was not opened but went whole, with its larger part.",
                anchor(mark),
            )
    elif level.by_mm < 0.0 and mark.kind is Kind.INNER:
        ends = (mark.geometry.start, mark.geometry.end)
        if any(level.part(p) is Part.REMOVED for p in ends):
            yield Finding(
                Severity.LOOK,
                f"{name} ended in the part that is folded out and was cut.",
                anchor(mark),
            )
