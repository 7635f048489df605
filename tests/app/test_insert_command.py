"""``hemward insert`` as a person types it."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

from app.__main__ import main
from core.files import read
from core.piece.model import Role

ROOT = Path(__file__).parent.parent.parent
SAMPLES = ROOT / "sample_pieces"
SKIRT, TROUSERS = SAMPLES / "potting_skirt.svg", SAMPLES / "digging_trousers.dxf"


def insert(*words: str | Path) -> int:
    return main(["insert", *map(str, words)])


def test_the_report_tells_what_the_saved_file_holds(tmp_path: Path) -> None:
    out, report = tmp_path / "longer.dxf", tmp_path / "r.json"
    assert insert(TROUSERS, "--at", "60cm", "--by", "6cm", "--out", out, "--report", report) == 0
    told = json.loads(report.read_text())
    assert (told["at_mm"], told["by_mm"], told["true"], told["blend_mm"]) == (
        600.0, 60.0, "smooth", None,
    )  # fmt: skip
    again = {p.name: p for p in read(out).pieces}
    assert [p["name"] for p in told["pieces"]] == ["Front", "Back"]
    for piece in told["pieces"]:
        edges = {e["role"]: e for e in piece["edges"]}
        side = again[piece["name"]].edge(Role.SIDE)
        length = again[piece["name"]].edge_length(side)
        wanted = edges["side seam"]["after_mm"]
        assert abs(length - wanted) < 0.02, f"wanted {wanted}, got {length}, tolerance 0.02"
        assert piece["hem_width_before_mm"] == piece["hem_width_after_mm"]
        assert piece["steps"][1].startswith("Cut along the line")


@pytest.mark.parametrize("by", ["-3cm", "-1 1/2 in", "40mm"])
@pytest.mark.parametrize("true", ["straight", "smooth"])
def test_length_is_put_in_and_folded_out(
    by: str, true: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "skirt.svg"
    words = ["--at", "25cm", "--by", by, "--out", out, "--true", true, "--blend", "8 cm"]
    assert insert(SKIRT, *words) == 0
    mm = {"-3cm": -30.0, "-1 1/2 in": -38.1, "40mm": 40.0}[by]
    (old,), (new,) = read(SKIRT).pieces, read(out).pieces
    grown = new.edge_length(new.edge(Role.FOLD)) - old.edge_length(old.edge(Role.FOLD))
    assert abs(grown - mm) < 0.01, f"wanted {mm}, got {grown}, tolerance 0.01"
    assert "fold" in capsys.readouterr().out


def test_one_piece_alone(tmp_path: Path) -> None:
    out = tmp_path / "back.dxf"
    assert insert(TROUSERS, "--at", "60cm", "--by", "6cm", "--out", out, "--piece", "back") == 0
    before, after = ({p.name: p for p in read(f).pieces} for f in (TROUSERS, out))
    assert before["Front"].outline.ring == after["Front"].outline.ring
    assert before["Back"].outline.ring != after["Back"].outline.ring


@pytest.mark.parametrize("name", ["potting_skirt.svg", "digging_trousers.dxf"])
def test_nothing_put_in_gives_the_identical_bytes(name: str, tmp_path: Path) -> None:
    assert insert(SAMPLES / name, "--at", "20cm", "--by", "0", "--out", tmp_path) == 0
    assert (tmp_path / name).read_bytes() == (SAMPLES / name).read_bytes()


@pytest.mark.parametrize(
    ("words", "telling"),
    [
        (["--at", "3m", "--by", "4cm"], "does not cross"),
        (["--at", "25cm", "--by", "-60cm"], "Fold out"),
        (["--at", "3cm", "--by", "-9cm"], "at most"),
        (["--at", "25cm", "--by", "4cm", "--piece", "Sail"], "no piece called"),
        (["--at", "25cm", "--by", "4cm", "--blend=-2cm"], "0 or more"),
    ],
)
def test_what_cannot_be_is_one_sentence_and_nothing_is_written(
    words: list[str], telling: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert insert(SKIRT, *words, "--out", tmp_path / "out" / "skirt.svg") == 1
    said = capsys.readouterr()
    assert said.out == ""
    assert len(said.err.strip().splitlines()) == 1, said.err
    assert telling in said.err
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    "words",
    [
        [],
        ["--at", "25cm", "--out", "x.svg"],
        ["--by", "4cm", "--out", "x.svg"],
        ["--at", "25", "--by", "4cm", "--out", "x.svg"],
        ["--at", "25cm", "--by", "4cm", "--out", "x.svg", "--true", "bent"],
    ],
)
def test_wrong_usage(words: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as stop:
        insert(SKIRT, *words)
    assert stop.value.code == 2
    assert "usage" in capsys.readouterr().err


def test_help_loads_neither_screen_nor_readers() -> None:
    script = (
        "import sys\n"
        "from app.__main__ import main\n"
        "try:\n    main(['insert', '--help'])\n"
        "except SystemExit as stop:\n    assert stop.code == 0\n"
        "heavy = {'PySide6', 'ezdxf', 'svgelements', 'shapely', 'numpy'} & set(sys.modules)\n"
        "assert not heavy, heavy\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", script], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr
    assert "--blend" in done.stdout
