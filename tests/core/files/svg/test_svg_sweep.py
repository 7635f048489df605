"""The path data of many shapes read at once: bit for bit what is read step by step."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.curve import Affine
from core.files.svg import figures as room
from core.files.svg.figures import Data, figures
from core.files.svg.sweep import sweep

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
    count = {"h": 1, "v": 1, "c": 6, "s": 4, "q": 4}.get(letter.lower(), 2)
    found = draw(st.lists(numbers, min_size=count, max_size=count * 3))
    found = found[: len(found) // count * count]
    out = letter + draw(st.sampled_from(["", " "])) + found[0]
    for n in found[1:]:
        tight = n[0] in "+-" and draw(st.booleans())
        out += ("" if tight else draw(between)) + n
    return out + draw(st.sampled_from(["", "\n"]))


plain = st.builds(
    lambda first, rest: first + "".join(rest), command("Mm"), st.lists(command(), max_size=6)
)
astray = st.sampled_from(["", " ", "L1 1", "M0 0L1,,2", ",", "5 5", "M1e 5", "M0 0Q1 1 2 5", "Mé1"])
texts = st.one_of(plain, plain, astray)
data = st.builds(lambda text, by: Data(text, by, 2.0), texts, st.sampled_from(MAPS))


@pytest.fixture(autouse=True)
def _however_few(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(room, "FEW", 0)


@given(st.lists(data, min_size=1, max_size=3))
def test_bit_for_bit_what_step_by_step_gives(asked: list[Data]) -> None:
    for one, got in zip(asked, figures(asked), strict=True):
        wanted = room._step_by_step(one)
        assert got.error == wanted.error, f"{one.text!r}: wanted {wanted}, got {got}"
        for a, b in zip(got.found, wanted.found, strict=True):
            assert type(a.geometry) is type(b.geometry), f"{one.text!r}: wanted {b}, got {a}"
            assert a.geometry == b.geometry, f"{one.text!r}: wanted {b}, got {a}"
            assert a.fault == b.fault


def _swept(text: str, most: int = _LOTS) -> bool:
    """Is it read at once, also between two others? These must always be."""
    alone = sweep([text], MAPS[:1], most=most)
    among = sweep(["M0 0H1", text, "M0 0V1 2"], [MAPS[0]] * 3, most=max(most, 2))
    assert among.plain.tolist() == [True, alone.plain[0], True]
    return bool(alone.plain[0])


@pytest.mark.parametrize(
    "text",
    [
        "M0 0L1 2 3 4 c1 1 2 2 3 3 s1 1 2 2z",
        "m1.5.5-3-4+.25 1e1zM5 5L6 7",
        "m1 1 2 2zm3 3 4 5zm1 2h3",
        " M 10,20 30,20\n30,50 Z ",
        "M" + " " * 50 + "1,2 3,4",
    ],
)
def test_plain_data_is_swept(text: str) -> None:
    assert _swept(text)


@pytest.mark.parametrize(
    "text",
    [
        "",
        " ",
        "L1 1",
        "M0 0L1",
        "M0 0L1,,2",
        "M0 0L1 2,",
        "M0 0L,1 2",
        "M0 0L" + " " * 99 + ",1 2",
        "M0 0L1" + " " * 99 + ",,2",
        "M0 0L1 2,L3 4",
        "M0 0L1 2zz",
        "M0 0z1",
        "M0 0z",
        "M0 0L- 5 5",
        "M0 0L1e 5",
        "M0 0L.",
        "M0 0L1_0 2",
        "M0 0Lnan 2",
        "M0 0A5 5 0 0 1 9 9",
        "M0 0Q5 5 9 9",
        "5M0 0L1 1",
        ",M0 0L1 1",
        "M0 0L0 0",
        "M0 0L1 1zL2 3",
        "M0 0L1 é",
    ],
)
def test_what_is_not_plain_is_left_to_step_by_step(text: str) -> None:
    assert not _swept(text)


@pytest.mark.parametrize("text", ["M0 0L1 1 1 2 1 3", "M0 0h1h1h1"])
def test_more_steps_than_asked_for(text: str) -> None:
    assert _swept(text, most=3)
    assert not _swept(text, most=2)


def test_a_long_row_of_relative_steps_is_added_up_as_step_by_step() -> None:
    """A sum of many differences rounds by its order."""
    row = " ".join(f"{0.1 + k / 7:.5f},{-0.3 + k % 5:.3f}" for k in range(500))
    asked = [Data(f"M1 1l{row}", MAPS[1], 2.0), Data(f"m.1.1c{row},5,5zm{row}", MAPS[1], 2.0)]
    assert sweep([a.text for a in asked], [a.by for a in asked], most=_LOTS).plain.all()
    for one, got in zip(asked, figures(asked), strict=True):
        assert got == room._step_by_step(one)
