"""To which size each drawn shape belongs, where a file holds a pattern in several sizes.

Told by words of the shape and of the groups, layers and blocks around it, or by the writing
``Size: 38`` in its block (sewn-products interchange, ASTM D6673, clause 4.3.1). A word that is
called a size is one. A bare "38" or "M" is one where outlines with otherwise the same words
differ by it and grow with it; where nothing but that speaks for it, it is not sure.
"""

from __future__ import annotations

import itertools
import re
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np

from core.curve import Box, Chain
from core.errors import PieceError
from core.piece.model import Because, Kind, Piece, Shape
from core.piece.size_words import Spoken, is_number, size_order, spoken

# Shapes smaller than this (mm, corner to corner) are marks and say nothing of outlines.
SMALLEST_OUTLINE = 70.0
# The outlines of one size and of the next differ at most so much, corner to corner.
MOST_GROWTH = 2.0
# Larger sizes are larger, but for one or the other that was altered: more than this share of
# all pairs, in width or height or from corner to corner.
MOSTLY = 0.5
# Outlines that lie over each other share this much of the smaller one's box.
OVER_EACH_OTHER = 0.5
# A bare number below this is a size only on outlines that differ by it.
LEAST_ALONE = 20.0
# The writing that gives its size to the group in which it stands.
WRITTEN_SIZE = re.compile(r"\s*size\s*[:=]?\s*\S+(?:\s\S+)?\s*$", re.IGNORECASE)
_OUTLINES = (None, Kind.OUTLINE, Kind.STITCHING)
# The words around a size word, and whether that is a number.
_Form = tuple[tuple[str, ...], bool]


@dataclass(frozen=True)
class Sizes:
    """The size of each shape that has one, by shape key; why, by size."""

    of: Mapping[int, str] = field(default_factory=dict)
    because: Mapping[str, Because] = field(default_factory=dict)

    def __getitem__(self, shape: Shape) -> str:
        """The shape's size; "" when it belongs to none, or to all."""
        return self.of.get(shape.key, "")

    @property
    def doubts(self) -> Iterator[str]:
        """Sentences about sizes that are not certain."""
        unsure = [label for label, because in self.because.items() if not because.sure]
        if unsure:
            listed = listing([f"“{label}”" for label in sorted(unsure, key=size_order)])
            yield f"{listed} were taken for sizes: {self.because[unsure[0]].why}. Check it."


def sizes_of(pieces: Iterable[Piece]) -> tuple[str, ...]:
    """The sizes of the pieces, small to large."""
    return tuple(sorted({p.size for p in pieces} - {""}, key=size_order))


def by_size(pieces: Sequence[Piece]) -> dict[str, list[Piece]]:
    """The pieces of each size, small to large, those without one first.

    Where there is only one size, pieces that do not name it belong to it all the same.
    """
    known = sizes_of(pieces)
    out: dict[str, list[Piece]] = {size: [] for size in ("", *known)}
    for piece in pieces:
        out[piece.size or (known[0] if len(known) == 1 else "")].append(piece)
    return {size: some for size, some in out.items() if some}


def size_named(word: str, known: Sequence[str]) -> str:
    """The size that a person means: in any letter case, its region left out where that is
    clear. PieceError with a list of the sizes when there is none."""
    plain = " ".join(re.split(r"[\s_-]+", word.strip())).upper()
    exact = [size for size in known if size.upper() == plain]
    ending = [size for size in known if size.upper().rsplit(" ", maxsplit=1)[-1] == plain]
    if len(found := exact or ending) == 1:
        return found[0]
    if not known:
        raise PieceError(f"There is no size “{word}”: the pattern does not name any sizes.")
    raise PieceError(f"There is no size “{word}”. The sizes are {listing(known)}.")


def owners(pieces: Iterable[Piece]) -> list[Piece]:
    """The pieces by the area of their outlines, the largest last: what is drawn once for
    several sizes goes with that."""
    return sorted(pieces, key=lambda p: abs(p.outline.ring.signed_area()))


def listing(words: Sequence[str]) -> str:
    """ "a, b and c"."""
    return " and ".join(filter(None, (", ".join(words[:-1]), *words[-1:])))


def find_sizes(shapes: Sequence[Shape], told: Collection[int] = ()) -> Sizes:
    """The sizes told by words. `told` are the keys of shapes whose kind the file itself says:
    the bare numbers among their words are layers."""
    heard = _all_heard(shapes, told)
    written = _written(shapes)
    telling = [s for s in shapes if heard[s.key] or s.group in written]
    lines = [s for s in telling if s.kind in _OUTLINES and _is_large(s)]
    accepted = _telling(_families(lines, heard))
    known: dict[str, Because] = {}
    for s in lines:
        if s.group in written:
            label = written[s.group]
            known[label] = Because(True, f"the writing in it says size {label}")
        for word in heard[s.key]:
            because = _why(word, accepted)
            before = known.get(word.label)
            if because is not None and (word.said or before is None or not before.sure):
                known[word.label] = because
    of = {s.key: written.get(s.group) or _nearest(heard[s.key], accepted, known) for s in telling}
    return Sizes({key: label for key, label in of.items() if label in known}, known)


def _why(word: Spoken, accepted: Mapping[_Form, Because]) -> Because | None:
    if word.said:
        return Because(True, f"the file calls it size {word.label}")
    return accepted.get(_form(word))


def _all_heard(shapes: Sequence[Shape], told: Collection[int]) -> dict[int, tuple[Spoken, ...]]:
    """What the words of each shape may say of sizes; thousands of them have the same words."""
    known: dict[tuple[tuple[str, ...], bool], tuple[Spoken, ...]] = {}
    out = {}
    for s in shapes:
        asked = s.words, s.key in told
        if asked not in known:
            known[asked] = tuple(_heard(*asked))
        out[s.key] = known[asked]
    return out


def _heard(words: Sequence[str], layered: bool) -> Iterator[Spoken]:
    for text in words:
        if not (layered and text.isdigit()):
            yield from spoken(text)


def _written(shapes: Iterable[Shape]) -> dict[int | None, str]:
    """The size that writing gives to all of its group, where it gives just one."""
    found: dict[int | None, set[str]] = {}
    for s in shapes:
        if s.text and s.group is not None and WRITTEN_SIZE.match(s.text):
            words = spoken(s.text)
            if len(words) == 1 and words[0].form == ("#",):
                found.setdefault(s.group, set()).add(words[0].label)
    return {group: labels.pop() for group, labels in found.items() if len(labels) == 1}


def _form(word: Spoken) -> _Form:
    return word.form, is_number(word.label)


def _families(
    shapes: Sequence[Shape], heard: Mapping[int, Sequence[Spoken]]
) -> dict[_Form, dict[str, Box]]:
    """For each form of words, the boxes around the outlines that differ by a size word in it."""
    out: dict[_Form, dict[str, Box]] = {}
    for s in shapes:
        assert isinstance(s.geometry, Chain)
        box = s.geometry.bounds()
        for word in heard[s.key]:
            family = out.setdefault(_form(word), {})
            family[word.label] = family[word.label] | box if word.label in family else box
    return out


def _telling(families: Mapping[_Form, Mapping[str, Box]]) -> dict[_Form, Because]:
    """The forms in which a bare word is a size, and why."""
    found = {form: _accepted(family) for form, family in families.items()}
    return {form: because for form, because in found.items() if because is not None}


def _accepted(family: Mapping[str, Box]) -> Because | None:
    """Why the words that tell these boxes apart are sizes; None when they are not."""
    labels = sorted(family, key=size_order)
    boxes = [family[label] for label in labels]
    if len(labels) < 2 or not _comparable(boxes):
        return None
    rising = max(_rising([measure(box) for box in boxes]) for measure in _MEASURES)
    if not is_number(labels[0]):
        told = rising > MOSTLY or any(len(label) > 1 for label in labels)
        return Because(True, "outlines with else the same words differ by it") if told else None
    return _numbered(labels, boxes, rising) if rising > MOSTLY else None


def _numbered(labels: Sequence[str], boxes: Sequence[Box], rising: float) -> Because | None:
    """As `_accepted`, for bare numbers; `rising` is the share of boxes that grow with them."""
    steps = {_value(b) - _value(a) for a, b in itertools.pairwise(labels)}
    if steps == {1.0} and (_value(labels[0]) <= 1.0 or len(labels) < 3):
        # 1, 2, 3: things that were counted.
        return None
    if all(_shared(a, b) >= OVER_EACH_OTHER for a, b in itertools.pairwise(boxes)):
        why = "the outlines that differ by them lie over each other and grow with them"
        return Because(len(labels) > 2 and rising == 1.0, why)
    if len(labels) > 2 and len(steps) == 1 and min(steps) > 1.0:
        return Because(False, "the outlines that differ by them grow with them")
    return None


def _comparable(boxes: Sequence[Box]) -> bool:
    """Are they of about the same extent?"""
    extents = [_diagonal(box) for box in boxes]
    return all(max(a, b) < MOST_GROWTH * min(a, b) for a, b in itertools.pairwise(extents))


def _rising(values: Sequence[float]) -> float:
    """The share of pairs of which the later one is larger: 1 when all rise."""
    row = np.array(values)
    count = len(row)
    rising = sum(int(np.count_nonzero(row[k + 1 :] > row[k])) for k in range(count))
    return rising / (count * (count - 1) // 2)


def _value(number: str) -> float:
    return float(number.rstrip("TW"))


def _nearest(
    words: Sequence[Spoken], accepted: Mapping[_Form, Because], known: Mapping[str, Because]
) -> str:
    """The nearest word called a size; else one that tells outlines apart; else one known."""
    sizes = [w for w in words if w.label in known]
    called = [w for w in sizes if w.said]
    telling = [w for w in sizes if _form(w) in accepted]
    # So low a number may as well be that of a second notch.
    other = [w for w in sizes if not (is_number(w.label) and _value(w.label) < LEAST_ALONE)]
    return next((w.label for w in (*called, *telling, *other)), "")


def _is_large(shape: Shape) -> bool:
    line = shape.geometry
    if not isinstance(line, Chain) or _diagonal(line.hull) < SMALLEST_OUTLINE:
        return False
    return _diagonal(line.bounds()) >= SMALLEST_OUTLINE


def _diagonal(box: Box) -> float:
    return float((box.width**2 + box.height**2) ** 0.5)


_MEASURES: tuple[Callable[[Box], float], ...] = (
    _diagonal,
    lambda box: box.width,
    lambda box: box.height,
)


def _shared(a: Box, b: Box) -> float:
    """The common area as a share of the smaller box."""
    width = min(a.x1, b.x1) - max(a.x0, b.x0)
    height = min(a.y1, b.y1) - max(a.y0, b.y0)
    smaller = min(a.width * a.height, b.width * b.height)
    return width * height / smaller if width > 0.0 and height > 0.0 and smaller > 0.0 else 0.0
