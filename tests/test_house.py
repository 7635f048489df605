"""The plan of the house holds: imports run down, the core knows no screen."""

from __future__ import annotations

import ast
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent

# Which rooms each room may use; app may use all.
MAY_USE = {
    "curve": set(),
    "piece": {"curve"},
    "alter": {"curve", "piece"},
    "check": {"curve", "piece", "alter"},
    "files": {"curve", "piece"},
    "paper": {"curve", "piece"},
}
# Single modules on the ground floor that every room may use.
GROUND = {"errors", "kept", "measure"}


def modules(folder: str) -> list[Path]:
    return sorted((ROOT / folder).rglob("*.py"))


def imported(source: str) -> Iterator[str]:
    """All modules that a source imports, late imports inside functions included."""
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, "imports are written out in full"
            yield node.module or ""
            yield from (f"{node.module}.{alias.name}" for alias in node.names)
        elif isinstance(node, ast.Call) and getattr(node.func, "attr", "") == "import_module":
            yield from (a.value for a in node.args if isinstance(a, ast.Constant))


def faults(path: Path, source: str) -> list[str]:
    """What in a module of the core goes against the plan."""
    room = path.relative_to(ROOT / "core").parts[0].removesuffix(".py")
    found = []
    for name in imported(source):
        top, *rest = name.split(".")
        if top in {"PySide6", "shiboken6", "PyQt6", "app"}:
            found.append(f"{path.name} imports {name}")
        if top == "core" and rest:
            allowed = MAY_USE.get(room, set()) | {room} | GROUND
            if rest[0] not in allowed:
                found.append(f"core/{room}/{path.name} reaches up to {name}")
    return found


@pytest.mark.parametrize("path", modules("core"), ids=lambda p: str(p.relative_to(ROOT)))
def test_imports_run_down(path: Path) -> None:
    assert faults(path, path.read_text()) == []


@pytest.mark.parametrize(
    "source",
    [
        "from core.alter.lengthen import lengthen",
        "def f():\n    from core.files import read",
        "import PySide6.QtGui",
        "def f():\n    from app.window import run",
    ],
)
def test_the_import_check_can_fail(source: str) -> None:
    assert faults(ROOT / "core" / "piece" / "made_up.py", source)


@pytest.mark.parametrize("words", [["--help"], ["inspect", "--help"], ["alter", "--help"]])
def test_help_loads_neither_screen_nor_readers(words: list[str]) -> None:
    script = (
        "import sys\n"
        "from app.__main__ import main\n"
        "try:\n    main(sys.argv[1:])\n"
        "except SystemExit as stop:\n    assert stop.code == 0\n"
        "heavy = {'PySide6', 'ezdxf', 'svgelements', 'shapely', 'numpy'} & set(sys.modules)\n"
        "assert not heavy, heavy\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", script, *words],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    assert "cheap cloth" in done.stdout or "Example" in done.stdout


def test_top_level_holds_only_what_was_agreed() -> None:
    listed = subprocess.run(
        ["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=False
    )
    tops = {line.split("/")[0] for line in listed.stdout.splitlines()}
    if listed.returncode != 0:
        # An unpacked copy is no checkout: all that lies there, but for what work leaves behind.
        left = [line.rstrip("/") for line in (ROOT / ".gitignore").read_text().split()]
        tops = {p.name for p in ROOT.iterdir() if not any(p.match(name) for name in left)}
    agreed = {
        "README.md", "DEVELOPERS.md", "pyproject.toml", "app", "core", "tests", "sample_pieces",
        ".ci", ".gitignore",
    }  # fmt: skip
    assert tops <= agreed, f"more than agreed: {tops - agreed}"
