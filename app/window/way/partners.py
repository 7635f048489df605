"""What is sewn to what, in sentences. Knows nothing of Qt."""

from __future__ import annotations

from app.window.document import State


def partners_of(state: State) -> tuple[str, ...]:
    """A line for each two pieces: ``Front and Back: inseam, side seam``."""
    names = {p.key: p.name for p in state.sheets.pieces.values()}
    seams: dict[tuple[int, int], list[str]] = {}
    for pair in state.sheets.mates:
        (a, role), (b, _) = pair.first, pair.second
        doubt = "" if pair.because.sure else " (?)"
        seams.setdefault((min(a, b), max(a, b)), []).append(f"{role.value}{doubt}")
    return tuple(
        f"{names[a]}, to itself: {', '.join(found)}"
        if a == b
        else f"{names[a]} and {names[b]}: {', '.join(found)}"
        for (a, b), found in seams.items()
    )
