"""Both lines before and after the change, laid out in the direction of the cutting line."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from core.alter.redo import Redone
from core.alter.refit import Ends
from core.alter.seam import SLIVER
from core.alter.strand import Strand, chain_of, open_at_tapers
from core.curve import Chain, Place, Point, Vector
from core.curve.ends import with_ends
from core.piece.model import Piece

# A stretch of seam shorter than this (mm) is rounding.
ROUNDING = 1e-6


@dataclass(frozen=True)
class SeamView:
    """One seam of the stitching line, running down to its taper point, before and after.

    `old_hem` and `new_hem` are the directions in which the hem leaves it there. `added` is
    the part that was carried on; None when it was cut back or stayed. `old_drawn` and `new_drawn`
    are the directions of the last line that was drawn, on a digitised seam others than its own.
    """

    old_end: Point
    new_end: Point
    old_down: Vector
    new_down: Vector
    old_hem: Vector
    new_hem: Vector
    added: Chain | None
    shortened: bool
    old_drawn: Vector
    new_drawn: Vector


@dataclass(frozen=True)
class Views:
    """The cutting line from the top down one seam, along the hem run and up the other; the
    stitching line's hem run beside it; and the two seams in that order."""

    cut: Strand
    sign: float
    old_run: Chain
    new_run: Chain
    seams: tuple[SeamView, SeamView]
    joints: Mapping[Point, Point]


def views(piece: Piece, done: Redone) -> Views:
    """The piece has a stitching line and a hem run on its cutting line."""
    assert piece.cutting_hem is not None
    ring = piece.outline.ring
    same = (piece.ring.signed_area() > 0.0) == (ring.signed_area() > 0.0)
    upper, run = open_at_tapers(piece.outline, piece.cutting_hem)
    middle = len(upper) // 2
    old_run, new_run = chain_of(done.old_run), _without_slivers(chain_of(done.redrawn.run))
    if not same:
        old_run, new_run = old_run.reversed(), new_run.reversed()
    numbers = (0, 1) if same else (1, 0)
    hems = [(r.segments[0].tangent(0.0), -r.segments[-1].tangent(1.0)) for r in (old_run, new_run)]
    first, last = (
        _seam(done, number, (hems[0][k], hems[1][k])) for k, number in enumerate(numbers)
    )
    joints = {**done.redrawn.joints, done.old.first: done.new.first, done.old.last: done.new.last}
    sign = 1.0 if ring.signed_area() >= 0.0 else -1.0
    return Views(
        (*upper[middle:], *run, *upper[:middle]), sign, old_run, new_run, (first, last), joints
    )


def _seam(done: Redone, side: int, hem: tuple[Vector, Vector]) -> SeamView:
    seam = done.seams[side]
    old, new = _end(done.old, side), _end(done.new, side)
    added, drawn = None, seam.strand[-1].segment.tangent(1.0)
    was = seam.whole[-1].segment.tangent(1.0) if seam.whole else drawn
    if seam.added_mm > SLIVER:
        back = chain_of(seam.strand).reversed()
        at = back.at_length(seam.added_mm)
        added, drawn = _rest(back, at), -back.tangent(at)
        was = drawn
    shortened = seam.added_mm < -SLIVER
    return SeamView(old[0], new[0], old[1], new[1], *hem, added, shortened, was, drawn)


def _rest(back: Chain, at: Place) -> Chain:
    """What comes before a place of the chain, the other way round."""
    rest = back.part(Place(0, 0.0), at).reversed()
    # What was added may begin a rounding before a joint.
    whole = rest.segments[0].length() > ROUNDING or len(rest) == 1
    return rest if whole else Chain(rest.segments[1:])


def _without_slivers(run: Chain) -> Chain:
    """The run without lines that are but rounding (of a hem trimmed where it ended anyway)."""
    long = [s for s in run if s.length() > ROUNDING]
    if len(long) in {0, len(run)}:
        return run
    starts = [run.start, *(s.start for s in long[1:])]
    stops = [*starts[1:], run.end]
    return Chain(tuple(with_ends(s, *p) for s, *p in zip(long, starts, stops, strict=True)))


def _end(ends: Ends, side: int) -> tuple[Point, Vector]:
    return (ends.first, ends.first_down) if side == 0 else (ends.last, ends.last_down)
