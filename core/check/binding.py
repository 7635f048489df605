"""What a change costs: binding or tape for the hems, and cloth."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from core.alter.model import Altered, Finding, Severity
from core.check.counted import cut_number, on_fold
from core.check.girth import HemGirth
from core.errors import MeasureError
from core.measure import Area, Length, Sentence
from core.piece.model import Piece

# For sums only: the outline's reach along the grain, in mm.
FLATTENING = 0.05
# Less cloth than this (mm²) is not told.
LEAST_CLOTH = 500.0
# Less tape than this (mm) is told as the same.
LEAST_TAPE = 0.5


def bias_length(area_mm2: float, cut_width_mm: float) -> float:
    """Length in mm of the bias strip that a piece of cloth gives: area / cut width.

    As sewing columns have it: a 20 in square cut 2 in wide gives 200 in. What the joins take
    is not in it. MeasureError for a width of nothing or less, or an area below nothing.
    """
    if not (cut_width_mm > 0.0 and area_mm2 >= 0.0):
        raise MeasureError("A bias strip needs a cut width and an area above nothing.")
    return area_mm2 / cut_width_mm


def bias_square(length_mm: float, cut_width_mm: float) -> float:
    """Side in mm of the square of cloth that gives a bias strip that long; see bias_length."""
    if not (cut_width_mm > 0.0 and length_mm >= 0.0):
        raise MeasureError("A bias strip needs a cut width and a length above nothing.")
    return math.sqrt(length_mm * cut_width_mm)


def tape_length(girth_mm: float, times: int, *, joins_mm: float = 0.0) -> float:
    """Tape or binding in mm for `times` equal hems, each with `joins_mm` for its join."""
    return times * (girth_mm + joins_mm)


@dataclass(frozen=True, slots=True)
class Cost:
    """Tape for all hems of one garment in mm, and cloth in mm^2, before and after.

    Cloth is the area of the pieces themselves, every copy counted; the waste between them is
    not in it. ``longer_mm`` is how much the longest piece grew along the grain: what each row
    of pieces takes more of the cloth's length when the lay stays as it was.
    """

    tape_before_mm: float
    tape_after_mm: float
    cloth_before_mm2: float
    cloth_after_mm2: float
    longer_mm: float


def cost(altered: Sequence[Altered], girths: Sequence[HemGirth], *, joins_mm: float = 0.0) -> Cost:
    """What one garment takes before and after; pieces that are in no hem are cut
    as often as is written on them, else once."""
    copies = {key: n for g in girths for key, n in g.copies().items()}
    counted = [(copies.get(a.before.key) or _alone(a.before), a) for a in altered]
    return Cost(
        tape_before_mm=sum(
            tape_length(g.before.edge_mm, g.times, joins_mm=joins_mm) for g in girths
        ),
        tape_after_mm=sum(tape_length(g.after.edge_mm, g.times, joins_mm=joins_mm) for g in girths),
        cloth_before_mm2=sum(n * a.before.outline.ring.area() for n, a in counted),
        cloth_after_mm2=sum(n * a.piece.outline.ring.area() for n, a in counted),
        longer_mm=max((_tall(a.piece) for a in altered), default=0.0)
        - max((_tall(a.before) for a in altered), default=0.0),
    )


def _alone(piece: Piece) -> int:
    told = cut_number(piece)
    return (1 if told is None else told[0]) * (2 if on_fold(piece) else 1)


def _tall(piece: Piece) -> float:
    """Reach of the outline along the grain, in mm."""
    flat = piece.outline.ring.flattened(tolerance=FLATTENING)
    return float(np.ptp(flat @ np.array((piece.grain.down.x, piece.grain.down.y))))


def cost_finding(found: Cost) -> Finding:
    """The cost as a sentence."""
    more = found.tape_after_mm - found.tape_before_mm
    tape = Sentence(
        "All hem edges together are {after} long ({before} before): {change} binding or tape, not"
        " counting joins.",
        after=Length(found.tape_after_mm),
        before=Length(found.tape_before_mm),
        change=Sentence("{more} {way}", more=Length(abs(more)), way=_way(more))
        if abs(more) >= LEAST_TAPE
        else "that much",
    )
    cloth = found.cloth_after_mm2 - found.cloth_before_mm2
    if abs(cloth) < LEAST_CLOTH:
        return Finding(Severity.NOTE, tape)
    told = Sentence(
        "{tape} The pieces take {cloth} {way} cloth, and each row of them {longer} {way} of"
        " its length.",
        tape=tape,
        cloth=Area(abs(cloth)),
        way=_way(cloth),
        longer=Length(abs(found.longer_mm)),
    )
    return Finding(Severity.NOTE, told)


def _way(change: float) -> str:
    return "more" if change > 0.0 else "less"
