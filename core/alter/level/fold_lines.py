"""Fold lines at a level: cloth folds along one straight line, and a fold line stays one.

Where a fold leans from the grain, what lies below the level comes aside of it. An outline is
trued there like any seam; the fold line is ruled anew from its one end to the other.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from core.alter.level.lines import crosses
from core.alter.level.model import Level
from core.alter.model import Finding, Severity
from core.curve import Chain, Line
from core.measure import Length, Sentence
from core.piece.model import Kind, Mark

# A line that leaves its chord by no more than this (mm) is drawn straight.
STRAIGHT = 0.1
# The lower part of a fold that comes aside by more than this (mm) is told.
ASIDE = 0.5


def ruled_anew(level: Level, mark: Mark, opened: Mark) -> Mark:
    """The opened fold line made one straight line again; any other mark as it was opened."""
    old, now = mark.geometry, opened.geometry
    if not (isinstance(old, Chain) and isinstance(now, Chain) and _straight_fold(mark)):
        return opened
    if not crosses(level, old) or len(now) <= len(old):
        return opened
    return replace(opened, geometry=Chain((Line(now.start, now.end),)), numbers=(0,))


def bent_fold(level: Level, mark: Mark, name: str) -> Iterator[Finding]:
    """What is to be told of a straight fold line that leans from the grain."""
    chain = mark.geometry
    if not (isinstance(chain, Chain) and _straight_fold(mark) and crosses(level, chain)):
        return
    aside = abs(level.step.cross((chain.end - chain.start).unit()))
    if aside > ASIDE:
        sentence = Sentence(
            "{name}: the fold leans from the grain, so below the line it comes {aside} aside."
            " Make the piece longer or shorter along its seams instead, or rule the fold straight.",
            name=name,
            aside=Length(aside, decimals=2),
        )
        yield Finding(Severity.LOOK, sentence, chain.start.towards(chain.end, 0.5))


def _straight_fold(mark: Mark) -> bool:
    chain = mark.geometry
    if mark.kind is not Kind.FOLD or not isinstance(chain, Chain):
        return False
    if chain.start == chain.end:
        return False
    chord = Line(chain.start, chain.end)
    return all(chord.nearest(p).distance <= STRAIGHT for s in chain for p in s.controls)
