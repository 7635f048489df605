"""Which part of an outline is the hem, and where the fit lines of its seams stop."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from core.curve import Line, Place, Ring, Vector
from core.kept import kept
from core.piece.corners import outward_sign
from core.piece.darts import plain_corners
from core.piece.direction import has_length
from core.piece.hem_cuts import FACES, HIGHEST
from core.piece.model import Dart, HemRun
from core.piece.taper import find_taper

# Sampling of the outline for finding the stretch that faces down, in mm.
STEP = 2.0
MOST_SAMPLES = 4000
# A hem spans at least this share of the piece's width and ends in its lowest part.
LEAST_SPAN = 0.3


@dataclass(frozen=True)
class Profile:
    """The ring sampled evenly: segment numbers and t, heights, widths, and how far it faces the
    hem."""

    segments: NDArray[np.intp]
    ts: NDArray[np.float64]
    heights: NDArray[np.float64]
    widths: NDArray[np.float64]
    facing: NDArray[np.float64]

    def __len__(self) -> int:
        return len(self.ts)

    def place(self, k: int) -> Place:
        """Where sample k lies."""
        return Place(int(self.segments[k]), float(self.ts[k]))


def profile(ring: Ring, down: Vector, darts: Sequence[Dart]) -> Profile:
    """Samples of the ring outside its darts, about STEP mm apart."""
    mouths = tuple(d for d in darts if d.mouth_places is not None)
    segments, ts, (x, y, dx, dy) = _samples(ring, mouths)
    facing = (dy * down.x - dx * down.y) * outward_sign(ring)
    return Profile(segments, ts, x * down.x + y * down.y, x * down.y - y * down.x, facing)


# The grain and the hem ask for the same outline, one after the other.
@kept(most=4)
def _samples(
    ring: Ring, darts: tuple[Dart, ...]
) -> tuple[NDArray[np.intp], NDArray[np.float64], NDArray[np.float64]]:
    """Segment number and t of each sample, and x, y and the direction there as rows (4, n)."""
    step = max(STEP, ring.length() / MOST_SAMPLES)
    lengths = np.array([s.length() for s in ring.segments])
    counts = np.maximum(1, np.ceil(lengths / step)).astype(np.intp)
    if darts:
        counts[[_in_dart(k, darts, len(ring)) for k in range(len(ring))]] = 0
    of = np.repeat(np.arange(len(ring)), counts)
    first = np.cumsum(counts) - counts
    ts = (np.arange(len(of)) - first[of] + 0.5) / counts[of]
    rows = _on_lines(ring, lengths, of, ts)
    for k, s in enumerate(ring.segments):
        if not isinstance(s, Line):
            there = slice(int(first[k]), int(first[k] + counts[k]))
            rows[:, there] = np.concatenate((s.points(ts[there]).T, s.tangents(ts[there]).T))
    return of, ts, rows


def _on_lines(
    ring: Ring, lengths: NDArray[np.float64], of: NDArray[np.intp], ts: NDArray[np.float64]
) -> NDArray[np.float64]:
    """x, y and the unit direction at each t, as if all segments were straight; shape (4, n)."""
    ends = np.array([(s.start.x, s.start.y, s.end.x, s.end.y) for s in ring.segments], dtype=float)
    start, along = ends[:, :2].T, (ends[:, 2:] - ends[:, :2]).T
    # A line without length has no direction: the null vector.
    unit = along / np.where(lengths > 0.0, lengths, 1.0)
    return np.concatenate((start[:, of] + ts * along[:, of], unit[:, of]))


def _in_dart(k: int, darts: Sequence[Dart], size: int) -> bool:
    """Does segment k belong to a leg of an outline dart?"""
    return any(
        (k - d.mouth_places[0].index) % size
        < (d.mouth_places[1].index - d.mouth_places[0].index) % size
        for d in darts
        if d.mouth_places is not None
    )


def find_hem(
    ring: Ring, down: Vector, corners: Sequence[int], darts: Sequence[Dart]
) -> HemRun | None:
    """The hem run of a piece whose grain points `down`; None when nothing faces the hem."""
    seen = profile(ring, down, darts)
    middle = _middle_of_hem(seen)
    return None if middle is None else hem_around(ring, down, corners, darts, middle)


def hem_around(
    ring: Ring, down: Vector, corners: Sequence[int], darts: Sequence[Dart], middle: Place
) -> HemRun | None:
    """The hem run that holds `middle`, from taper point to taper point."""
    mouths = {d.mouth_places[0].index: d.mouth_places[1].index for d in darts if d.mouth_places}
    size = len(ring)
    plain = frozenset(plain_corners(corners, darts, size))
    forward = find_taper(ring, down, plain, mouths, middle)
    turned = ring.reversed()
    back = find_taper(
        turned,
        down,
        frozenset(_leaving(turned, (size - k) % size) for k in plain),
        {(size - b) % size: (size - a) % size for a, b in mouths.items()},
        _flipped(middle, size),
    )
    if forward is None or back is None:
        return None
    first = replace(back, place=_flipped(back.place, size))
    # Of a damaged outline both seams may end in the same point: then nothing lies between them.
    return HemRun(first, forward) if first.place != forward.place else None


def _leaving(ring: Ring, k: int) -> int:
    """The segment by which the ring leaves joint k: the first one that has a length."""
    size = len(ring)
    onward = ((k + n) % size for n in range(size))
    return next((j for j in onward if has_length(ring.segments[j])), k)


def _flipped(place: Place, size: int) -> Place:
    """A place on the ring run the other way; a joint is the start of its segment."""
    k, t = size - 1 - place.index, 1.0 - place.t
    return Place((k + 1) % size, 0.0) if t >= 1.0 else Place(k, t)


def _middle_of_hem(seen: Profile) -> Place | None:
    """The middle of the widest stretch that faces down and lies in the lowest part."""
    if len(seen) == 0:
        return None
    span = float(np.ptp(seen.widths))
    low, high = float(np.max(seen.heights)), float(np.min(seen.heights))
    best, best_score = None, 0.0
    for run, widest in _with_cuts(seen):
        width = float(np.ptp(seen.widths[run])) / span if span > 0.0 else 0.0
        depth = (float(np.mean(seen.heights[run])) - high) / (low - high)
        # A low narrow tip (crotch point, vent) must not win over the hem a little above it.
        score = width * max(0.0, depth - 0.4)
        if width >= LEAST_SPAN and score > best_score:
            best, best_score = seen.place(widest[len(widest) // 2]), score
    return best


def _with_cuts(seen: Profile) -> Iterator[tuple[list[int], list[int]]]:
    """The stretches that face down, those on both sides of a cut in the hem taken together.

    With each the widest of its parts.
    """
    groups: list[list[list[int]]] = []
    for run in _runs(seen.facing > FACES):
        if groups and _is_cut(seen, groups[-1][-1], run):
            groups[-1].append(run)
        else:
            groups.append([run])
    # The listing of the outline may begin within a cut.
    if len(groups) > 1 and _is_cut(seen, groups[-1][-1], groups[0][0]):
        groups[0] = [*groups.pop(), *groups[0]]
    for parts in groups:
        widest = max(parts, key=lambda r: float(np.ptp(seen.widths[r])))
        yield [k for part in parts for k in part], widest


def _is_cut(seen: Profile, before: Sequence[int], after: Sequence[int]) -> bool:
    """Is what lies between two stretches that face down low enough for a cut in the hem?"""
    size = len(seen)
    ahead = (after[0] - before[-1]) % size
    gap = [(before[-1] + k) % size for k in range(ahead + 1)]
    return float(np.ptp(seen.heights[gap])) <= HIGHEST * float(np.ptp(seen.heights))


def _runs(mask: NDArray[np.bool_]) -> Iterator[list[int]]:
    """Cyclic runs of True, as lists of indices in order."""
    size = len(mask)
    if bool(mask.all()):
        yield list(range(size))
        return
    first = int(np.argmin(mask))
    for yes, group in itertools.groupby(range(first, first + size), lambda k: bool(mask[k % size])):
        if yes:
            yield [k % size for k in group]
