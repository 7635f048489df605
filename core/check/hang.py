"""Does a changed hem come along by the same everywhere? Between far slanting seams it does not.

Common practice, no source: a flared skirt is measured the same all along its hem, and once it
has hung, the hem is marked level from the floor.
"""

from __future__ import annotations

from collections.abc import Iterator

from core.alter.model import Altered, Finding, Measure, Severity, Whose
from core.curve import Point
from core.measure import Length, Sentence
from core.piece.model import Piece

# A hem that is off by less (mm; 1/8 in) hangs level enough to be made so in the sewing.
LEVEL_ENOUGH = 3.2


def hang_findings(altered: Altered) -> Iterator[Finding]:
    """One for a piece whose seam gains, or loses, more than the middle of its hem moves."""
    before, after = altered.before, altered.piece
    if altered.level is not None or before.hem is None or after.hem is None:
        return
    middle = _middle(after)
    moved = abs((middle - _middle(before)).dot(before.grain.down))
    gains = (altered.figures.added_first_mm, altered.figures.added_last_mm)
    most = max(abs(g) for g in gains)
    if most - moved <= LEVEL_ENOUGH:
        return
    longer = altered.change.by_mm > 0.0
    first = (
        "Measure it along the seams; then let it hang"
        if altered.change.measure is Measure.GRAIN
        else "Let it hang"
    )
    yield Finding(
        Severity.LOOK,
        Sentence(
            "{name}: its seams slant so far that they get {seam} {way} while the hem comes {along}"
            " by {middle} in its middle, and it will not hang level. {first}, and mark the hem"
            " level from the floor before you finish it.",
            name=after.name,
            seam=Length(most),
            way="longer" if longer else "shorter",
            along="down" if longer else "up",
            middle=Length(moved),
            first=first,
        ),
        middle,
        Whose.of(before),
    )


def _middle(piece: Piece) -> Point:
    assert piece.hem is not None
    run = piece.ring.run(piece.hem.first.place, piece.hem.last.place)
    return run.at(run.at_length(run.length() / 2.0))
