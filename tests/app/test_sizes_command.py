"""``--size`` and ``--by-size`` as a person types them."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from app.__main__ import main
from core.files import read

SAMPLES = Path(__file__).parent.parent.parent / "sample_pieces"
NESTS = [SAMPLES / "rain_breeches.svg", SAMPLES / "rain_breeches.dxf"]


def grown(before: Path, after: Path) -> dict[str, float]:
    """By how many mm each piece got higher, by its name."""
    was = {p.name: p.ring.bounds().height for p in read(before).pieces}
    return {p.name: round(p.ring.bounds().height - was[p.name], 2) for p in read(after).pieces}


def sizes_changed(source: Path, out: Path) -> set[str]:
    return {name.split()[-1] for name, mm in grown(source, out).items() if mm}


@pytest.mark.parametrize("source", NESTS, ids=lambda p: p.suffix)
def test_one_amount_goes_to_every_size(source: Path, tmp_path: Path) -> None:
    out = tmp_path / source.name
    assert main(["alter", str(source), "--by", "5cm", "--out", str(out)]) == 0
    assert sizes_changed(source, out) == {"36", "38", "40", "42", "44"}


@pytest.mark.parametrize("source", NESTS, ids=lambda p: p.suffix)
def test_each_size_gets_the_amount_typed_for_it(source: Path, tmp_path: Path) -> None:
    out, report = tmp_path / source.name, tmp_path / "r.json"
    words = ["alter", str(source), "--by-size", "38=5cm", "--by-size", "40=5.5cm"]
    assert main([*words, "--out", str(out), "--report", str(report)]) == 0
    fronts = {n.split()[-1]: mm for n, mm in grown(source, out).items() if "front" in n.lower()}
    assert fronts == pytest.approx({"36": 0, "38": 50, "40": 55, "42": 0, "44": 0}, abs=0.02)
    told = json.loads(report.read_text())
    assert told["by_size_mm"] == {"38": 50.0, "40": 55.0}
    assert {p["size"] for p in told["pieces"]} == {"38", "40"}


def test_the_other_sizes_get_what_by_says(tmp_path: Path) -> None:
    out = tmp_path / "o.svg"
    words = ["alter", str(NESTS[0]), "--by", "2cm", "--by-size", "44=-3cm", "--out", str(out)]
    assert main(words) == 0
    fronts = {n.split()[-1]: mm for n, mm in grown(NESTS[0], out).items() if "Front" in n}
    assert fronts == pytest.approx({"36": 20, "38": 20, "40": 20, "42": 20, "44": -30}, abs=0.02)


@pytest.mark.parametrize("command", [["alter"], ["insert", "--at", "30cm"]])
def test_only_the_chosen_size_changes(command: list[str], tmp_path: Path) -> None:
    out = tmp_path / "o.svg"
    words = [*command, str(NESTS[0]), "--by", "3cm", "--size", "40", "--out", str(out)]
    assert main(words) == 0
    assert sizes_changed(NESTS[0], out) == {"40"}


def test_a_piece_is_chosen_in_all_sizes_or_in_one(tmp_path: Path) -> None:
    out = tmp_path / "o.svg"
    for words, wanted in (
        (["--piece", "front"], 5), (["--piece", "Front 38"], 1),
        (["--piece", "front", "--size", "38", "--size", "40"], 2),
    ):  # fmt: skip
        line = ["alter", str(NESTS[0]), "--by", "3cm", "--out", str(out), *words]
        assert main(line) == 0
        changed = [n for n, mm in grown(NESTS[0], out).items() if mm]
        assert len(changed) == wanted, words
        assert all("Front" in n for n in changed)


@pytest.mark.parametrize(
    "words", [["--by", "3cm", "--size", "39"], ["--by-size", "39=5cm"], ["--by-size", "M=5cm"]]
)
def test_an_unknown_size_is_answered_with_those_there_are(
    words: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "o.svg"
    assert main(["alter", str(NESTS[0]), *words, "--out", str(out)]) == 1
    assert "The sizes are 36, 38, 40, 42 and 44." in capsys.readouterr().err
    assert not out.exists()


def test_a_pattern_without_sizes_says_so(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    source = SAMPLES / "potting_skirt.svg"
    words = ["alter", str(source), "--by", "3cm", "--size", "38", "--out", str(tmp_path / "o.svg")]
    assert main(words) == 1
    assert "does not name any sizes" in capsys.readouterr().err


@pytest.mark.parametrize("typed", ["38", "38=", "=5cm", "38=5", "38=soon"])
def test_a_size_without_a_clear_amount_is_wrong_usage(typed: str, tmp_path: Path) -> None:
    with pytest.raises(SystemExit) as stop:
        main(["alter", str(NESTS[0]), "--by-size", typed, "--out", str(tmp_path / "o.svg")])
    assert stop.value.code == 2


def test_without_any_amount_it_is_wrong_usage(tmp_path: Path) -> None:
    with pytest.raises(SystemExit) as stop:
        main(["alter", str(NESTS[0]), "--out", str(tmp_path / "o.svg")])
    assert stop.value.code == 2


def test_inspect_goes_size_by_size(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["inspect", str(NESTS[0])]) == 0
    lines = capsys.readouterr().out.splitlines()
    headings = [line.split(":")[0] for line in lines if line.startswith("Size ")]
    assert headings == [f"Size {s}" for s in (36, 38, 40, 42, 44)]
    assert main(["inspect", "--json", str(NESTS[0])]) == 0
    data = json.loads(capsys.readouterr().out)
    assert {p["size"] for p in data["pieces"]} == {"36", "38", "40", "42", "44"}
    assert all(p["size_told"]["sure"] for p in data["pieces"])
