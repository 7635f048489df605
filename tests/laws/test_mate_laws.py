"""Pieces changed together: what matched before still matches after."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import assume, event, given, reject
from hypothesis import strategies as st

from core.alter.model import Altered, Change, HemWay
from core.alter.simple import is_simple
from core.alter.together import alter_together
from core.errors import AlterationError
from core.piece.mates import Mates
from core.piece.model import Because, Piece, Role
from tests.laws.compare import close
from tests.laws.generate import changes, poses, sketches
from tests.laws.sketch import Garment, SeamPlan, Sketch

MATCHES = 0.05
SEWN = (Role.INSEAM, Role.SIDE)


def together(
    pieces: tuple[Piece, ...], by_mm: float, hem: HemWay = HemWay.REFIT
) -> tuple[Altered, ...]:
    mates = tuple(Mates((0, role), (1, role), Because(True, "drawn so")) for role in SEWN)
    try:
        return alter_together(pieces, Change(by_mm, hem=hem), mates=mates)
    except AlterationError:
        event("refused")
        reject()


@st.composite
def legs(draw: st.DrawFn) -> tuple[Piece, ...]:
    """A front and a back leg with seams of their own leans, bends and hem corners."""
    found = []
    for key, name in enumerate(("leg front", "leg back")):
        sketch = draw(sketches(garments=(Garment.LEG,)))
        piece = draw(poses).of(sketch.piece())
        assume(is_simple(piece.ring))
        found.append(replace(piece, key=key, name=name))
    return tuple(found)


@given(legs(), changes)
def test_mated_seams_keep_their_difference(pieces: tuple[Piece, ...], by: float) -> None:
    """Law 6, within 0.05 mm."""
    after = [a.piece for a in together(pieces, by)]
    for role in SEWN:
        was, now = ([p.edge_length(p.edge(role)) for p in some] for some in (pieces, after))
        close(now[0] - now[1], was[0] - was[1], MATCHES, f"difference of the {role.value}s")


@given(legs(), changes)
def test_a_trimmed_hem_meets_mated_seams_at_the_same_length(
    pieces: tuple[Piece, ...], by: float
) -> None:
    """Law 6 where the hem is slid: it comes down further at one end than at the other, and was
    cut where the seam is at another length than it had reached."""
    after = [a.piece for a in together(pieces, by, HemWay.TRIM)]
    for role in SEWN:
        was, now = ([p.edge_length(p.edge(role)) for p in some] for some in (pieces, after))
        close(now[0] - now[1], was[0] - was[1], MATCHES, f"difference of the {role.value}s")


@given(legs(), changes)
def test_the_leading_piece_goes_by_the_grain(pieces: tuple[Piece, ...], by: float) -> None:
    """The front is changed as if it were alone, whichever comes first."""
    alone = together(pieces[:1], by)[0].piece
    assert together(pieces, by)[0].piece == alone
    assert together(pieces[::-1], by)[1].piece == alone


@given(legs(), changes)
def test_the_same_length_is_added_to_mates(pieces: tuple[Piece, ...], by: float) -> None:
    added: dict[Role, list[float]] = {role: [] for role in SEWN}
    for done in together(pieces, by):
        for figure in done.figures.edges:
            if figure.role in SEWN:
                added[figure.role].append(figure.after_mm - figure.before_mm)
    for role, (front, back) in added.items():
        close(back, front, 1e-6, f"added to the back {role.value}")


@pytest.mark.parametrize(("hem", "within"), [(HemWay.REFIT, 1e-9), (HemWay.TRIM, 1e-3)])
def test_a_sleeve_is_its_own_mate(hem: HemWay, within: float) -> None:
    """Both underarm seams of a sleeve are sewn to each other: both get the same length."""
    sketch = Sketch(Garment.SLEEVE, 400.0, 260.0, SeamPlan(-0.02), SeamPlan(-0.18))
    piece = sketch.piece()
    (done,) = alter_together((piece,), Change(100.0, hem=hem))
    close(done.figures.added_last_mm, done.figures.added_first_mm, within, "the other seam")


def test_a_hem_that_runs_along_its_seam_is_not_trimmed_to_another_length() -> None:
    """Rounded on into its curve, it is cut the other way than it is slid: by 1.1 mm of 1 mm,
    and further off with each step. It is refused, and what would work is said."""
    front = Sketch(Garment.LEG, 320.0, 230.0, SeamPlan(0.0), SeamPlan(0.0)).piece()
    plans = SeamPlan(0.0, radius=15.0), SeamPlan(0.21875, radius=15.0)
    back = Sketch(Garment.LEG, 320.0, 293.0, *plans, hem_angles=(0.0, 0.25), step=6.0).piece()
    pieces = (replace(front, name="leg front"), replace(back, key=1, name="leg back"))
    mates = tuple(Mates((0, role), (1, role), Because(True, "drawn so")) for role in SEWN)
    with pytest.raises(AlterationError, match=r"leg back: .* side seam .* Refit the hem"):
        alter_together(pieces, Change(-1.0, hem=HemWay.TRIM), mates=mates)
    done = alter_together(pieces, Change(-1.0), mates=mates)
    for was, now in zip(pieces, done, strict=True):
        change = now.piece.edge_length(now.piece.edge(Role.SIDE)) - was.edge_length(
            was.edge(Role.SIDE)
        )
        close(change, -1.0, MATCHES, "the side seam")
