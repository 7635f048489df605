"""What is said of two edges in one size of a nest holds in all; of one it can be said otherwise."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from core.files import read
from core.files.beside import as_kept, keep_beside
from core.files.drawing import Drawing
from core.files.sewn import in_a_row, mates_in, said_in, sizes_alike, ties_now, with_tie
from core.files.ties import ties_as_values
from core.piece.mates import EdgeKey
from core.piece.model import Role

SAMPLES = Path(__file__).parents[3] / "sample_pieces"
SIZES = ("36", "38", "40", "42", "44")


@pytest.fixture(params=["rain_breeches.svg", "rain_breeches.dxf"])
def nest(request: pytest.FixtureRequest, tmp_path: Path) -> Drawing:
    path = tmp_path / request.param
    path.write_bytes((SAMPLES / request.param).read_bytes())
    return read(path)


def edge(drawings: list[Drawing], title: str, size: str, role: Role) -> EdgeKey:
    piece = next(p for p in in_a_row(drawings) if p.title.lower() == title and p.size == size)
    return EdgeKey(piece.key, piece.edges.index(piece.edge(role)))


def ends(drawings: list[Drawing], role: Role, size: str) -> tuple[EdgeKey, EdgeKey]:
    return edge(drawings, "front", size, role), edge(drawings, "back", size, role)


def tell(
    drawing: Drawing, role: Role, size: str, *, sewn: bool, every_size: bool = True
) -> Drawing:
    (told,) = with_tie([drawing], *ends([drawing], role, size), sewn=sewn, every_size=every_size)
    return told


def sizes_sewn(drawing: Drawing, role: Role) -> set[str]:
    """The sizes in which front and back are sewn together there."""
    row = {p.key: p for p in in_a_row([drawing])}
    pairs = [frozenset(m.edges(row) or ()) for m in mates_in([drawing])]
    return {s for s in SIZES if frozenset(ends([drawing], role, s)) in pairs}


def test_told_in_one_size_it_holds_in_all(nest: Drawing) -> None:
    assert sizes_sewn(nest, Role.RISE) == set()
    told = tell(nest, Role.RISE, "38", sewn=True)
    assert len(told.ties) == 1, "told once, it is kept once"
    assert sizes_sewn(told, Role.RISE) == set(SIZES)
    apart = tell(told, Role.SIDE, "44", sewn=False)
    assert sizes_sewn(apart, Role.SIDE) == set()
    assert sizes_sewn(apart, Role.INSEAM) == set(SIZES), "and nothing else is touched"


def test_it_can_be_told_otherwise_in_one(nest: Drawing) -> None:
    told = tell(nest, Role.RISE, "38", sewn=True)
    for one in ("40", "38"):
        otherwise = tell(told, Role.RISE, one, sewn=False, every_size=False)
        assert sizes_sewn(otherwise, Role.RISE) == {*SIZES} - {one}
        back = tell(otherwise, Role.RISE, one, sewn=True, every_size=False)
        assert sizes_sewn(back, Role.RISE) == set(SIZES)


def test_what_is_told_of_every_size_last_holds_in_every_size(nest: Drawing) -> None:
    told = tell(nest, Role.RISE, "38", sewn=True)
    told = tell(told, Role.RISE, "40", sewn=False, every_size=False)
    told = tell(told, Role.RISE, "44", sewn=True)
    assert sizes_sewn(told, Role.RISE) == set(SIZES)
    assert len(told.ties) == 1, "what was said before is not kept"
    told = tell(told, Role.RISE, "36", sewn=False)
    assert sizes_sewn(told, Role.RISE) == set()


def test_only_in_one_size(nest: Drawing) -> None:
    told = tell(nest, Role.RISE, "40", sewn=True, every_size=False)
    assert sizes_sewn(told, Role.RISE) == {"40"}
    assert "in every size" not in ties_as_values(told.ties)[0]


def test_it_is_kept_and_found_again(nest: Drawing) -> None:
    told = tell(nest, Role.RISE, "38", sewn=True)
    told = tell(told, Role.RISE, "42", sewn=False, every_size=False)
    keep_beside(told, nest.path)
    again = as_kept(read(nest.path))
    assert not [p for p in again.problems if "no longer fits" in p]
    assert sizes_sewn(again, Role.RISE) == {*SIZES} - {"42"}
    assert said_in([again]) == said_in([told])


def test_a_tie_of_an_older_file_stays_in_its_size(nest: Drawing) -> None:
    """Before it could be said of every size, it was said of each."""
    told = tell(nest, Role.RISE, "38", sewn=True)
    old = replace(told, ties=tuple(replace(t, every_size=False) for t in told.ties))
    assert sizes_sewn(old, Role.RISE) == {"38"}


def test_across_two_files_it_holds_in_every_size_of_both(nest: Drawing, tmp_path: Path) -> None:
    fronts = replace(nest, pieces=tuple(p for p in nest.pieces if p.title.lower() == "front"))
    backs = replace(
        nest,
        path=tmp_path / "backs",
        pieces=tuple(p for p in nest.pieces if p.title.lower() == "back"),
    )
    drawings = [fronts, backs]
    assert sizes_alike(drawings, *ends(drawings, Role.RISE, "38")) == len(SIZES) - 1
    told = with_tie(drawings, *ends(drawings, Role.RISE, "38"), sewn=True)
    assert [len(d.ties) for d in told] == [1, 1], "kept with both"
    for row in (told, told[::-1]):
        assert len(said_in(row)) == len(SIZES)
    moved = ties_now(told, 0, {}, {1: "new backs"})
    assert [t.second.drawing for t in moved] == ["new backs"]


def test_a_pattern_in_one_size_says_nothing_of_sizes() -> None:
    shorts = read(SAMPLES / "allotment_shorts.svg")
    rises = tuple(
        EdgeKey(k, p.edges.index(p.edge(Role.RISE))) for k, p in enumerate(shorts.pieces[:2])
    )
    (told,) = with_tie([shorts], *rises, sewn=True)
    assert [t.every_size for t in told.ties] == [False]
    assert ties_as_values(told.ties)[0].keys() == {"sewn", "edges"}
