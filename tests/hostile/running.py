"""Runs a hostile file through the same door as a person's, with hard limits on time and memory."""

from __future__ import annotations

import subprocess
import sys
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
SECONDS, MEGABYTES = 10, 1024
# What `_a_little_work` takes (s of the processor) on the computer for which SECONDS was meant. One
# that is slower, or shares its processor with others unseen, is given as much more.
USUAL = 0.034


@dataclass(frozen=True)
class Case:
    """A file, and a part of what has to be said; ``works`` when it can be altered all the same."""

    make: Callable[[], bytes]
    says: str = ""
    works: bool = False


@dataclass(frozen=True)
class Ended:
    """How a run ended: code, all it said, seconds of the usual processor, megabytes."""

    code: int
    said: str
    seconds: float
    megabytes: float


def alter(path: Path, out: Path, folder: Path | None = None) -> Ended:
    """``hemward alter`` on the file; what it says is kept in `folder` meanwhile."""
    door = ["-m", "app", "alter", str(path), "--by", "20mm", "--out", str(out)]
    return run(door, folder or path.parent)


def run(arguments: list[str], folder: Path) -> Ended:
    """Python with the arguments, measured; what it says is kept in `folder` meanwhile."""
    said, report = folder / "said.txt", folder / "report.txt"
    launcher = [sys.executable, "-I", "-S", str(Path(__file__).with_name("launcher.py"))]
    command = [*launcher, str(6 * SECONDS), str(report), sys.executable, *arguments]
    before = _slowness()
    with said.open("wb") as pipe:
        subprocess.run(command, cwd=ROOT, stdout=pipe, stderr=pipe, check=True)
    code, seconds, megabytes = report.read_text("ascii").split()
    text = said.read_text("utf-8", "replace")
    said.unlink()
    report.unlink()
    usual = float(seconds) / ((before + _slowness()) / 2.0)
    return Ended(int(code), text, usual, float(megabytes))


def _slowness() -> float:
    """How many times as long as on the usual computer work takes here just now; at least 1."""
    began = time.process_time()
    _a_little_work()
    return max(1.0, (time.process_time() - began) / USUAL)


def _a_little_work() -> int:
    words: dict[int, tuple[float, int]] = {}
    total = 0
    for k in range(120_000):
        words[k % 4096] = (k * 0.5, k % 7)
        total += len(words) + int(words[k % 4096][0])
    return total


def ends_in_a_sentence(case: Case, path: Path) -> None:
    """Fail unless the file ends in its sentence, or in the altered file, within the limits, and
    nothing else was written."""
    out = path.with_name(f"out{path.suffix}")
    data = case.make()
    path.write_bytes(data)
    ended = alter(path, out)
    assert "Traceback" not in ended.said, ended.said[-2000:]
    assert "not foreseen" not in ended.said, ended.said[-2000:]
    wanted = 0 if case.works else 1
    assert ended.code == wanted, f"wanted exit {wanted}, got {ended.code}: {ended.said[:800]}"
    assert case.says in ended.said, f"wanted “{case.says}” in: {ended.said[:800]}"
    assert path.name in ended.said
    assert ended.seconds < SECONDS, f"wanted less than {SECONDS} s, got {ended.seconds:.1f}"
    assert ended.megabytes < MEGABYTES, f"wanted less than 1 GiB, got {ended.megabytes:.0f} MB"
    assert path.read_bytes() == data, "wanted the file itself untouched"
    written = {p.name for p in path.parent.iterdir()} - {path.name}
    assert written == ({out.name} if case.works else set()), f"wanted nothing else, got {written}"
