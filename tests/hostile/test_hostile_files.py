"""Files that are not what they seem, paths that do not let one in, a full disk: a sentence each,
nothing half done, nothing left behind.
"""

from __future__ import annotations

import errno
import os
import stat
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from app.__main__ import main
from core.errors import FileError
from core.files import read, write
from core.files.write import save_bytes
from tests.hostile.running import ROOT

SVG, DXF = ROOT / "sample_pieces/allotment_shorts.svg", ROOT / "sample_pieces/digging_trousers.dxf"

NAMES = [
    "two words",
    "ä ö ü",
    "日本語の型紙",
    "שורטס",
    "q'uo\"t",
    "🩳",
    "a.b",
    "-dash",
    "x" * 200,
]


def alter(source: Path, out: Path, capsys: pytest.CaptureFixture[str]) -> tuple[int, str]:
    code = main(["alter", str(source), "--by", "2cm", "--out", str(out)])
    captured = capsys.readouterr()
    return code, captured.out + captured.err


@pytest.mark.parametrize("source", [SVG, DXF], ids=["svg", "dxf"])
@pytest.mark.parametrize(
    "name",
    [
        "two words",
        "ä ö ü",
        "日本語の型紙",
        "שורטס",
        "q'uo\"tes",
        "emoji 🩳",
        "a.b.c",
        "-dash",
        "x" * 200,
    ],
)
def test_any_name_does(
    source: Path, name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path, out = tmp_path / f"{name}{source.suffix}", tmp_path / f"{name} out{source.suffix}"
    path.write_bytes(source.read_bytes())
    code, said = alter(path, out, capsys)
    assert code == 0, said
    assert read(out).pieces
    assert {p.name for p in tmp_path.iterdir()} == {path.name, out.name}


@pytest.mark.parametrize(
    ("make", "words"),
    [
        (lambda p: None, "was not found"),
        (lambda p: p.mkdir(), "is a folder"),
        (lambda p: p.write_bytes(b""), "is empty"),
        (lambda p: p.write_bytes(b"%PDF-1.7\n"), "neither an SVG nor a DXF"),
        (lambda p: p.write_bytes(b"PK\x03\x04" + bytes(500)), "neither an SVG nor a DXF"),
        (lambda p: p.symlink_to(p), "opened"),
    ],
    ids=["missing", "folder", "empty", "pdf", "archive", "link to itself"],
)
def test_what_is_no_pattern_is_said(
    make: Callable[[Path], object], words: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "thing.pattern"
    make(path)
    code, said = alter(path, tmp_path / "out.svg", capsys)
    assert code == 1
    assert words in said, said
    assert "thing.pattern" in said
    assert not (tmp_path / "out.svg").exists()


def test_a_link_is_followed_and_stays_a_link(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    real, link = tmp_path / "real.svg", tmp_path / "link.svg"
    real.write_bytes(SVG.read_bytes())
    link.symlink_to(real)
    out = tmp_path / "out.svg"
    target = tmp_path / "target.svg"
    target.write_bytes(b"old")
    out.symlink_to(target)
    code, said = alter(link, out, capsys)
    assert code == 0, said
    assert out.is_symlink()
    assert read(target).pieces


@pytest.mark.parametrize("number", [errno.EACCES, errno.EIO, errno.ENAMETOOLONG])
def test_a_file_that_cannot_be_read_is_told_with_the_reason(
    number: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fails(self: Path) -> bytes:
        raise OSError(number, os.strerror(number), str(self))

    path = tmp_path / "leg.svg"
    path.write_bytes(SVG.read_bytes())
    monkeypatch.setattr(Path, "read_bytes", fails)
    with pytest.raises(FileError, match=r"leg\.svg"):
        read(path)


@pytest.mark.parametrize("step", ["write", "fsync", "replace", "mkstemp"])
@pytest.mark.parametrize("number", [errno.ENOSPC, errno.EROFS, errno.EACCES])
def test_a_full_disk_leaves_the_old_file_whole(
    step: str, number: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fails(*_: object, **__: object) -> int:
        raise OSError(number, os.strerror(number))

    path = tmp_path / "leg.svg"
    path.write_bytes(b"as it was")
    if step == "write":
        monkeypatch.setattr(os, "fdopen", lambda fd, mode: _Full(fd, fails))
    else:
        module = sys.modules["tempfile"] if step == "mkstemp" else os
        monkeypatch.setattr(module, step, fails)
    with pytest.raises(FileError, match="could not be saved"):
        save_bytes(path, b"as it is to be")
    assert path.read_bytes() == b"as it was"
    assert [p.name for p in tmp_path.iterdir()] == ["leg.svg"], "nothing is left behind"


class _Full:
    """An open file into which nothing goes."""

    def __init__(self, number: int, fails: Callable[..., int]) -> None:
        self._number, self.write = number, fails

    def __enter__(self) -> _Full:
        return self

    def __exit__(self, *_: object) -> None:
        os.close(self._number)


def test_an_old_file_keeps_its_permissions(tmp_path: Path) -> None:
    out = tmp_path / "out.svg"
    out.write_bytes(b"old")
    out.chmod(0o640)
    write(read(SVG), out)
    assert stat.S_IMODE(out.stat().st_mode) == 0o640


@pytest.mark.parametrize("name", ["out.txt", "out.svg.bak"])
def test_an_ending_that_says_no_kind_is_refused(
    name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    code, said = alter(SVG, tmp_path / name, capsys)
    assert code == 1
    assert ".svg or .dxf" in said or "folder" in said, said
    assert not list(tmp_path.iterdir())


def test_folders_that_are_named_are_made(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A folder is what a name without ending means; nothing but the altered file goes into it."""
    for out in (tmp_path / "one" / "two" / "out.svg", tmp_path / "three"):
        code, said = alter(SVG, out, capsys)
        assert code == 0, said
    files = sorted(str(p.relative_to(tmp_path)) for p in tmp_path.rglob("*") if p.is_file())
    assert files == ["one/two/out.svg", "three/allotment_shorts.svg"]


def test_a_file_where_a_folder_should_be_is_said(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "file").write_bytes(b"mine")
    code, said = alter(SVG, tmp_path / "file" / "out.svg", capsys)
    assert code == 1
    assert "file" in said
    assert "not foreseen" not in said, said
    assert (tmp_path / "file").read_bytes() == b"mine"
