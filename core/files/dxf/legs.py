"""An edited path in the file's own coordinates: legs between vertices, in unbroken runs."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from core.curve import Affine, Cubic, Point, Segment, Vector
from core.errors import FileError
from core.files.dxf.biarc import TOLERANCE, Step, as_steps
from core.files.dxf.paths import SAME_POINT, Path, widest
from core.files.edits import PathEdit

# Corresponding points of a shape that was moved as a whole agree this well, in mm.
MOVED_WHOLE = 1e-7
MOST_CHORDS = 10_000


@dataclass(frozen=True, slots=True)
class Leg:
    """From vertex to vertex, in file units.

    ``owner`` is the old step that it came from, ``first`` whether it is that step's first
    leg, ``kept`` whether nothing about it changed.
    """

    owner: int
    first: bool
    kept: bool
    step: Step


@dataclass(frozen=True, slots=True)
class Change:
    """What became of the segments of one old step that did not stay as it was, in mm."""

    owner: int
    old: tuple[Segment, ...]
    new: tuple[Segment, ...]


def changes(path: Path, edit: PathEdit, name: str) -> list[Change]:
    """The steps of the entity that the edit changes; FileError if it is of another path."""
    if not len(path.segments) == len(edit.old) == len(edit.new):
        raise FileError(
            f"{name}: an altered line no longer fits the one in the file. Open the file again."
        )
    changed = {
        owner
        for owner, old, new in zip(path.owners, edit.old, edit.new, strict=True)
        if len(new) != 1 or (new[0] is not old and new[0] != old)
    }
    gathered: dict[int, tuple[list[Segment], list[Segment]]] = {o: ([], []) for o in changed}
    for owner, old, new in zip(path.owners, edit.old, edit.new, strict=True):
        if owner in changed:
            gathered[owner][0].append(old)
            gathered[owner][1].extend(new)
    return [Change(owner, tuple(was), tuple(now)) for owner, (was, now) in gathered.items()]


def moved_whole(edit: PathEdit) -> Vector | None:
    """By how much the shape was moved, if it was moved as it is and nothing else."""
    if any(len(now) != 1 for now in edit.new):
        return None
    pairs = [(a, b) for a, (b,) in zip(edit.old, edit.new, strict=True)]
    by = pairs[0][1].start - pairs[0][0].start
    for a, b in pairs:
        if type(a) is not type(b):
            return None
        if any(
            (q - p - by).norm > MOVED_WHOLE for p, q in zip(a.controls, b.controls, strict=True)
        ):
            return None
    return by


def local_tolerance(to_mm: Affine) -> float:
    """The tolerance for arcs, in file units."""
    return TOLERANCE / widest(to_mm)


def legs(change: Change, to_mm: Affine, *, chords: float | None = None) -> list[Leg]:
    """The new legs of one step in file units; chords only, no longer than `chords`, if given."""
    back, tolerance = to_mm.inverse(), local_tolerance(to_mm)
    local = [s.mapped(back) for s in change.new]
    if chords is None:
        steps = as_steps(local, tolerance=tolerance)
    else:
        steps = _chords(local, tolerance, chords)
    return [Leg(change.owner, k == 0, False, s) for k, s in enumerate(steps)]


def _chords(segments: Sequence[Segment], tolerance: float, longest: float) -> list[Step]:
    out = []
    for s in segments:
        count = _chord_count(s, tolerance, longest) if isinstance(s, Cubic) else 1
        points = [s.start, *(s.at(k / count) for k in range(1, count)), s.end]
        out += [Step(a, b, 0.0) for a, b in pairwise(points) if a != b]
    return out


def _chord_count(s: Cubic, tolerance: float, longest: float) -> int:
    """How many chords at even parameters keep the tolerance and the length.

    A chord over h of the parameter is off by at most h^2 / 8 of the second derivative, which
    is largest at an end.
    """
    p, q, r, t = s.controls
    most = 6.0 * max(((p - q) + (r - q)).norm, ((q - r) + (t - r)).norm)
    count = max(math.sqrt(most / (8.0 * tolerance)), s.length() / longest)
    return min(max(math.ceil(count), 1), MOST_CHORDS)


def runs(found: Iterable[Leg], *, closed: bool, same: float) -> list[list[Leg]]:
    """The legs in unbroken runs; ends within `same` meet.

    In a closed path the last run goes on into the first one.
    """
    out = list(_unbroken(found, same))
    if closed and len(out) > 1 and meets(out[-1][-1].step.end, out[0][0].step.start, same):
        out[0] = out.pop() + out[0]
    return out


def _unbroken(found: Iterable[Leg], same: float) -> Iterator[list[Leg]]:
    run: list[Leg] = []
    for leg in found:
        if run and not meets(run[-1].step.end, leg.step.start, same):
            yield run
            run = []
        run.append(leg)
    if run:
        yield run


def meets(a: Point, b: Point, same: float) -> bool:
    """Are the two points the same?"""
    return a == b or a.distance(b) <= same


def local_same(to_mm: Affine) -> float:
    """How near two ends must be to be the same point, in file units."""
    return SAME_POINT / widest(to_mm)
