"""Notches, holes, inner lines, grain line and writing, carried with the part they lie on."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property

from core.alter.contour import step_of
from core.alter.edge_lines import EdgeSeen, edge_line
from core.alter.frame import Frame
from core.alter.inner_lines import alter_inner_line, each_point, stretches_left
from core.alter.model import Finding, Severity
from core.alter.redo import Redone
from core.alter.relocate import Relocation
from core.alter.zones import Zone, Zones
from core.curve import Affine, Chain, Point, Ring, Vector
from core.kept import kept
from core.piece.cutting import WIDEST_ALLOWANCE
from core.piece.model import ContourDart, Dart, Kind, Mark, Piece, Role

# A mark within this of the outline (mm) lies on it.
ON_OUTLINE = 2.0
# A mark within this of a dart's apex (mm) is the dart's own drill hole.
AT_APEX = 25.0
# The grain line keeps this distance (mm) from a hem that comes up to it.
GRAIN_CLEAR = 15.0
# With less than this share of it left, a grain line is moved up whole instead of cut back.
LEAST_GRAIN = 0.3

RIGID = {Kind.DRILL, Kind.CUTOUT, Kind.TEXT, Kind.ASIDE, Kind.DART}


@dataclass(frozen=True)
class Carried:
    """The marks after the change, and what is to be told of them."""

    marks: tuple[Mark, ...]
    findings: tuple[Finding, ...]


@dataclass(frozen=True)
class MarkSetting:
    """What the marks need to know of the change: piece, frame, and the redone outlines.

    `outer` is the cutting line around the sewn one, where the piece has both.
    """

    piece: Piece
    frame: Frame
    done: Redone
    outer: Redone | None = None

    @cached_property
    def zones(self) -> Zones:
        return Zones(self.frame, self.done)

    @cached_property
    def outline_joints(self) -> Relocation:
        return Relocation(self.piece.outline.ring, self.outer or self.done)

    @cached_property
    def outlines(self) -> tuple[EdgeSeen, ...]:
        """The outlines along which a line may be drawn, the one by which it is cut first."""
        sewn = EdgeSeen(self.piece.ring, self.done)
        if self.outer is None:
            return (sewn,)
        return EdgeSeen(self.piece.outline.ring, self.outer), sewn

    @cached_property
    def hem_darts(self) -> tuple[Dart, ...]:
        return tuple(d for d in self.piece.darts if d.on is Role.HEM)


def carry_marks(setting: MarkSetting) -> Carried:
    """Every mark of the piece: left, moved, made longer, cut back, or lost and named."""
    marks: list[Mark] = []
    lost: list[Mark] = []
    findings: list[Finding] = []
    grain = _grain_moves(setting)
    for mark in setting.piece.marks:
        carried = _carried(setting, mark, grain)
        if carried is None:
            lost.append(mark)
            continue
        marks.append(carried)
        findings += _not_whole(setting, mark, carried)
    return Carried(tuple(marks), (*_lost(setting.piece, lost), *findings))


def _carried(setting: MarkSetting, mark: Mark, grain: _GrainMoves) -> Mark | None:
    if mark.kind is Kind.GRAIN:
        return _grain(setting, mark, grain)
    dart = next((d for d in setting.hem_darts if _belongs(d, mark)), None)
    if dart is not None:
        return _with_dart(setting, dart, mark)
    contour = next((d for d in setting.piece.contours if of_contour(d, mark)), None)
    if contour is not None:
        return moved(mark, step_of(setting.zones, contour))
    if mark.kind in (Kind.TURN_POINT, Kind.CURVE_POINT):
        return _vertex(setting, mark)
    if mark.kind is Kind.NOTCH:
        return _on_outline(setting, mark)
    if mark.kind in RIGID or isinstance(mark.geometry, Ring | Point):
        return _whole(setting, mark)
    if setting.zones.clear_of(mark.geometry):
        return mark
    along = edge_line(setting.outlines, mark.geometry)
    return alter_inner_line(setting.zones, mark) if along is None else along.carried(mark)


def _belongs(dart: Dart, mark: Mark) -> bool:
    """Is the mark one of the dart's own lines, or the hole near its apex?"""
    if mark.shape in dart.shapes:
        return True
    return mark.kind is Kind.DRILL and anchor(mark).distance(dart.apex) < AT_APEX


def of_contour(dart: ContourDart, mark: Mark) -> bool:
    """Is the mark one of the contour dart's own lines, or a hole near one of its points?"""
    if mark.shape in dart.shapes:
        return True
    at = anchor(mark)
    return mark.kind is Kind.DRILL and min(map(at.distance, dart.corners)) < AT_APEX


def _with_dart(setting: MarkSetting, dart: Dart, mark: Mark) -> Mark:
    """A line or hole of a hem dart: moved whole, or drawn out from an apex that stays."""
    step, apex = _dart_step(setting, dart), dart.apex
    if not setting.done.keeps_apexes:
        return moved(mark, step)
    depth = dart.mouth[0].towards(dart.mouth[1], 0.5).distance(apex)

    def drawn_out(p: Point) -> Point:
        return p.moved(step, min(1.0, p.distance(apex) / depth) if depth else 1.0)

    if isinstance(mark.geometry, Point):
        return replace(mark, geometry=drawn_out(mark.geometry))
    if mark.kind is not Kind.DART:
        return moved(mark, drawn_out(anchor(mark)) - anchor(mark))
    return replace(mark, geometry=each_point(mark.geometry, drawn_out))


def _dart_step(setting: MarkSetting, dart: Dart) -> Vector:
    middle = dart.mouth[0].towards(dart.mouth[1], 0.5)
    return setting.done.redrawn.where.point(middle) - middle


def anchor(mark: Mark) -> Point:
    """The one point that tells on which part of the piece a small mark lies."""
    return mark.geometry if isinstance(mark.geometry, Point) else mark.geometry.bounds().centre


def moved(mark: Mark, step: Vector) -> Mark:
    """The mark moved whole; the very same one for no step."""
    if step.norm == 0.0:
        return mark
    if isinstance(mark.geometry, Point):
        return replace(mark, geometry=mark.geometry + step)
    return replace(mark, geometry=mark.geometry.mapped(Affine.move(step.x, step.y)))


def _vertex(setting: MarkSetting, mark: Mark) -> Mark | None:
    """A turn or curve point goes where the vertex goes that it marks."""
    joint = setting.piece.vertex_marks.get(mark.shape)
    if joint is None:
        return _on_outline(setting, mark)
    target = setting.outline_joints.point(joint)
    if target == joint and not setting.outline_joints.stands(joint):
        return None
    return moved(mark, target - joint)


def _on_outline(setting: MarkSetting, mark: Mark) -> Mark | None:
    """A notch stays on the line it is on."""
    ring = setting.piece.ring
    foot = min((ring.nearest(p) for p in _feet(mark)), key=lambda n: n.distance)
    if foot.distance > (ON_OUTLINE if setting.outer is None else WIDEST_ALLOWANCE):
        return _whole(setting, mark)
    zone = setting.zones.of_outline(foot.point)
    if zone is Zone.ABOVE:
        return mark
    if zone is Zone.REMOVED:
        return None
    target = setting.zones.new_run.nearest(setting.zones.carried_on_run(foot.point)).point
    return moved(mark, target - foot.point)


def _feet(mark: Mark) -> tuple[Point, ...]:
    if isinstance(mark.geometry, Point):
        return (mark.geometry,)
    return (mark.geometry.start, mark.geometry.end)


def _whole(setting: MarkSetting, mark: Mark) -> Mark | None:
    at = anchor(mark)
    zone = setting.zones.of(at)
    if zone is Zone.ABOVE:
        return mark
    if zone is Zone.REMOVED and mark.kind not in (Kind.TEXT, Kind.ASIDE):
        return None
    # Writing says something about the whole piece: it comes up instead of being lost.
    return moved(mark, setting.zones.carried_point(at) - at)


@dataclass(frozen=True)
class _GrainMoves:
    """How far the lower half of the grain line goes, what lies below ``middle``, and how far
    the upper half."""

    lower: Vector
    upper: Vector
    middle: float


def _grain_moves(setting: MarkSetting) -> _GrainMoves:
    """The grain line's lower end goes down with the hem when it reaches into it, and up when
    the new hem comes too near; too little left of it, and the whole line goes up."""
    stays = Vector(0.0, 0.0)
    down, zones = setting.frame.down, setting.zones
    grain = _grain_drawn(setting.piece, down)
    if grain is None:
        return _GrainMoves(stays, stays, 0.0)
    low, long, middle = grain
    drop = zones.drop_at(low)
    if drop > 0.0:
        reaches = zones.of(low) is Zone.HEM
        return _GrainMoves(down * drop if reaches else stays, stays, middle)
    step = min(0.0, max(zones.height_above_new_hem(low) - GRAIN_CLEAR, drop))
    if long + step < LEAST_GRAIN * long:
        return _GrainMoves(down * step, down * step, middle)
    return _GrainMoves(down * step, stays, middle)


# A drag asks for that of the same few pieces in each of its frames.
@kept(most=256)
def _grain_drawn(piece: Piece, down: Vector) -> tuple[Point, float, float] | None:
    """Of all grain lines the lowest point, the length, and the height of the middle."""
    height = Frame(down).height
    lines = [m.geometry for m in piece.marks if m.kind is Kind.GRAIN]
    ends = [p for g in lines for p in _controls(g)]
    if not ends:
        return None
    low = max(ends, key=height)
    top = min(map(height, ends))
    return low, height(low) - top, top + (height(low) - top) / 2


def _grain(setting: MarkSetting, mark: Mark, moves: _GrainMoves) -> Mark:
    """The grain line with its halves moved along the grain, so that it stays true."""
    if moves.lower.norm == 0.0 or isinstance(mark.geometry, Point):
        return mark
    height = setting.frame.height
    return replace(
        mark,
        geometry=each_point(
            mark.geometry, lambda p: p + (moves.lower if height(p) > moves.middle else moves.upper)
        ),
    )


def _controls(geometry: Ring | Chain | Point) -> tuple[Point, ...]:
    if isinstance(geometry, Point):
        return (geometry,)
    return tuple(p for s in geometry for p in s.controls)


def named(mark: Mark) -> str:
    """What a mark is, with its article: its kind, and what the file calls an inner line."""
    word = mark.kind.value
    called = f" ({mark.called})" if mark.called else ""
    return f"{'an' if word[0] in 'aeiou' else 'a'} {word}{called}"


def _lost(piece: Piece, marks: list[Mark]) -> Iterator[Finding]:
    """Each lost mark by itself; points that mark vertices of the outline together."""
    for kind in (Kind.TURN_POINT, Kind.CURVE_POINT):
        count = sum(m.kind is kind for m in marks)
        if count > 1:
            yield _gone(piece, f"{count} {kind.value}s", "are")
        marks = [m for m in marks if m.kind is not kind or count == 1]
    for mark in marks:
        yield _gone(piece, named(mark), "is", anchor(mark))


def _gone(piece: Piece, what: str, verb: str, at: Point | None = None) -> Finding:
    sentence = f"{piece.name}: {what} lay in the part that was taken away and {verb} gone."
    return Finding(Severity.LOOK, sentence, at)


def _not_whole(setting: MarkSetting, mark: Mark, now: Mark) -> Iterator[Finding]:
    """What is still there but reaches below the new hem, or is only partly there."""
    geometry = mark.geometry
    if isinstance(geometry, Point) or mark.kind in (Kind.TEXT, Kind.ASIDE, Kind.GRAIN, Kind.NOTCH):
        return
    if now is mark and setting.zones.clear_of(geometry):
        return
    name, at = f"{setting.piece.name}: {named(mark)}", anchor(mark)
    if now is mark:
        if any(setting.zones.beyond_new_hem(p) for p in _along(geometry)):
            sentence = f"{name} reaches into the part that was taken away. Move it up."
            yield Finding(Severity.LOOK, sentence, at)
    elif now.numbers is not None and len(stretches_left(setting.zones, geometry)) > 1:
        sentence = f"{name} crosses the new hem several times; only its longest part is left."
        yield Finding(Severity.LOOK, sentence, at)


def _along(chain: Chain) -> Iterator[Point]:
    return (s.at(t) for s in chain for t in (0.0, 0.25, 0.5, 0.75, 1.0))
