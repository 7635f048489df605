"""Notches, holes, inner lines, grain line and writing, carried with the part they lie on."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property

from core.alter.contour import step_of
from core.alter.frame import Frame
from core.alter.inner_lines import alter_inner_line, each_point
from core.alter.model import Finding, Severity
from core.alter.redo import Redone
from core.alter.relocate import Relocation
from core.alter.zones import Zone, Zones
from core.curve import Affine, Chain, Point, Ring, Vector
from core.piece.model import ContourDart, Dart, Kind, Mark, Piece, Role

# A mark within this of the outline (mm) lies on it.
ON_OUTLINE = 2.0
# A notch of the cutting line lies within this (mm) of the stitching line.
WIDEST_ALLOWANCE = 60.0
# A mark within this of a dart's apex (mm) is the dart's own drill hole.
AT_APEX = 25.0
# The grain line keeps this distance (mm) from a hem that comes up to it.
GRAIN_CLEAR = 15.0

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
    def hem_darts(self) -> tuple[Dart, ...]:
        return tuple(d for d in self.piece.darts if d.on is Role.HEM)


def carry_marks(setting: MarkSetting) -> Carried:
    """Every mark of the piece: left, moved, made longer, cut back, or lost and named."""
    marks, findings = [], []
    grain_step = _grain_step(setting)
    for mark in setting.piece.marks:
        carried = _carried(setting, mark, grain_step)
        if carried is None:
            findings.append(_lost(setting.piece, mark))
            continue
        marks.append(carried)
        if isinstance(mark.geometry, Ring) and mark.kind is Kind.INNER:
            findings += _sticking_out(setting, carried)
    return Carried(tuple(marks), tuple(findings))


def _carried(setting: MarkSetting, mark: Mark, grain_step: Vector) -> Mark | None:
    if mark.kind is Kind.GRAIN:
        return _grain(setting, mark, grain_step)
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
    return alter_inner_line(setting.zones, mark)


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
    target = setting.zones.new_run.nearest(setting.zones.carried_point(foot.point)).point
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


def _grain_step(setting: MarkSetting) -> Vector:
    """How far the lower end of the grain line goes: down with the hem when it reaches into
    it, up when the new hem comes too near."""
    lines = [m.geometry for m in setting.piece.marks if m.kind is Kind.GRAIN]
    ends = [p for g in lines for p in _controls(g)]
    if not ends:
        return Vector(0.0, 0.0)
    low = max(ends, key=setting.frame.height)
    zones = setting.zones
    if zones.drop_at(low) > 0.0:
        reaches = zones.of(low) is Zone.HEM
        return setting.frame.down * (zones.drop_at(low) if reaches else 0.0)
    room = zones.height_above_new_hem(low) - GRAIN_CLEAR
    return setting.frame.down * min(0.0, max(room, zones.drop_at(low)))


def _grain(setting: MarkSetting, mark: Mark, step: Vector) -> Mark:
    """The grain line with its lower half moved along the grain, so that it stays true."""
    if step.norm == 0.0 or isinstance(mark.geometry, Point):
        return mark
    height = setting.frame.height
    all_points = [
        p for m in setting.piece.marks if m.kind is Kind.GRAIN for p in _controls(m.geometry)
    ]
    middle = (min(map(height, all_points)) + max(map(height, all_points))) / 2
    return replace(
        mark,
        geometry=each_point(mark.geometry, lambda p: p + step if height(p) > middle else p),
    )


def _controls(geometry: Ring | Chain | Point) -> tuple[Point, ...]:
    if isinstance(geometry, Point):
        return (geometry,)
    return tuple(p for s in geometry for p in s.controls)


def _one(kind: Kind) -> str:
    """The kind with its article."""
    word = kind.value
    return f"{'an' if word[0] in 'aeiou' else 'a'} {word}"


def _lost(piece: Piece, mark: Mark) -> Finding:
    at = anchor(mark)
    return Finding(
        Severity.LOOK,
        f"{piece.name}: {_one(mark.kind)} lay in the part that was taken away and is gone.",
        at,
    )


def _sticking_out(setting: MarkSetting, mark: Mark) -> Iterator[Finding]:
    """A closed line that reaches below the new hem cannot be cut back; it is named."""
    if any(setting.zones.of(p) is Zone.REMOVED for p in _controls(mark.geometry)):
        yield Finding(
            Severity.LOOK,
            f"{setting.piece.name}: {_one(mark.kind)} reaches into the part that was taken"
            " away. Move it up.",
            anchor(mark),
        )
