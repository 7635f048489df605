"""What is more than any pattern piece has, so that nothing takes minutes to no end."""

from __future__ import annotations

from core.piece.model import Outline

# Two metres of outline with a point every tenth of a millimetre.
MOST_POINTS = 20_000


def too_many_points(outline: Outline, problems: list[str]) -> bool:
    """Does the outline have more points than any piece needs? Then a sentence says so."""
    count = len(outline.ring)
    if count <= MOST_POINTS:
        return False
    at = outline.ring.bounds().centre
    problems.append(
        f"The outline around x {at.x:.0f}, y {at.y:.0f} mm has {count} points, and no more than"
        f" {MOST_POINTS} are followed. It was left as it is: draw it with fewer points."
    )
    return True
