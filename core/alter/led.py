"""Seams that are led by another piece's, given their length where they are sewn."""

from __future__ import annotations

from dataclasses import replace

from core.alter.carry import Reach
from core.alter.lengthen import lengthen
from core.alter.model import Altered, HemWay
from core.errors import AlterationError
from core.measure import Sentence, differences

# Rounds in which, and difference (mm) to which, a led seam's length is set right.
SETTLED, SAME_LENGTH = 6, 1e-4
# A trimmed hem that leaves a led seam further off than this (mm) is refused.
MATCHED = 0.01
# It never reaches further than so many times what is to be won.
MOST_GAIN = 4.0

# What the seams at the first and the last taper point get; None where none leads.
Reaches = tuple[Reach | None, Reach | None]


def led_exactly(altered: Altered, led: Reaches) -> Altered:
    """The piece changed again until its led seams get their length where they are sewn.

    Inside the only line drawn they gain a little more or less than the cutting line does where
    the hem's angle changes; and a slid hem that comes down further at one end than at the other
    meets them elsewhere than they reached. So the reach is set right by what is left over.
    Raises AlterationError where a slid hem does not come to it: one that runs nearly along its
    seam is not cut where it is slid to.
    """
    nearest, reaches, gains = altered, led, (1.0, 1.0)
    for _ in range(SETTLED):
        lacks = _lacks(altered, led)
        if _most(lacks) < SAME_LENGTH:
            break
        more = [mm * gain for mm, gain in zip(lacks, gains, strict=True)]
        first, last = (
            replace(r, mm=r.mm + m) if r is not None else None
            for r, m in zip(reaches, more, strict=True)
        )
        reaches = first, last
        altered = lengthen(altered.before, altered.change, first=first, last=last)
        won = [a - b for a, b in zip(lacks, _lacks(altered, led), strict=True)]
        gains = _gain(more[0], won[0]), _gain(more[1], won[1])
        nearest = min(nearest, altered, key=lambda a: _most(_lacks(a, led)))
    lacks = _lacks(nearest, led)
    if altered.change.hem is HemWay.TRIM and _most(lacks) > MATCHED:
        raise _unmatched(nearest, lacks)
    return nearest


def _lacks(altered: Altered, led: Reaches) -> tuple[float, float]:
    """How much (mm) each led seam still lacks."""
    told, (first, last) = altered.figures, led
    return (
        first.mm - told.added_first_mm if first is not None else 0.0,
        last.mm - told.added_last_mm if last is not None else 0.0,
    )


def _most(lacks: tuple[float, float]) -> float:
    return max(map(abs, lacks))


def _gain(reached: float, won: float) -> float:
    """How much further to reach for each mm that is to be won, by what was won last."""
    if abs(won) < SAME_LENGTH:
        return 1.0
    return min(max(reached / won, 1.0 / MOST_GAIN), MOST_GAIN)


def _unmatched(altered: Altered, lacks: tuple[float, float]) -> AlterationError:
    piece = altered.before
    role = piece.hem_seam_roles[0 if abs(lacks[0]) >= abs(lacks[1]) else 1]
    form = (
        "{name}: the slid hem runs nearly along the {seam} where it meets it, so that trimming"
        " leaves the {seam} {off} off the length of the seam that it is sewn to. Refit the hem"
        " instead."
    )
    (off,) = differences(_most(lacks))
    return AlterationError(Sentence(form, name=piece.name, seam=role.value, off=off))
