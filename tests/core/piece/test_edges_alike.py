"""The same edge is found on another size of a piece by its place, and by nothing else."""

from __future__ import annotations

from dataclasses import replace
from itertools import permutations
from pathlib import Path

import pytest

from core.files import read
from core.piece.alike import SAME_PLACE, edge_alike
from core.piece.model import Piece, Role
from core.piece.said import join_edges, split_edge

SAMPLES = Path(__file__).parents[3] / "sample_pieces"


@pytest.fixture(params=["rain_breeches.svg", "rain_breeches.dxf"])
def nest(request: pytest.FixtureRequest) -> tuple[Piece, ...]:
    return read(SAMPLES / request.param).pieces


def test_every_edge_of_every_size_is_found_on_every_other(nest: tuple[Piece, ...]) -> None:
    for a, b in permutations(nest, 2):
        if a.title == b.title:
            roles = [b.edges[found].role if (found := edge_alike(a, k, b)) is not None else None
                     for k in range(len(a.edges))]  # fmt: skip
            wanted = [e.role for e in a.edges]
            assert roles == wanted, f"{a.name} on {b.name}: wanted {wanted}, got {roles}"


def test_a_role_said_otherwise_in_one_size_does_not_matter(nest: tuple[Piece, ...]) -> None:
    a, b = (p for p in nest[:4] if p.title == nest[0].title)
    other = replace(b, edges=tuple(replace(e, role=Role.OTHER) for e in b.edges))
    assert [edge_alike(a, k, other) for k in range(len(a.edges))] == [*range(len(a.edges))]


def test_an_edge_that_was_split_is_not_there_any_more(nest: tuple[Piece, ...]) -> None:
    a, b = (p for p in nest[:4] if p.title == nest[0].title)
    number = a.edges.index(a.edge(Role.INSEAM))
    chain = b.edge_chain(b.edges[number])
    parted = split_edge(b, number, chain.at(chain.at_length(chain.length() / 2.0)))
    assert edge_alike(a, number, parted) is None
    others = [k for k in range(len(a.edges)) if k != number]
    assert all(edge_alike(a, k, parted) is not None for k in others)
    again = join_edges(parted, number)
    assert edge_alike(a, number, again) == number


def test_the_room_between_the_same_edge_and_its_neighbour_is_wide(nest: tuple[Piece, ...]) -> None:
    """The bound lies well away from both: from the same edge over all grades, and from others."""
    small, large = (
        next(p for p in nest if p.title == nest[0].title and p.size == size)
        for size in ("36", "44")
    )
    for k in range(len(small.edges)):
        apart = replace(large, edges=tuple(e for n, e in enumerate(large.edges) if n != k))
        assert edge_alike(small, k, apart) is None, f"edge {k} was taken for a neighbour"
    assert 0.05 < SAME_PLACE < 0.25
