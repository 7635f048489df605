"""What the words in a file say: the trade's own words, as whole words, in any letter case."""

from __future__ import annotations

import re
from collections.abc import Iterable
from enum import Enum
from functools import lru_cache

from core.piece.model import Kind, Role

# Words of the trade only. Longer ones first: a "grain line" is no "line".
_KINDS: tuple[tuple[Kind, tuple[str, ...]], ...] = (
    (
        Kind.ASIDE,
        (
            "test square",
            "testsquare",
            "scale square",
            "frame",
            "border",
            "guide",
            "page",
            "tile",
            "title block",
            "grid",
            "ruler",
        ),
    ),
    (Kind.TURN_POINT, ("turn point", "turn points")),
    (Kind.CURVE_POINT, ("curve point", "curve points")),
    (Kind.GRAIN, ("grain", "grainline", "grain line", "straight grain")),
    (Kind.NOTCH, ("notch", "notches")),
    (Kind.DART, ("dart", "darts")),
    (Kind.DRILL, ("drill", "drill hole", "drillhole", "punch hole", "hole")),
    (
        Kind.STITCHING,
        (
            "stitch",
            "stitching",
            "stitching line",
            "seam line",
            "seamline",
            "sew line",
            "sewing line",
            "sew",
        ),
    ),
    (Kind.CUTOUT, ("cutout", "cut out")),
    (Kind.FOLD, ("mirror line", "fold", "fold line", "foldline")),
    (
        Kind.INNER,
        (
            "inner",
            "internal",
            "pocket",
            "placement",
            "crease",
            "knee",
            "hip line",
            "knee line",
            "buttonhole",
            "buttonholes",
            "pleat",
            "lining line",
        ),
    ),
    (Kind.OUTLINE, ("outline", "cutting line", "cut line", "boundary", "cutting")),
    (Kind.TEXT, ("writing", "text", "label")),
)
_ROLES: tuple[tuple[Role, tuple[str, ...]], ...] = (
    (Role.HEM, ("hem", "lower edge", "hemline")),
    (Role.INSEAM, ("inseam", "in seam", "inside leg", "inside seam", "inner leg")),
    (Role.CENTRE_FRONT, ("centre front", "center front", "cf")),
    (Role.CENTRE_BACK, ("centre back", "center back", "cb")),
    (Role.SIDE, ("side", "side seam", "sideseam", "outseam", "out seam", "outside leg")),
    (Role.WAIST, ("waist", "waistline", "top edge")),
    (Role.RISE, ("rise", "crotch", "crotch seam", "seat seam", "fork")),
    (Role.FOLD, ("fold",)),
    (Role.UNDERARM, ("underarm", "under arm", "underarm seam")),
    (Role.CAP, ("cap", "sleeve head", "sleeve cap")),
)

# These speak of the cloth's faces or of what is added to an edge, not of the edge.
_NO_EDGES = ("right side", "wrong side", "hem allowance", "hem facing", "waist facing")


class Side(Enum):
    """Which side of the body a piece covers, by its name."""

    FRONT = "front"
    BACK = "back"
    UNKNOWN = ""


@lru_cache(maxsize=4096)
def plain(text: str) -> str:
    """The words of an id, class or label, lower case, single-spaced: ``sideSeam_1`` is
    ``side seam 1``."""
    spaced = re.sub(r"(?<=[a-z])(?=[A-Z])|(?<=[A-Z])(?=[A-Z][a-z])", " ", text)
    return " ".join(re.split(r"[\W\d_]+", spaced.lower())).strip()


def says(text: str, phrases: Iterable[str]) -> bool:
    """Does the text hold one of the phrases as whole words?"""
    padded = f" {plain(text)} "
    return any(f" {phrase} " in padded for phrase in phrases)


def kind_in(words: Iterable[str]) -> Kind | None:
    """The kind that the nearest of the words speaks of, if any does.

    "Inner line" is all but nameless, so a word further out that says more precisely what
    kind of inner line it is goes before it.
    """
    found = [kind for text in words if (kind := _kind(text)) is not None]
    if found and found[0] is Kind.INNER:
        return next((k for k in found if k in _PRECISE), Kind.INNER)
    return found[0] if found else None


def called_in(words: Iterable[str]) -> str:
    """What the nearest of the words calls an inner line ("pocket", "knee line"); "" if nothing.

    Of two names in one text the longer one.
    """
    return next((name for text in words if (name := _called(text))), "")


_NAMELESS = ("inner", "internal")
_PRECISE = {Kind.GRAIN, Kind.NOTCH, Kind.DART, Kind.DRILL, Kind.FOLD}


# The same few layers and labels stand on thousands of shapes: each is looked at once.
@lru_cache(maxsize=4096)
def _called(text: str) -> str:
    phrases = [p for kind, some in _KINDS if kind is Kind.INNER for p in some]
    names = sorted((p for p in phrases if p not in _NAMELESS), key=len, reverse=True)
    return next((p for p in names if says(text, (p,))), "")


@lru_cache(maxsize=4096)
def _kind(text: str) -> Kind | None:
    return next((kind for kind, phrases in _KINDS if says(text, phrases)), None)


def role_in(words: Iterable[str]) -> Role | None:
    """The edge's role that the nearest of the words speaks of, if any does."""
    return next((role for text in words if (role := _role(text)) is not None), None)


@lru_cache(maxsize=4096)
def _role(text: str) -> Role | None:
    if says(text, _NO_EDGES):
        return None
    return next((role for role, phrases in _ROLES if says(text, phrases)), None)


def side_of(name: str) -> Side:
    """Front or back, by a piece's name."""
    front, back = says(name, ("front", "fronts")), says(name, ("back", "backs"))
    if front == back:
        return Side.UNKNOWN
    return Side.FRONT if front else Side.BACK


def is_sleeve(name: str) -> bool:
    return says(name, ("sleeve", "sleeves"))


def is_bodice(name: str) -> bool:
    """Does the name speak of a piece from the shoulder down?"""
    return says(name, ("bodice", "blouse", "shirt", "jacket", "coat", "waistcoat"))


# These hang from the shoulder; the last two may hang from the neck, and have no rise either.
_FROM_THE_SHOULDER = (
    *("bodice", "blouse", "shirt", "jacket", "coat", "waistcoat", "top", "tunic", "smock"),
    *("dress", "gown", "nightdress", "nightgown", "pinafore", "kimono", "robe", "vest", "jumper"),
    *("cardigan", "tabard", "cape", "apron", "bib"),
)


def is_from_the_shoulder(name: str) -> bool:
    """Does the name speak of a piece that hangs from the shoulder, and of no leg or skirt?"""
    return says(name, _FROM_THE_SHOULDER) and not is_from_the_waist(name)


# Words that say a piece widens, or narrows, from the waist to the hem.
FLARED = ("skirt", "skirts", "flare", "flared", "gore", "godet")
NARROWING = (
    *("leg", "trouser", "trousers", "shorts"),
    *("legging", "leggings", "tights", "breeches", "pants"),
)
_LEGS = (*NARROWING, "culotte", "culottes", "jeans", "dungarees")


def is_leg(name: str) -> bool:
    """Does the name speak of trousers, or of a leg of them?"""
    return says(name, _LEGS)


def is_from_the_waist(name: str) -> bool:
    """Does the name speak of a skirt or of trousers, which have no cap?"""
    return says(name, (*FLARED, *_LEGS))
