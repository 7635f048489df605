"""What a piece is called: by its block or group, its own words, or the writing on it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from core.piece.model import Kind, Shape
from core.piece.words import Side, is_sleeve, plain, side_of

# Words that programs put on everything; alone they name nothing.
_EMPTY = {
    "", "path", "polygon", "polyline", "rect", "layer", "g", "group", "outline", "cutting line",
    "cut line", "boundary", "stitching", "stitching line", "line", "svg", "pieces", "pattern",
    "shape", "model space", "use", "object", "compound path", "curve", "spline", "block", "insert",
}  # fmt: skip
LONGEST = 40


def name_piece(drawn: Sequence[Shape], inner: Sequence[Shape]) -> str:
    """The best name that the file gives; empty when it gives none."""
    groups = [s.group_name for s in drawn]
    own = [w for s in drawn for w in s.words]
    writing = [s.text for s in inner if s.kind is Kind.TEXT and s.text]
    telling = [w for w in (*groups, *own, *writing) if _telling(w)]
    for text in (*groups, *telling, *own, *writing):
        name = _clean(text)
        # A single letter is what programs count with.
        if plain(name) not in _EMPTY and len(plain(name)) > 1:
            return name
    return ""


def _telling(text: str) -> bool:
    return side_of(text) is not Side.UNKNOWN or is_sleeve(text)


def _clean(text: str) -> str:
    """One line without the words that only say "outline"; first letter large."""
    name = " ".join(text.replace("_", " ").replace("-", " ").split())[:LONGEST].strip()
    words = [w for w in name.split() if w.lower() not in ("outline", "boundary")]
    name = " ".join(words)
    return name[:1].upper() + name[1:]


def unique(names: Iterable[str]) -> list[str]:
    """Names without repetition; the nameless are numbered."""
    out: list[str] = []
    for k, name in enumerate(names):
        base = name or f"Piece {k + 1}"
        candidate, n = base, 2
        while candidate.lower() in {o.lower() for o in out}:
            candidate, n = f"{base} {n}", n + 1
        out.append(candidate)
    return out
