"""Long path data read in one sweep: bit for bit what is read step by step."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.curve import Affine, Chain
from core.files.svg.pathdata import TooManyStepsError, parse
from core.files.svg.sweep import joined, placed, sweep
from core.files.svg.trace import trace

MAPS = (Affine(), Affine(0.3, 0.1, -0.2, -1.7, 12.0, -7.0), Affine.scale(25.4 / 96))
_LOTS = 1_000_000


def _number(value: float, style: int) -> str:
    text = (f"{value:g}", f"{value:.3f}", f"{value:+.1f}", f"{value:.2e}")[style]
    return text.replace("0.", ".", 1) if style == 0 and text.startswith(("0.", "-0.")) else text


numbers = st.builds(_number, st.integers(-9000, 9000).map(lambda k: k / 8), st.integers(0, 3))
between = st.sampled_from([" ", ",", " , ", "\n", "  "])


@st.composite
def command(draw: st.DrawFn, letters: str = "LlHhVvCcSsMmZz") -> str:
    letter = draw(st.sampled_from(letters))
    if letter in "Zz":
        return letter
    count = {"h": 1, "v": 1, "c": 6, "s": 4}.get(letter.lower(), 2)
    found = draw(st.lists(numbers, min_size=count, max_size=count * 3))
    found = found[: len(found) // count * count]
    out = letter + draw(st.sampled_from(["", " "])) + found[0]
    for n in found[1:]:
        tight = n[0] in "+-" and draw(st.booleans())
        out += ("" if tight else draw(between)) + n
    return out + draw(st.sampled_from(["", "\n"]))


@given(command("Mm"), st.lists(command(), max_size=8), st.sampled_from(MAPS))
def test_bit_for_bit_what_step_by_step_gives(first: str, rest: list[str], by: Affine) -> None:
    text = first + "".join(rest)
    parsed = parse(text, arc_tolerance=1.0)
    runs = sweep(text, most=_LOTS)
    if runs is None:
        return
    assert parsed.error is None, f"{text!r} is not sound, but was swept"
    assert len(runs) == len(parsed.subpaths)
    for run, steps in zip(runs, parsed.subpaths, strict=True):
        at = placed(run, by)
        if at is None:
            continue
        got, wanted = joined(run, at), trace(steps, by).geometry()
        assert isinstance(wanted, Chain)
        assert type(got) is type(wanted), f"wanted {wanted}, got {got}"
        assert got.segments == wanted.segments, f"wanted {wanted}, got {got}"


@pytest.mark.parametrize(
    "text",
    [
        "M0 0L1 2 3 4 c1 1 2 2 3 3 s1 1 2 2zl5 5h1v1 2",
        "m1.5.5-3-4+.25 1e1zM5 5L6 7",
        " M 10,20 30,20\n30,50 Z ",
    ],
)
def test_plain_data_is_swept(text: str) -> None:
    assert sweep(text, most=_LOTS) is not None


@pytest.mark.parametrize(
    "text",
    [
        "L1 1",
        "M0 0L1",
        "M0 0L1,,2",
        "M0 0L1 2,",
        "M0 0L,1 2",
        "M0 0L1 2,L3 4",
        "M0 0L1 2zz",
        "M0 0z1",
        "M0 0L- 5 5",
        "M0 0L1e 5",
        "M0 0L.",
        "M0 0L1_0 2",
        "M0 0Lnan 2",
        "M0 0A5 5 0 0 1 9 9",
        "M0 0Q5 5 9 9",
        "5M0 0L1 1",
    ],
)
def test_what_is_not_plain_is_left_to_step_by_step(text: str) -> None:
    assert sweep(text, most=_LOTS) is None


@pytest.mark.parametrize("text", ["M0 0L1 1 1 2 1 3", "M0 0h1h1h1"])
def test_more_steps_than_asked_for(text: str) -> None:
    with pytest.raises(TooManyStepsError):
        sweep(text, most=2)
