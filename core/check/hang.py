"""Does a changed hem come along by the same everywhere? Between far slanting seams it does not,
nor where it is curved and the seams turn.

Common practice, no source: a flared skirt is measured the same all along its hem, and once it
has hung, the hem is marked level from the floor.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from core.alter.model import Altered, Change, Finding, Measure, SeamWay, Severity, Whose
from core.curve import Point
from core.measure import Length, Sentence
from core.piece.model import Piece, Role

# A hem that is off by less (mm; 1/8 in) hangs level enough to be made so in the sewing.
LEVEL_ENOUGH = 3.2


def hang_findings(altered: Altered) -> Iterator[Finding]:
    """What is told of a piece whose seams gain, or lose, more than they go along the grain, or
    whose hem moves otherwise in its middle because the seams turn, as was asked."""
    before, after = altered.before, altered.piece
    if altered.level is not None or before.hem is None or after.hem is None:
        return
    ends = abs(_moved(altered, _end_points))
    gains = (altered.figures.added_first_mm, altered.figures.added_last_mm)
    most = max(abs(g) for g in gains)
    if most - ends > LEVEL_ENOUGH:
        yield _slanting(altered, most, ends)
    middle = _moved(altered, _middle)
    if turns_as_asked(altered.change) and abs(ends - middle) > LEVEL_ENOUGH:
        yield _turning(altered, middle, ends)


def turns_as_asked(change: Change) -> bool:
    """Do the seams turn where they leave their taper, for what was asked?"""
    to_level = change.to_width_mm is not None or change.plumb_below_mm is not None
    return change.by_mm > 0.0 and (to_level or change.seams is SeamWay.PLUMB)


def _slanting(altered: Altered, most: float, ends: float) -> Finding:
    longer = altered.change.by_mm > 0.0
    first = (
        "Measure it along the seams; then let it hang"
        if altered.change.measure is Measure.GRAIN
        else "Let it hang"
    )
    told = Sentence(
        "{name}: its seams slant so far that they get {seam} {way} while the hem comes {along}"
        " by {ends}, and it will not hang level. {first}, and mark the hem level from the floor"
        " before you finish it.",
        name=altered.piece.name,
        seam=Length(most),
        way="longer" if longer else "shorter",
        along="down" if longer else "up",
        ends=Length(ends),
        first=first,
    )
    return _look(altered, told)


def _turning(altered: Altered, middle: float, ends: float) -> Finding:
    told = Sentence(
        "{name}: the hem keeps its angle to seams that turn where they leave their taper, so it"
        " comes {way} by {middle} in its middle, and down by {ends} at its ends. Slide and trim it"
        " if it is to come down evenly.",
        name=altered.piece.name,
        way="down" if middle >= 0.0 else "up",
        middle=Length(abs(middle)),
        ends=Length(ends),
    )
    return _look(altered, told)


def _look(altered: Altered, told: Sentence) -> Finding:
    (middle,) = _middle(altered.piece)
    return Finding(Severity.LOOK, told, middle, Whose.of(altered.before))


def _moved(altered: Altered, places: Callable[[Piece], Sequence[Point]]) -> float:
    """By how much they move down the grain, on average, in mm."""
    pairs = zip(places(altered.before), places(altered.piece), strict=True)
    moves = [(b - a).dot(altered.before.grain.down) for a, b in pairs]
    return sum(moves) / len(moves)


def _end_points(piece: Piece) -> Sequence[Point]:
    assert piece.hem is not None
    return [piece.ring.at(t.place) for t in (piece.hem.first, piece.hem.last)]


def _middle(piece: Piece) -> Sequence[Point]:
    """The one point half way along the hem, darts closed."""
    assert piece.hem is not None
    hem = next(e for e in piece.edges if e.role is Role.HEM)
    left = piece.edge_length(hem) / 2.0
    for s in piece.sewn_segments(hem):
        if s.length() >= left:
            return [s.at(s.at_length(left))]
        left -= s.length()
    return [piece.ring.at(piece.hem.last.place)]
