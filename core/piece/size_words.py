"""What words say of sizes: "size 38", "EU-40", "front_XL"; and what is no size: "cut 2", "1:1"."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

_SAYS_SIZE = {"size", "sz", "taille", "talla", "taglia", "maat", "größe", "groesse"}
_REGIONS = {"eu", "uk", "us", "fr", "it", "de", "au", "jp"}
# "Size 12" after these is that of something else.
_NOT_OF_BODY = {
    "font", "page", "paper", "sheet", "sample", "base", "text", "full", "actual", "original",
    "print", "scale", "tile", "needle", "grid", "square",
}  # fmt: skip
# A number after these counts or numbers something.
_COUNTS_BEFORE = {
    "cut", "page", "pages", "sheet", "tile", "of", "qty", "quantity", "x", "scale", "no", "nr",
    "number", "notch", "notches", "dart", "darts", "drill", "hole", "step", "version", "v", "rev",
    "revision", "copy", "fig", "figure", "pair", "pairs", "ratio", "a",
}  # fmt: skip
# After these words it counts them, or they are its unit.
_COUNTS_AFTER = {
    "x", "piece", "pieces", "pcs", "times", "of", "pair", "pairs", "layers", "pages", "sheets",
    "mm", "cm", "m", "in", "inch", "inches", "ft", "feet", "yd", "yard", "yards", "pt", "px",
    "percent", "deg", "degrees", "st", "nd", "rd", "th",
}  # fmt: skip
# What programs number things by: "layer size 38" is about sizes, "layer 38" may be anything.
_AUTOMATIC = {
    "path", "polygon", "polyline", "lwpolyline", "rect", "circle", "ellipse", "line", "use", "g",
    "group", "layer", "object", "shape", "image", "svg", "text", "tspan", "part", "piece",
    "pieces", "block", "insert", "curve", "spline", "id", "clip", "mask", "symbol", "view",
    "element", "node", "item", "pattern", "row", "compound", "panel",
}  # fmt: skip
_LETTERS = re.compile(r"\d{1,2}x[sl]|x{0,4}[sl]|m")
_NUMBER = re.compile(r"(?:0|00|[1-9]\d{0,2})(?:\.5)?[tw]?")
_DATE = re.compile(r"\d{4}|(?<!\d)\d{1,2}[.\-/]\d{1,2}[.\-/]\d{2}(?!\d)|:\d{2}|\d\s*:\s*\d")
_APART = re.compile(r"(?:[\s_\-,;()\[\]]|:(?=\s|$))+")
# The first number of a double size ("38/40"); below it is a fraction.
_LEAST_DOUBLE = 4


@dataclass(frozen=True, slots=True)
class Spoken:
    """A word that may be a size: its usual spelling, the other words around it (with "#" in
    its place), and whether it is called one (`said`)."""

    label: str
    form: tuple[str, ...]
    said: bool


# The same layers and classes stand on every line of a file.
@lru_cache(maxsize=4096)
def spoken(text: str) -> tuple[Spoken, ...]:
    """All words of the text that may be a size, in their order."""
    words = _words(text)
    return tuple(_spoken(words, at) for at in _places(words, text))


def without_size(text: str, size: str) -> str:
    """The text without the words that say that size; as it was when it does not say it."""
    words = _words(text)
    for at in _places(words, text):
        if _label(words, at) == size:
            first, last = _extent(words, at)
            return " ".join((*words[:first], *words[last + 1 :]))
    return text


def size_order(label: str) -> tuple[int, float, str]:
    """A key by which sizes go from small to large; letters before numbers."""
    last = label.rsplit(" ", maxsplit=1)[-1].split("/", maxsplit=1)[0].lower()
    if _LETTERS.fullmatch(last):
        return 0, _letter_order(last), label
    found = re.match(r"\d+(?:\.5)?", last)
    return (1, float(found[0]), label) if found else (2, 0.0, label)


def is_number(label: str) -> bool:
    """Is it a bare number, which may be something else than a size?"""
    return _NUMBER.fullmatch(label.lower()) is not None


def _letter_order(word: str) -> float:
    if word == "m":
        return 0.0
    count = re.match(r"\d+", word)
    steps = 1 + (int(count[0]) if count else word.count("x"))
    return float(-steps if word.endswith("s") else steps)


def _words(text: str) -> list[str]:
    """Words as they are written, also where only a capital or a digit begins the next."""
    spaced = re.sub(r"(?<=[a-zäöü])(?=[A-Z])|(?<=[A-Za-zäöü])(?=\d)", " ", text)
    spaced = re.sub(r"(?i)\b(size|sz)\s*[:=.]", r"\1 ", spaced)
    return [w for w in _APART.split(spaced) if w]


def _places(words: Sequence[str], text: str) -> Iterator[int]:
    if _DATE.search(text):
        return
    low = [w.lower() for w in words]
    found = [k for k in range(len(low)) if _is_size(low, k)]
    if not _range(low, found):
        yield from found


def _range(low: Sequence[str], found: Sequence[int]) -> bool:
    """Do the words speak of several sizes at once ("sizes 34 to 42")?"""
    if "sizes" in low:
        return True
    said = [k for k in found if _said(low, k)]
    beyond = [(k, k + 2 if low[k + 1 : k + 2] == ["to"] else k + 1) for k in said]
    return any(
        n < len(low) and _size_like(low[n]) and size_order(low[n]) > size_order(low[k])
        for k, n in beyond
    )


def _is_size(low: Sequence[str], k: int) -> bool:
    if not _size_like(low[k]):
        return False
    if _said(low, k):
        return True
    before = low[k - 1] if k else ""
    after = low[k + 1] if k + 1 < len(low) else ""
    if before in _COUNTS_BEFORE or after in _COUNTS_AFTER or before in _SAYS_SIZE:
        return False
    if _NUMBER.fullmatch(before):
        # A letter here is the unit of the number, a number goes on counting.
        return False
    rest = {w for n, w in enumerate(low) if n != k}
    return not (rest and rest <= _AUTOMATIC) and before not in _AUTOMATIC - {"line"}


def _size_like(word: str) -> bool:
    if _LETTERS.fullmatch(word) or _NUMBER.fullmatch(word):
        return True
    first, slash, second = word.partition("/")
    if not slash:
        return False
    if _LETTERS.fullmatch(first) and _LETTERS.fullmatch(second):
        return True
    numbers = first.isdigit() and second.isdigit() and _NUMBER.fullmatch(first) is not None
    return numbers and _LEAST_DOUBLE <= int(first) < int(second) < 2 * int(first)


def _said(low: Sequence[str], k: int) -> bool:
    """Is it called a size: "size 38", "EU 40", "38 size"?"""
    first, last = _extent(low, k)
    if first == last:
        return False
    return not (first > 0 and low[first - 1] in _NOT_OF_BODY) and not _measured(low, last)


def _measured(low: Sequence[str], last: int) -> bool:
    return last + 1 < len(low) and low[last + 1] in _COUNTS_AFTER


def _extent(words: Sequence[str], k: int) -> tuple[int, int]:
    """First and last of the words that say the size at `k`, "size" and the region with it."""
    low = [w.lower() for w in words]
    first = k
    for told in (_REGIONS, _SAYS_SIZE):
        if first > 0 and low[first - 1] in told:
            first -= 1
    called = any(w in _SAYS_SIZE for w in low[first:k])
    after = k + 1 < len(low) and low[k + 1] in _SAYS_SIZE and not called
    # "S size 38": there the word belongs to what follows.
    after = after and not (k + 2 < len(low) and _size_like(low[k + 2]))
    return first, k + after


def _label(words: Sequence[str], k: int) -> str:
    region = words[k - 1].upper() if k and words[k - 1].lower() in _REGIONS else ""
    return f"{region} {words[k].upper()}".strip()


def _spoken(words: Sequence[str], k: int) -> Spoken:
    low = [w.lower() for w in words]
    first, last = _extent(low, k)
    form = (*low[:first], "#", *low[last + 1 :])
    return Spoken(_label(words, k), form, _said(low, k))
