"""The committed sample pieces are what the script draws, byte for byte."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from sample_pieces import draw

FOLDER = Path(draw.__file__).resolve().parent


@pytest.mark.parametrize("name", sorted(draw.FILES))
def test_the_committed_file_is_what_the_script_draws(name: str) -> None:
    wanted, got = draw.FILES[name](), (FOLDER / name).read_bytes()
    said = f"wanted {len(wanted)} bytes, got {len(got)}; run sample_pieces/draw.py"
    assert got == wanted, f"{name}: {said}"


def test_every_drawn_file_beside_the_script_is_one_of_its_own() -> None:
    got = {p.name for p in FOLDER.iterdir() if p.suffix in {".svg", ".dxf"}}
    assert got == set(draw.FILES), f"wanted {sorted(draw.FILES)}, got {sorted(got)}"


def test_the_script_runs_from_anywhere_and_makes_its_folder(tmp_path: Path) -> None:
    target = tmp_path / "new" / "folder"
    run = [sys.executable, str(FOLDER / "draw.py"), str(target)]
    subprocess.run(run, cwd=tmp_path, check=True, timeout=60)
    for name in draw.FILES:
        assert (target / name).read_bytes() == (FOLDER / name).read_bytes(), name


def test_too_many_folders_are_refused(capsys: pytest.CaptureFixture[str]) -> None:
    assert draw.main(["one", "two"]) == 2
    assert "Usage" in capsys.readouterr().err
