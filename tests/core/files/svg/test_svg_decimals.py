"""All numbers of a text at once: to the last bit what Python makes of each."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.files.svg import decimals as room
from core.files.svg.decimals import decimals

digits = st.text("0123456789", max_size=18)


@st.composite
def number(draw: st.DrawFn) -> str:
    """Of any length, with any of the parts that SVG allows."""
    whole, after = draw(digits), draw(st.none() | digits)
    if not whole and not after:
        whole = "0"
    power = draw(st.sampled_from(["", "", "", "e5", "E-3", "e+12"]))
    dot = "" if after is None else "." + after
    return draw(st.sampled_from(["", "-", "+"])) + whole + dot + power


def _read(text: str) -> list[float]:
    return decimals(text.encode()).values.tolist()


def _bits(values: list[float]) -> list[str]:
    return [v.hex() for v in values]


@given(st.lists(number(), min_size=1), st.sampled_from([" ", ",", "\n", " L", "z"]))
def test_each_is_what_float_makes_of_it(written: list[str], between: str) -> None:
    got, wanted = _read(between.join(written)), list(map(float, written))
    assert _bits(got) == _bits(wanted), f"wanted {wanted}, got {got}"


@given(st.floats(allow_nan=False, allow_infinity=False), st.integers(0, 17))
def test_any_float_as_programs_write_it(value: float, decimals_: int) -> None:
    for text in (repr(value), f"{value % 1e6:.{decimals_}f}", f"{value:.{decimals_}g}"):
        assert _bits(_read(f"M{text} ")) == _bits([float(text)]), text


@given(st.lists(st.tuples(digits.filter(bool), digits.filter(bool)), min_size=1))
def test_numbers_may_run_together(parts: list[tuple[str, str]]) -> None:
    """A sign begins a number, and so does a second dot."""
    signed = "".join(f"-{a}.{b}" for a, b in parts)
    dotted = "1" + "".join(f".{b}" for _, b in parts)
    assert _read(signed) == [-float(f"{a}.{b}") for a, b in parts]
    assert _read(dotted) == [float(f"1.{parts[0][1]}"), *(float(f".{b}") for _, b in parts[1:])]


@pytest.mark.parametrize("text", ["-", ".", "+.", "1e", "1e-", ".e5", "1e.5", "e5"])
def test_what_looks_like_a_number_and_is_none(text: str) -> None:
    (_, found, _) = _read(f"1 {text} 2")
    assert math.isnan(found)


@given(st.lists(number(), min_size=1), st.integers(1, 40))
def test_where_the_text_is_parted_makes_no_difference(written: list[str], part: int) -> None:
    text, wanted = " ".join(written), list(map(float, written))
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(room, "_PART", part)
        found = decimals(text.encode())
    assert _bits(found.values.tolist()) == _bits(wanted)
    begins = [text[b : b + len(w)] for b, w in zip(found.begins.tolist(), written, strict=True)]
    assert begins == written


def test_no_numbers() -> None:
    assert _read("") == _read("zz") == []
