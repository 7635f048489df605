"""Every difference between two SVG files, token by token, and which of them are allowed.

Knows nothing of how the program writes: it takes both files apart by the rules of XML 1.0 alone
(tags, comments, processing instructions, CDATA, text between), raw, so that a quote, a blank or a
line end that is another one is a difference too.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from difflib import SequenceMatcher

from tests.differ.altered import Difference, Places

# One token: comment, CDATA, processing instruction, declaration, tag, or what lies between.
TOKEN = re.compile(
    r"<!--.*?-->|<!\[CDATA\[.*?\]\]>|<\?.*?\?>|<![A-Z](?:[^\[>]|\[[^\]]*\])*>|<(?:[^>\"']|\"[^\"]*\"|'[^']*')*>|[^<]+",
    re.DOTALL,
)
TAG = re.compile(r"<([^\s/>]+)")
ATTRIBUTE = re.compile(r"""([^\s=/<>]+)(\s*=\s*)("[^"]*"|'[^']*')""")
NUMBER = re.compile(r"[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?")
# Attributes that say where something is; the page's may grow.
PLACES = {
    "d", "points", "x", "y", "x1", "y1", "x2", "y2", "cx", "cy", "r", "rx", "ry", "width",
    "height", "transform",
}  # fmt: skip
PAGE = {"width", "height", "viewBox", "enable-background"}
# Two numbers in the same place that differ by less are one number, written otherwise or rounded.
NEAR = 1e-4


@dataclass(frozen=True)
class Token:
    """A part of the file: its text, and the byte at which it begins."""

    text: str
    at: int

    @property
    def name(self) -> str:
        tag = TAG.match(self.text)
        return tag[1].split(":")[-1] if tag else ""


def tokens(data: bytes) -> list[Token]:
    """By its byte order mark; Latin-1 else, which maps every byte to one letter."""
    wide = data[:2] in (b"\xff\xfe", b"\xfe\xff")
    text = data.decode("utf-16") if wide else data.decode("latin-1")
    found = [
        Token(m[0], 2 + len(text[: m.start()].encode("utf-16-le")) if wide else m.start())
        for m in TOKEN.finditer(text)
    ]
    assert "".join(t.text for t in found) == text, "the differ lost something of the file itself"
    return found


def differences(before: bytes, after: bytes, where: Places) -> list[Difference]:
    """In the order of the file; empty when the bytes are the same."""
    if before == after:
        return []
    old, new = tokens(before), tokens(after)
    out = [] if before[:2] == after[:2] else [Difference("first bytes", False)]
    plain = [[_kind(t) for t in row] for row in (old, new)]
    matcher = SequenceMatcher(a=plain[0], b=plain[1], autojunk=False)
    for kind, i, j, k, m in matcher.get_opcodes():
        if kind == "equal":
            for a, b in zip(old[i:j], new[k:m], strict=True):
                out += _between(a, b, where)
        else:
            out += [
                Difference(f"gone: {t.text[:60]!r}", _may_go(t, old, n, where))
                for n, t in enumerate(old[i:j], i)
            ]
            around = [t.at for t in old[max(0, i - 2) : j + 1]]
            copied = {"g"} | {t.name for t in old}
            out += [
                Difference(f"new: {t.text[:60]!r}", _may_come(t, around, copied, where))
                for t in new[k:m]
            ]
    return out


def _kind(token: Token) -> str:
    """What a token is paired by: a tag by its name and id, anything else by itself."""
    tag = TAG.match(token.text)
    if tag is None or token.text.startswith(("<!", "<?")):
        return token.text
    name = re.search(r"""\sid\s*=\s*("[^"]*"|'[^']*')""", token.text)
    return f"<{tag[1]} {name[1] if name else ''}"


def _may_go(token: Token, old: list[Token], k: int, where: Places) -> bool:
    """A mark that lay in what was cut off, a clone that became a copy."""
    around = [t.at for t in old[max(0, k - 1) : k + 2]] if token.text.isspace() else [token.at]
    return any(where.may("gone", at) or where.may("copied", at) for at in around)


def _may_come(token: Token, around: list[int], copied: set[str], where: Places) -> bool:
    """A notch that the change adds, and the white space before it; the copy of a clone."""
    if any(where.may("copied", at) for at in around):
        return not token.name or token.name.removeprefix("/") in copied
    if not (token.text.isspace() or (token.name in ("path", "line") and "notch" in token.text)):
        return False
    return any(where.may("beside", at) for at in around)


def _between(a: Token, b: Token, where: Places) -> Iterator[Difference]:
    if a.text == b.text:
        return
    old, new = ATTRIBUTE.findall(a.text), ATTRIBUTE.findall(b.text)
    bare = [ATTRIBUTE.sub("", t.text) for t in (a, b)]
    if bare[0] != bare[1] or [x[:2] for x in old] != [x[:2] for x in new]:
        added = a.name == "text" and {x[0] for x in new} - {x[0] for x in old} == {"transform"}
        moved = added and where.may("written", a.at)
        yield Difference(f"written otherwise: {a.text[:60]!r}", moved)
        return
    for (key, _, was), (_, _, now) in zip(old, new, strict=True):
        if was == now:
            continue
        if a.name == "svg" and key in PAGE:
            yield Difference(f"svg {key}", was[0] == now[0] and where.any)
            continue
        place = key in PLACES and NUMBER.findall(was) != [] and where.may("written", a.at)
        yield Difference(f"{a.name} {key}", was[0] == now[0] and place)
        for n in _retold(was, now):
            yield Difference(f"{a.name} {key} written otherwise: {n}", False)


def _retold(was: str, now: str) -> list[str]:
    """Numbers that stand in the same place with (nearly) the same value, written otherwise."""
    old, new = NUMBER.findall(was), NUMBER.findall(now)
    if len(old) == len(new):
        return _unlike(zip(old, new, strict=True))
    keys = [[round(float(n) / NEAR) for n in row] for row in (old, new)]
    matcher = SequenceMatcher(a=keys[0], b=keys[1], autojunk=False)
    out = []
    for i, k, size in matcher.get_matching_blocks():
        # A number beside what is new may be the same by chance.
        out += _unlike(zip(old[i + 1 : i + size - 1], new[k + 1 : k + size - 1], strict=True))
    return out


def _unlike(pairs: Iterable[tuple[str, str]]) -> list[str]:
    return [f"{a} as {b}" for a, b in pairs if a != b and abs(float(a) - float(b)) < NEAR]
