"""Darts drawn as lines on the hem, set on it again when the hem itself was drawn otherwise."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from core.alter.redraw import Redrawn
from core.alter.refit import HemDart
from core.alter.strand import chain_of
from core.curve import Affine, Chain, Point, Vector

# What is nearer to the hem than this (mm) lies on it.
ON_HEM = 1e-6
# A mouth further away than this (mm) was not brought along to the hem: something else is wrong.
FARTHEST = 30.0


def seated(redrawn: Redrawn, darts: Sequence[HemDart]) -> Redrawn:
    """The run with each dart slid along its own axis until its mouth lies on the hem.

    A hem that is one curve from seam to seam is redrawn as one, so it does not go through the
    mouths exactly. Each dart stays rigid (its apex goes along, or stays, as it was asked to);
    where the hem is steep against it, its two ends lie equally far on either side of the hem.
    `darts` are among those that moved whole.
    """
    if not darts:
        return redrawn
    run, pieces = chain_of(redrawn.run), list(redrawn.where.pieces)
    for dart in darts:
        k = redrawn.whole.index(dart)
        piece = pieces[2 * k + 1]
        axis = piece.vector(dart.middle - dart.apex).unit()
        off = _offset(run, [piece.point(p) for p in dart.mouth], axis)
        if ON_HEM < abs(off) < FARTHEST:
            pieces[2 * k + 1] = Affine.move(axis.x * off, axis.y * off) @ piece
    return replace(redrawn, where=replace(redrawn.where, pieces=tuple(pieces)))


def _offset(run: Chain, mouth: Sequence[Point], axis: Vector) -> float:
    """How far along the axis the hem lies from the mouth, in mm, in the mean of both ends."""
    found = []
    for p in mouth:
        met = [axis.dot(run.at(place) - p) for place in run.meets(p, axis)]
        if not met:
            return 0.0
        found.append(min(met, key=abs))
    return sum(found) / len(found)
