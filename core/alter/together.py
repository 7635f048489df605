"""Several pieces changed together, so that what matched before still matches after."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import NamedTuple

from core.alter.carry import Reach
from core.alter.figures import hem_width
from core.alter.lengthen import lengthen
from core.alter.model import Altered, Change
from core.piece.mates import Mates, find_mates
from core.piece.model import Piece, Role
from core.piece.words import Side, side_of


class SeamKey(NamedTuple):
    """One seam of one piece."""

    piece: int
    role: Role


def alter_together(
    pieces: Sequence[Piece], change: Change, *, mates: Sequence[Mates] | None = None
) -> tuple[Altered, ...]:
    """Each piece changed; seams mated to a leading piece's get its added seam length.

    The front leads, else the piece that comes first; a sleeve's own two seams get equal
    lengths. A hem width that is asked for is that of the whole leg: each of the pieces that
    are sewn together gets its share, by its present hem width. `mates` are recognised when
    not given. The answers are in the order of the pieces. Raises AlterationError when one of the
    pieces does not allow the change; none is changed then.
    """
    pairs = find_mates(pieces) if mates is None else tuple(mates)
    added: dict[SeamKey, float] = {}
    done: dict[int, Altered] = {}
    for piece in sorted(pieces, key=lambda p: side_of(p.name) is not Side.FRONT):
        first, last = _seam_roles(piece)
        altered = lengthen(
            piece,
            _own_share(piece, pieces, change, pairs),
            first=_led(piece, first, pairs, added),
            last=_led(piece, last, pairs, added),
        )
        if first is last is Role.UNDERARM:
            altered = _both_alike(altered)
        done[piece.key] = altered
        _remember(added, piece, (first, last), altered)
    return tuple(done[p.key] for p in pieces)


def _own_share(
    piece: Piece, pieces: Sequence[Piece], change: Change, pairs: Sequence[Mates]
) -> Change:
    """The change with the part of the whole leg's hem width that falls to this piece."""
    if change.to_width_mm is None:
        return change
    partners = {pair.of(piece.key) for pair in pairs} - {None}
    keys = {piece.key, *(other[0] for other in partners if other is not None)}
    whole = sum(hem_width(p) for p in pieces if p.key in keys)
    share = hem_width(piece) / whole if whole > 0.0 else 1.0
    return replace(change, to_width_mm=change.to_width_mm * share)


def _both_alike(altered: Altered) -> Altered:
    """A sleeve's two underarm seams are sewn to each other: both get the mean of what each
    would get by itself, so that neither is the leading one."""
    told = altered.figures
    if told.added_first_mm == told.added_last_mm:
        return altered
    mean = Reach((told.added_first_mm + told.added_last_mm) / 2, along_seam=True)
    return lengthen(altered.before, altered.change, first=mean, last=mean)


def _led(
    piece: Piece, role: Role | None, pairs: Sequence[Mates], added: Mapping[SeamKey, float]
) -> Reach | None:
    """The length that an already changed mate gives to this seam, if there is one."""
    for pair in pairs:
        for mine, other in ((pair.first, pair.second), (pair.second, pair.first)):
            if mine == (piece.key, role) and SeamKey(*other) in added:
                return Reach(added[SeamKey(*other)], along_seam=True)
    return None


def _remember(
    added: dict[SeamKey, float],
    piece: Piece,
    roles: tuple[Role | None, Role | None],
    altered: Altered,
) -> None:
    amounts = (altered.figures.added_first_mm, altered.figures.added_last_mm)
    for role, amount in zip(roles, amounts, strict=True):
        if role is not None:
            added[SeamKey(piece.key, role)] = amount


def _seam_roles(piece: Piece) -> tuple[Role | None, Role | None]:
    """Roles of the seams that end at the first and the last taper point."""
    if piece.hem is None:
        return None, None
    first, last = piece.hem.first.place, piece.hem.last.place
    return (
        next((e.role for e in piece.edges if e.end == first), None),
        next((e.role for e in piece.edges if e.start == last), None),
    )
