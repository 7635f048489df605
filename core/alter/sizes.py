"""A pattern in several sizes altered size by size: each keeps its own taper."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from core.alter.common import keep_common
from core.alter.lengthen import lengthen
from core.alter.model import Altered, Change
from core.alter.together import alter_together
from core.kept import kept
from core.piece.mates import Mates, find_mates
from core.piece.model import Piece
from core.piece.sizes import by_size, size_named, sizes_of

NOTHING = Change(0.0)


def alter_sizes(
    pieces: Sequence[Piece],
    changes: Change | Mapping[str, Change],
    *,
    mates: Sequence[Mates] | None = None,
    beside: Sequence[Piece] = (),
) -> tuple[Altered, ...]:
    """The pieces of each size changed together, by one change or by the change of their size.

    Sizes that `changes` does not name stay as they are; "" names the pieces that have none.
    What is drawn once for several sizes goes with the largest, `beside` counted in: pieces of
    the pattern that are not changed. `mates` are recognised when not given. The answers are
    in the order of the pieces. Raises PieceError for a size that is not there (with a list of
    those that are), AlterationError as `alter_together` does; none is changed then.
    """
    pairs = find_mates(pieces) if mates is None else tuple(mates)
    wanted = None if isinstance(changes, Change) else _named(changes, pieces)
    done: dict[int, Altered] = {}
    for size, some in _sized(tuple(pieces)).items():
        change = changes if isinstance(changes, Change) else (wanted or {}).get(size)
        if change is None:
            done |= {p.key: lengthen(p, NOTHING) for p in some}
        else:
            altered = alter_together(some, change, mates=pairs)
            done |= {p.key: a for p, a in zip(some, altered, strict=True)}
    return keep_common([done[p.key] for p in pieces], beside)


# Each frame of a drag changes the same pieces.
@kept(most=8)
def _sized(pieces: tuple[Piece, ...]) -> Mapping[str, tuple[Piece, ...]]:
    return {size: tuple(some) for size, some in by_size(pieces).items()}


def _named(changes: Mapping[str, Change], pieces: Sequence[Piece]) -> dict[str, Change]:
    known = sizes_of(pieces)
    return {size_named(s, known) if s else s: change for s, change in changes.items()}
