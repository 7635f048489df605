"""A nest of sizes: altered in the nest each is what it would be alone, bit for bit."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import assume, event, given, reject
from hypothesis import strategies as st

from core.alter.model import Altered, Change
from core.alter.simple import is_simple
from core.alter.sizes import alter_sizes
from core.alter.together import alter_together
from core.errors import AlterationError
from core.piece.mates import Mates
from core.piece.model import Because, Piece, Role
from tests.laws.generate import changes, poses, sketches
from tests.laws.sketch import Garment

SIZES = ("36", "38", "40")
SEWN = (Role.INSEAM, Role.SIDE)


@st.composite
def nests(draw: st.DrawFn) -> tuple[Piece, ...]:
    """Front and back legs in three sizes; their shapes need not be alike at all."""
    found = []
    for k, size in enumerate(SIZES):
        for n, name in enumerate(("front", "back")):
            piece = draw(poses).of(draw(sketches(garments=(Garment.LEG,))).piece())
            assume(is_simple(piece.ring))
            found.append(replace(piece, key=2 * k + n, name=f"{name} {size}", size=size))
    return tuple(found)


def mates() -> tuple[Mates, ...]:
    drawn = Because(True, "drawn so")
    return tuple(
        Mates((2 * k, role), (2 * k + 1, role), drawn) for k in range(len(SIZES)) for role in SEWN
    )


def altered(pieces: tuple[Piece, ...], by: dict[str, float]) -> tuple[Altered, ...]:
    try:
        return alter_sizes(pieces, {s: Change(mm) for s, mm in by.items()}, mates=mates())
    except AlterationError:
        event("refused")
        reject()


@given(nests(), st.tuples(changes, changes, changes))
def test_each_size_is_as_it_would_be_alone(
    pieces: tuple[Piece, ...], amounts: tuple[float, float, float]
) -> None:
    done = altered(pieces, dict(zip(SIZES, amounts, strict=True)))
    for k, by in enumerate(amounts):
        alone = alter_together(pieces[2 * k : 2 * k + 2], Change(by), mates=mates())
        assert [a.piece for a in done[2 * k : 2 * k + 2]] == [a.piece for a in alone]


@given(nests(), changes, st.sampled_from(SIZES))
def test_the_sizes_that_are_not_named_stay_the_very_same(
    pieces: tuple[Piece, ...], by: float, size: str
) -> None:
    for a in altered(pieces, {size: by}):
        assert (a.piece is a.before) == (a.before.size != size)
