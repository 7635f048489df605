"""Sheets cover the pattern, overlap as told, and are left out where there is nothing to cut."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.curve import Box
from core.errors import PaperError
from core.paper.formats import Paper, Size
from core.paper.tiling import Outline, Sheet, Tiling, count, tiled


def rectangle(width: float, height: float, x: float = 0.0, y: float = 0.0) -> Outline:
    return np.array([(x, y), (x + width, y), (x + width, y + height), (x, y + height)])


def test_a0_on_a4_without_overlap_is_five_by_five() -> None:
    """Closed form: ceil(841 / 190) x ceil(1189 / 277). ISO 216 for the sizes."""
    a0 = Paper.A0.size
    found = tiled([rectangle(*a0)], Paper.A4.size, margin=10.0, overlap=0.0)
    assert {found.rows, found.columns} == {5}


def test_600_by_1100_on_a4_with_an_overlap_of_10_is_four_by_five() -> None:
    """Closed form: ceil((600 - 10) / (190 - 10)) = 4, ceil((1100 - 10) / (277 - 10)) = 5."""
    assert count(600.0, 190.0, 10.0) == 4
    assert count(1100.0, 277.0, 10.0) == 5


@pytest.mark.parametrize(
    ("paper", "size"),
    [(Paper.A4, (210, 297)), (Paper.A0, (841, 1189)), (Paper.LETTER, (215.9, 279.4)),
     (Paper.TABLOID, (279.4, 431.8)), (Paper.ARCH_E, (914.4, 1219.2))],
)  # fmt: skip
def test_sizes_of_paper(paper: Paper, size: tuple[float, float]) -> None:
    """ISO 216; US sizes are 8 1/2 x 11, 11 x 17 and 36 x 48 in."""
    assert paper.size == Size(*size)


SIZES = st.floats(20.0, 1500.0)


@given(SIZES, SIZES, st.floats(-500.0, 500.0), st.sampled_from(Paper), st.floats(0.0, 30.0))
def test_every_point_of_the_outline_lies_on_a_sheet(
    width: float, height: float, x: float, paper: Paper, overlap: float
) -> None:
    outline = rectangle(width, height, x, -x)
    try:
        found = tiled([outline], paper.size, overlap=overlap)
    except PaperError:
        return
    for share in np.linspace(0.0, 1.0, 23):
        for a, b in zip(outline, np.roll(outline, -1, axis=0), strict=True):
            px, py = a + share * (b - a)
            on = [s for s in found.sheets if _holds(s.part, px, py)]
            assert on, f"({px}, {py}) is on no sheet"
    for one in found.sheets:
        right = found.beside(one, 0, 1)
        if right is not None:
            assert one.part.x1 - right.part.x0 == pytest.approx(overlap, abs=1e-6)


def _holds(part: Box, x: float, y: float) -> bool:
    near = 1e-5
    return part.x0 - near <= x <= part.x1 + near and part.y0 - near <= y <= part.y1 + near


def test_a_sheet_with_nothing_to_cut_is_left_out_and_one_within_a_piece_is_not() -> None:
    ring = np.array([(0, 0), (900, 0), (900, 1200), (600, 1200), (600, 300), (300, 300),
                     (300, 1200), (0, 1200)], dtype=float)  # fmt: skip
    found = tiled([ring], Paper.A4.size)
    assert len(found.sheets) < found.rows * found.columns, "wanted the hollow left out"
    whole = tiled([rectangle(1000.0, 1200.0)], Paper.A4.size)
    assert len(whole.sheets) == whole.rows * whole.columns, "wanted the inside kept"


def test_paper_lies_the_way_that_needs_fewer_sheets() -> None:
    found = tiled([rectangle(270.0, 180.0)], Paper.A4.size)
    assert (len(found.sheets), found.paper) == (1, Paper.A4.size.lying)


@pytest.mark.parametrize(("row", "label"), [(0, "A1"), (25, "Z1"), (26, "AA1"), (27, "AB1")])
def test_labels(row: int, label: str) -> None:
    assert Sheet(row, 0, Box(0, 0, 1, 1)).label == label


@pytest.mark.parametrize(
    ("outlines", "margin", "overlap", "words"),
    [
        ([], 10.0, 10.0, "no piece"),
        ([rectangle(100.0, 100.0)], 110.0, 10.0, "no room"),
        ([rectangle(100.0, 100.0)], 10.0, 200.0, "no room"),
        ([rectangle(100.0, 100.0)], -1.0, 0.0, "no room"),
        ([rectangle(9e4, 9e4)], 10.0, 10.0, "Check the scale"),
    ],
)
def test_what_cannot_be_printed_is_refused(
    outlines: list[Outline], margin: float, overlap: float, words: str
) -> None:
    with pytest.raises(PaperError, match=words):
        tiled(outlines, Paper.A4.size, margin=margin, overlap=overlap)


def test_there_is_nothing_beside_the_last_sheet() -> None:
    found: Tiling = tiled([rectangle(400.0, 100.0)], Paper.A4.size)
    assert found.beside(found.sheets[-1], 0, 1) is None
