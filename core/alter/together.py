"""Several pieces changed together, so that what matched before still matches after."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from core.alter.allowance.implied import applies
from core.alter.carry import Reach
from core.alter.figures import hem_width
from core.alter.led import led_exactly
from core.alter.lengthen import lengthen
from core.alter.model import Altered, Change, HemWay, Led, Whose
from core.kept import kept
from core.piece.mates import EdgeKey, Mates, find_mates
from core.piece.model import Piece, Role
from core.piece.words import Side, side_of


def alter_together(
    pieces: Sequence[Piece], change: Change, *, mates: Sequence[Mates] | None = None
) -> tuple[Altered, ...]:
    """Each piece changed; seams mated to a leading piece's get its added seam length.

    The front leads, else the piece that comes first; the two seams of a sleeve, or of a leg
    in one piece, get equal lengths. A hem width that is asked for is that of the whole leg:
    each of the pieces that are sewn together gets its share, by its present hem width.
    `mates` are recognised when not given. The answers are in the order of the pieces. Raises
    AlterationError when one of the pieces does not allow the change; none is changed then.
    """
    pairs = find_mates(pieces) if mates is None else tuple(mates)
    sewn = _sewn(tuple(pieces), pairs)
    added: dict[EdgeKey, float] = {}
    done: dict[int, Altered] = {}
    for piece in _front_first(tuple(pieces)):
        seams = _seams(piece)
        leaders = [
            next((m for m in (sewn.get(s, ()) if s else ()) if m in added), None) for s in seams
        ]
        first, last = (Reach(added[m], along_seam=True) if m else None for m in leaders)
        altered = lengthen(piece, _own_share(piece, pieces, change, pairs), first=first, last=last)
        if _closes_on_itself(piece, seams):
            first = last = _mean(altered)
            if first.mm != altered.figures.added_first_mm:
                altered = lengthen(piece, altered.change, first=first, last=last)
        if applies(piece, altered.change) or change.hem is HemWay.TRIM:
            altered = led_exactly(altered, (first, last))
        led = [
            Led(piece.edges[s.number].role, Whose.of(done[m.piece].before))
            for s, m in zip(seams, leaders, strict=True)
            if m is not None and s is not None
        ]
        done[piece.key] = replace(altered, led=tuple(led))
        amounts = (altered.figures.added_first_mm, altered.figures.added_last_mm)
        added |= {s: mm for s, mm in zip(seams, amounts, strict=True) if s is not None}
    return tuple(done[p.key] for p in pieces)


# Each frame of a drag changes the same pieces.
@kept(most=128)
def _sewn(
    pieces: tuple[Piece, ...], pairs: tuple[Mates, ...]
) -> Mapping[EdgeKey, Sequence[EdgeKey]]:
    """To which edges each edge is sewn."""
    by_key = {p.key: p for p in pieces}
    out: dict[EdgeKey, list[EdgeKey]] = {}
    for found in (pair.edges(by_key) for pair in pairs):
        for mine, other in (found, (found[1], found[0])) if found else ():
            out.setdefault(mine, []).append(other)
    return out


@kept(most=128)
def _front_first(pieces: tuple[Piece, ...]) -> Sequence[Piece]:
    return sorted(pieces, key=lambda p: side_of(p.name) is not Side.FRONT)


def _closes_on_itself(piece: Piece, seams: tuple[EdgeKey | None, EdgeKey | None]) -> bool:
    """Are both seams of one kind that is sewn to itself: a sleeve's, or a leg's in one piece?"""
    roles = {piece.edges[s.number].role if s else None for s in seams}
    return roles in ({Role.UNDERARM}, {Role.INSEAM})


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


def _mean(altered: Altered) -> Reach:
    """The mean of what each of two seams that are sewn to each other would get by itself, so
    that neither is the leading one."""
    told = altered.figures
    return Reach((told.added_first_mm + told.added_last_mm) / 2, along_seam=True)


def _seams(piece: Piece) -> tuple[EdgeKey | None, EdgeKey | None]:
    """The seams that end at the first and the last taper point."""
    first, last = (None if k is None else EdgeKey(piece.key, k) for k in piece.hem_seams)
    return first, last
