"""What an alteration has done: as text for a person, as data for other programs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

from core.alter.model import Altered
from core.errors import PieceError
from core.files import Drawing
from core.measure import in_cm


def _home(drawings: Sequence[Drawing], key: int) -> int:
    """The number of the drawing in which the piece with a running key lies."""
    for k, drawing in enumerate(drawings):
        if key < len(drawing.pieces):
            return k
        key -= len(drawing.pieces)
    raise PieceError("a piece lies in none of the files")


def as_data(
    drawings: Sequence[Drawing],
    targets: Sequence[Path],
    altered: Sequence[Altered],
) -> dict[str, Any]:
    """What changed, in the shape that ``--report`` promises; lengths in mm."""
    pieces = []
    for a in altered:
        k = _home(drawings, a.before.key)
        pieces.append(
            {"file": str(drawings[k].path), "saved_as": str(targets[k]), **_piece_data(a)}
        )
    return {
        "pieces": pieces,
        "problems": [p for d in drawings for p in d.problems],
    }


def _piece_data(a: Altered) -> dict[str, Any]:
    f = a.figures
    return {
        "name": a.piece.name,
        "size": a.piece.size,
        "edges": [
            {"role": e.role.value, "before_mm": e.before_mm, "after_mm": e.after_mm}
            for e in f.edges
        ],
        "hem_width_before_mm": f.hem_width_before_mm,
        "hem_width_after_mm": f.hem_width_after_mm,
        "steps": [s.sentence for s in a.steps],
        "findings": [{"severity": x.severity.value, "sentence": x.sentence} for x in a.findings],
    }


def as_text(
    drawings: Sequence[Drawing], targets: Sequence[Path], altered: Sequence[Altered]
) -> Iterator[str]:
    """What changed, for a person."""
    for a in altered:
        f = a.figures
        yield f"{a.piece.name}:"
        for e in f.edges:
            if e.before_mm != e.after_mm:
                yield (
                    f"  {e.role.value:<14}{in_cm(e.before_mm, decimals=2):>11}"
                    f"  ->{in_cm(e.after_mm, decimals=2):>11}"
                )
        for finding in a.findings:
            yield f"  ? {finding.sentence}"
    for drawing, target in zip(drawings, targets, strict=True):
        yield f"{drawing.path.name} -> {target}"
