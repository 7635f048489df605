"""What the checks find is told with every change made on the command line."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from app.__main__ import main

SAMPLES = Path(__file__).parent.parent.parent / "sample_pieces"
SHORTS, TROUSERS = SAMPLES / "allotment_shorts.svg", SAMPLES / "digging_trousers.dxf"
WAYS = [["alter", SHORTS, "--by"], ["insert", SHORTS, "--at", "25cm", "--by"]]


def told(tmp_path: Path, *words: str | Path) -> dict[str, Any]:
    report = tmp_path / "r.json"
    out = tmp_path / f"out{Path(words[1]).suffix}"
    assert main([*map(str, words), "--out", str(out), "--report", str(report)]) == 0
    found: dict[str, Any] = json.loads(report.read_text())
    return found


@pytest.mark.parametrize("words", WAYS)
def test_the_report_carries_the_checks_with_piece_and_place(
    words: list[str | Path], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    found = told(tmp_path, *words, "3cm")
    names = {p["key"]: p["name"] for p in found["pieces"]}
    assert found["sentences_in"] == "cm"
    printed = capsys.readouterr().out
    for one in found["checks"]:
        assert one["severity"] in {"stop", "look at this", "well", "note"}
        assert f"  {one['severity']}: {one['sentence']}\n" in printed
        if one["place_mm"] is not None:
            assert len(one["place_mm"]) == 2
            assert names[one["piece"]["key"]] == one["piece"]["name"]
    walked = [c for c in found["checks"] if "they match" in c["sentence"]]
    assert len(walked) == 2
    assert all(c["severity"] == "well" and c["place_mm"] for c in walked)
    (led,) = [c for c in found["checks"] if c["sentence"].startswith("Front leads")]
    assert led["piece"]["name"] == "Back"
    assert {p["name"]: {e["piece"] for e in p["led_by"]} for p in found["pieces"]} == {
        "Front": set(), "Back": {"Front"},
    }  # fmt: skip


@pytest.mark.parametrize("words", WAYS)
def test_lengths_are_told_in_the_unit_that_was_typed(
    words: list[str | Path], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    found = told(tmp_path, *words, "1 1/2 in")
    printed = capsys.readouterr().out
    assert found["sentences_in"] == "in"
    sentences = [c["sentence"] for c in found["checks"]]
    sentences += [p["steps"][0] for p in found["pieces"]]
    assert not [s for s in sentences if " cm" in s], "wanted inches"
    assert "side seam       15 1/4 in  ->   16 3/4 in" in printed


def test_the_hem_is_held_against_the_girth_that_is_given(tmp_path: Path) -> None:
    """The hem of the shorts is 66.0 cm around after 6 cm."""
    for girth, ease, severity, words in (
        ("70cm", "2cm", "look at this", "with ease 72.0 cm: 6.0 cm are missing"),
        ("60cm", "4cm", "well", "that leaves an ease of 6.0 cm"),
    ):
        found = told(tmp_path, "alter", SHORTS, "--by", "6cm", "--girth", girth, "--ease", ease)
        (one,) = [c for c in found["checks"] if words in c["sentence"]]
        assert one["severity"] == severity
        assert one["place_mm"] is not None


def test_a_piece_changed_alone_stops_the_maker(tmp_path: Path) -> None:
    """Its mate in the same file stays as it is, and is walked all the same."""
    found = told(tmp_path, "alter", SHORTS, "--by", "3cm", "--piece", "Back")
    stops = [c["sentence"] for c in found["checks"] if c["severity"] == "stop"]
    assert len(stops) == 2
    assert all("Change both pieces together" in s for s in stops)
    assert [p["name"] for p in found["pieces"]] == ["Back"]


def test_the_line_lies_on_both_pieces_at_the_same_place_of_their_seams(tmp_path: Path) -> None:
    found = told(tmp_path, "insert", TROUSERS, "--at", "80cm", "--by", "3cm")
    levels = {p["name"]: p["level_mm"] for p in found["pieces"]}
    assert levels["Front"] == 800.0
    assert levels["Back"] == pytest.approx(826.0, abs=0.1)
    for piece in found["pieces"]:
        (side,) = [e for e in piece["edges"] if e["role"] == "side seam"]
        assert side["after_mm"] - side["before_mm"] == pytest.approx(30.0, abs=0.1)
    walked = [c for c in found["checks"] if "they match" in c["sentence"]]
    assert len(walked) == 2


def test_nothing_changed_is_nothing_to_check(tmp_path: Path) -> None:
    found = told(tmp_path, "alter", SHORTS, "--by", "0")
    assert found["checks"] == found["pieces"] == []
