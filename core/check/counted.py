"""How often a piece is cut, and how often it stands in one hem."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from core.piece.model import Kind, Piece, Role

# "Cut 2", "cut 1 pair", "Quantity: 2" (the piece text of ASTM D6673, clause 4.3.1).
_CUT = re.compile(
    r"\b(?:cut|quantity)\s*:?\s*(\d{1,2}|one|two|four|six|a pair|pair)(\s*pairs?)?\b", re.I
)
_WORDS = {"one": 1, "two": 2, "four": 4, "six": 6, "a pair": 2, "pair": 2}
_ON_FOLD = re.compile(r"\bon\s+(?:the\s+)?fold\b", re.I)
_TIMES = {1: "once", 2: "twice"}
# Seams down the middle of the garment: the other half is the same piece turned over.
CENTRE = {Role.CENTRE_FRONT, Role.CENTRE_BACK}


@dataclass(frozen=True, slots=True)
class Counted:
    """How often a piece, opened into halves where it is cut on the fold, stands in one hem;
    ``hems`` is how many such hems the garment has, ``why`` what that rests on."""

    name: str
    in_hem: int
    hems: int
    why: str

    @property
    def sentence(self) -> str:
        """``Front twice (“cut 1 on the fold”)``."""
        return f"{self.name} {_TIMES.get(self.in_hem, f'{self.in_hem} times')} ({self.why})"


def cut_number(piece: Piece) -> tuple[int, str] | None:
    """How many are cut as the writing on the piece says, and its words; None when it does not."""
    for text in _texts(piece):
        found = _CUT.search(text)
        if found is not None:
            word = found[1].lower()
            count = _WORDS.get(word) or int(word)
            if count > 0:
                return count * (2 if found[2] else 1), f"“{text.strip()}”"
    return None


def on_fold(piece: Piece) -> bool:
    """Is it half of what is cut, laid on the fold?"""
    if any(e.role is Role.FOLD for e in piece.edges):
        return True
    return any(_ON_FOLD.search(text) for text in _texts(piece))


def _texts(piece: Piece) -> Iterator[str]:
    yield from (m.text for m in piece.marks if m.kind is Kind.TEXT)
    yield piece.name


def counted(piece: Piece, *, around_body: bool) -> Counted:
    """By what is written on the piece, else by its edges; of legs and arms there are two."""
    halves = 2 if on_fold(piece) else 1
    told = cut_number(piece)
    if told is None:
        return _by_edges(piece, halves, around_body=around_body)
    number, words = told
    hems = 1 if around_body or number == 1 else 2
    return Counted(piece.name, max(1, number // hems) * halves, hems, words)


def _by_edges(piece: Piece, halves: int, *, around_body: bool) -> Counted:
    hems = 1 if around_body else 2
    if halves == 2:
        return Counted(piece.name, 2, hems, "it lies on the fold")
    if around_body and any(e.role in CENTRE for e in piece.edges):
        return Counted(piece.name, 2, hems, "it is half of the garment; no number is on it")
    each = "" if around_body else " for each of the two"
    return Counted(piece.name, 1, hems, f"taken so{each}; no number is on it")
