"""What a piece is called: by its block or group, its own words, or the writing on it."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Sequence

from core.piece.model import Kind, Shape
from core.piece.size_words import without_size
from core.piece.words import Side, is_sleeve, plain, side_of

# Words that programs put on everything; alone they name nothing.
_EMPTY = {
    "", "path", "polygon", "polyline", "rect", "layer", "g", "group", "outline", "cutting line",
    "cut line", "boundary", "stitching", "stitching line", "line", "svg", "pieces", "pattern",
    "shape", "model space", "use", "object", "compound path", "curve", "spline", "block", "insert",
}  # fmt: skip
_OUTLINE = re.compile(r"\b(?:outline|boundary|cutting(?: line)?|cut line)\b", re.IGNORECASE)
LONGEST = 40


def name_piece(drawn: Sequence[Shape], inner: Sequence[Shape], size: str = "") -> str:
    """The best name that the file gives, without its size; empty when it gives none."""
    groups = _sizeless(dict.fromkeys(s.group_name for s in drawn), size)
    # The same layer stands on each of thousands of loose lines.
    own = _sizeless(dict.fromkeys(w for s in drawn for w in s.words), size)
    writing = _sizeless((s.text for s in inner if s.kind is Kind.TEXT and s.text), size)
    telling = [w for w in (*groups, *own, *writing) if _telling(w)]
    for text in (*groups, *telling, *own, *writing):
        name = cleaned(text)
        # A single letter is what programs count with.
        if plain(name) not in _EMPTY and len(plain(name)) > 1:
            return name
    return ""


def _telling(text: str) -> bool:
    return side_of(text) is not Side.UNKNOWN or is_sleeve(text)


def cleaned(text: str) -> str:
    """One line without the words that only say "outline"; first letter large."""
    name = " ".join(text.replace("_", " ").replace("-", " ").split())[:LONGEST].strip()
    name = " ".join(_OUTLINE.sub(" ", name).split())
    return name[:1].upper() + name[1:]


def _sizeless(texts: Iterable[str], size: str) -> list[str]:
    return [without_size(t, size) for t in texts] if size else list(texts)


def unique(names: Sequence[str], sizes: Sequence[str] = ()) -> list[str]:
    """Names without repetition, each with its size at the end; the nameless are numbered,
    in each size anew."""
    out: list[str] = []
    given: set[str] = set()
    count: Counter[str] = Counter()
    for name, size in zip(names, sizes or [""] * len(names), strict=True):
        count[size] += 1
        base = name or f"Piece {count[size]}"
        candidate, n = f"{base} {size}".strip(), 2
        while candidate.lower() in given:
            candidate, n = f"{base} {n} {size}".strip(), n + 1
        given.add(candidate.lower())
        out.append(candidate)
    return out
