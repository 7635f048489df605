"""True scale: lengths of CSS, viewBox to page, what is said and what is not."""

from __future__ import annotations

import pytest

from core.errors import FileError, UnitUnknownError
from core.files.svg.transforms import ViewBox, fit
from core.files.svg.units import length
from tests.core.files.svg.build import corners, only, read, svg

EDITOR = 'xmlns:i="http://www.inkscape.org/namespaces/inkscape"'
LINE = '<path d="M0 0H96"/>'


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        # W3C CSS Values and Units 3, absolute lengths.
        ("1in", 25.4),
        ("96px", 25.4),
        ("72pt", 25.4),
        ("6pc", 25.4),
        ("2.54cm", 25.4),
        ("25.4mm", 25.4),
        ("101.6Q", 25.4),
    ],
)
def test_absolute_lengths_are_those_of_css(text: str, mm: float) -> None:
    found = length(text)
    assert found is not None
    got = found.mm if found.mm is not None else found.user(0.0) * 25.4 / 96
    assert got == pytest.approx(mm, abs=1e-13), f"wanted {mm}, got {got}"


@pytest.mark.parametrize("text", ["210 mm", "210MM", " 210mm ", "+2.1e2mm", "21.cm"])
def test_blanks_capitals_and_odd_numbers_in_lengths(text: str) -> None:
    found = length(text)
    assert found is not None
    assert found.mm == pytest.approx(210.0, abs=1e-12)


@pytest.mark.parametrize("text", ["", "mm", "10 mm 5", "1e999mm", "NaN", "10furlong", "auto"])
def test_what_is_no_length(text: str) -> None:
    assert length(text) is None


@pytest.mark.parametrize("unit", ["mm", "cm", "in", "pt", "pc", "Q", "MM"])
def test_a_page_in_paper_units_is_sure_and_exact(unit: str) -> None:
    per = {"mm": 1, "cm": 10, "in": 25.4, "pt": 25.4 / 72, "pc": 25.4 / 6, "q": 0.25}
    mm = per[unit.lower()]
    root = f'width="200{unit}" height="100{unit}" viewBox="0 0 100 50"'
    reading = read(svg(LINE, root=root))
    assert reading.unit.because.sure
    assert reading.unit.mm_per_unit == pytest.approx(2 * mm, rel=1e-15)
    assert reading.shapes[0].geometry.end.x == pytest.approx(96 * 2 * mm, rel=1e-15)
    assert reading.problems == ()


def test_a_hundred_mm_are_a_hundred_mm() -> None:
    # A widely used library reads 100.000054 here.
    chain = only(svg('<path d="M0 0H100"/>', root='width="100mm" height="9mm" viewBox="0 0 100 9"'))
    assert chain.end.x == 100.0


def test_ninety_six_px_are_an_inch() -> None:
    chain = only(svg(LINE, root='width="500px" height="500px"'))
    assert chain.end.x == pytest.approx(25.4, abs=1e-14)


def test_px_with_its_suffix_is_taken_but_not_for_sure() -> None:
    root = 'width="850.39px" height="566.93px" viewBox="0 0 850.39 566.93"'
    reading = read(svg('<path d="M0 0H850.39"/>', root=root))
    assert not reading.unit.because.sure
    assert reading.shapes[0].geometry.end.x == pytest.approx(225.0, abs=2e-3)
    assert any("test square" in p for p in reading.problems)


@pytest.mark.parametrize(
    ("extra", "mm", "sure"),
    [
        # wiki.inkscape.org, "CSS96"; check values: 225, 240 and 300 mm for the same numbers.
        (f'{EDITOR} i:version="0.48.4 r99"', 240, False),
        (f'{EDITOR} i:version="0.92.1"', 225, True),
        (f'{EDITOR} i:version="1:1.3 (0e1)"', 225, True),
        ('enable-background="new 0 0 850.39 566.93"', 300, False),
        ('style="enable-background:new 0 0 850.39 566.93;"', 300, False),
    ],
)
@pytest.mark.parametrize("suffix", ["", "px"])
def test_signs_of_an_editor_tell_the_count(extra: str, mm: float, sure: bool, suffix: str) -> None:
    size = f'width="850.39{suffix}" height="566.93{suffix}" viewBox="0 0 850.39 566.93"'
    reading = read(svg('<path d="M0 0H850.39"/>', root=f"{size} {extra}"))
    got = reading.shapes[0].geometry.end.x
    assert got == pytest.approx(mm, abs=2e-3), f"wanted {mm}, got {got}"
    assert reading.unit.because.sure is sure
    assert bool(reading.problems) is not sure


@pytest.mark.parametrize(
    ("root", "words"),
    [
        (f'width="900" height="450" {EDITOR} i:version="0.48"',
         ("90 px an inch, which makes its page 25.4 x 12.7 cm. Is that so?", "23.8 x 11.9 cm at 96 "
          "(--unit 1/96in)", "31.8 x 15.9 cm at 72 (--unit 1/72in)")),
        ('width="720px" height="360px" viewBox="0 0 72 36" enable-background="new"',
         ("72 px an inch, which makes its page 25.4 x 12.7 cm", "at 96 (--unit 2.64583mm)")),
    ],
)  # fmt: skip
def test_a_count_of_72_or_90_is_asked_about(root: str, words: tuple[str, ...]) -> None:
    (problem,) = read(svg(LINE, root=root)).problems
    for wanted in (*words, "Measure the test square"):
        assert wanted in problem, f"wanted {wanted!r} in {problem!r}"


@pytest.mark.parametrize(
    "root",
    [
        'width="850" height="567"',
        'width="850" height="567" viewBox="0 0 850 567"',
        'viewBox="0 0 850 567"',
        'width="100%" height="100%" viewBox="0 0 850 567"',
        "",
    ],
)
def test_an_unknown_unit_is_asked_for(root: str) -> None:
    data = svg('<path d="M0 0H850V567"/>', root=root)
    with pytest.raises(UnitUnknownError) as caught:
        read(data)
    text = str(caught.value)
    assert "--unit" in text
    for words in ("22.5 x 15.0 cm at 96", "24.0 x 16.0 cm at 90", "30.0 x 20.0 cm at 72"):
        assert words in text, f"wanted {words!r} in {text!r}"
    assert only(data, mm_per_unit=0.5).end.x == 425.0


def test_the_unit_by_hand_counts_from_the_corner_of_the_viewbox() -> None:
    data = svg('<path d="M10 20L12 24"/>', root='viewBox="10 20 5 5"')
    assert corners(only(data, mm_per_unit=10.0)) == [(0.0, 0.0)]


def test_a_unit_by_hand_against_the_file_is_said() -> None:
    reading = read(svg(LINE), mm_per_unit=2.0)
    assert reading.shapes[0].geometry.end.x == 192.0
    assert any("by hand" in p for p in reading.problems)


@pytest.mark.parametrize("mm", [0.0, -1.0, float("nan"), float("inf")])
def test_a_unit_that_cannot_be(mm: float) -> None:
    with pytest.raises(FileError, match="cannot be"):
        read(svg(LINE), mm_per_unit=mm)


def test_paper_size_without_viewbox_is_unsure() -> None:
    reading = read(svg(LINE, root='width="210mm" height="297mm"'))
    assert reading.shapes[0].geometry.end.x == pytest.approx(25.4, abs=1e-13)
    assert not reading.unit.because.sure
    assert reading.problems


@pytest.mark.parametrize(
    ("ratio", "left"),
    # W3C SVG 2, 8.2: 200 x 100 shows 50 x 50 at scale 2, with 100 mm to spare in x.
    [("", 50.0), ("xMinYMid", 0.0), ("xMidYMin meet", 50.0), ("xMaxYMax", 100.0)],
)
def test_the_spare_room_of_a_page_by_its_alignment(ratio: str, left: float) -> None:
    by = fit(ViewBox(0, 0, 50, 50), 200, 100, ratio)
    assert (by.a, by.d, by.e, by.f) == (2.0, 2.0, left, 0.0)


def test_slice_takes_the_larger_scale() -> None:
    by = fit(ViewBox(10, 0, 50, 50), 200, 100, "xMidYMid slice")
    assert (by.a, by.e, by.f) == (4.0, -40.0, -50.0)


def test_an_uneven_page_is_drawn_as_it_is_and_said() -> None:
    root = 'width="200mm" height="100mm" viewBox="0 0 50 50" preserveAspectRatio="none"'
    reading = read(svg('<path d="M0 0L1 1"/>', root=root))
    end = reading.shapes[0].geometry.end
    assert (end.x, end.y) == (4.0, 2.0)
    assert any("unevenly" in p for p in reading.problems)


def test_one_side_of_the_page_is_enough() -> None:
    reading = read(svg('<path d="M0 0H50"/>', root='width="100mm" viewBox="0 0 50 20"'))
    assert reading.shapes[0].geometry.end.x == 100.0
    assert not reading.unit.because.sure


@pytest.mark.parametrize(
    "root",
    [
        'width="0mm" height="9mm"',
        'width="9mm" height="9mm" viewBox="0 0 0 9"',
        'viewBox="0 0 5 -1"',
    ],
)
def test_a_page_without_size_is_refused(root: str) -> None:
    with pytest.raises(FileError, match="line 1"):
        read(svg(LINE, root=root))


def test_lengths_of_shapes_keep_to_css_inside_a_viewbox() -> None:
    # 10 mm inside are 37.795 user units, whatever the viewBox makes of these.
    root = 'width="100mm" height="100mm" viewBox="0 0 200 200"'
    chain = only(svg('<line x1="0" y1="0" x2="1in" y2="0"/>', root=root))
    assert chain.end.x == pytest.approx(48.0, abs=1e-12)


def test_percentages_are_parts_of_the_right_side() -> None:
    # A widely used library swaps width and height here when there is no viewBox.
    root = 'width="400px" height="100px"'
    chain = only(svg('<line x1="0" y1="0" x2="50%" y2="50%"/>', root=root))
    px = 25.4 / 96
    assert (chain.end.x, chain.end.y) == pytest.approx((200 * px, 50 * px), abs=1e-12)
