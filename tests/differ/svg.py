"""Every difference between two SVG files, token by token, and which of them are allowed.

Knows nothing of how the program writes: it takes both files apart by the rules of XML 1.0 alone
(tags, comments, processing instructions, CDATA, text between), raw, so that a quote, a blank or a
line end that is another one is a difference too.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from difflib import SequenceMatcher

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
DRAWN = {"path", "polygon", "polyline", "line", "rect", "circle", "ellipse", "text", "tspan", "use"}


@dataclass(frozen=True)
class Difference:
    """What differs, and whether an alteration may do that."""

    what: str
    allowed: bool


def text_of(data: bytes) -> str:
    """By its byte order mark or its declaration; Latin-1 maps every byte to one letter."""
    if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
        return data.decode("utf-16")
    return data.decode("latin-1")


def tokens(data: bytes) -> list[str]:
    text = text_of(data)
    found = TOKEN.findall(text)
    assert "".join(found) == text, "the differ lost something of the file itself"
    return found


def differences(before: bytes, after: bytes) -> list[Difference]:
    """In the order of the file; empty when the bytes are the same."""
    old, new = tokens(before), tokens(after)
    out: list[Difference] = []
    plain = [[_kind(t) for t in row] for row in (old, new)]
    matcher = SequenceMatcher(a=plain[0], b=plain[1], autojunk=False)
    for kind, i, j, k, m in matcher.get_opcodes():
        if kind == "equal":
            for a, b in zip(old[i:j], new[k:m], strict=True):
                out += _between(a, b)
        else:
            out += [Difference(f"gone: {t[:60]!r}", False) for t in old[i:j]]
            out += [Difference(f"new: {t[:60]!r}", _may_be_new(t)) for t in new[k:m]]
    return out


def _kind(token: str) -> str:
    """What a token is paired by: a tag by its name and id, anything else by itself."""
    tag = TAG.match(token)
    if tag is None or token.startswith(("<!", "<?")):
        return token
    name = re.search(r"""\sid\s*=\s*("[^"]*"|'[^']*')""", token)
    return f"<{tag[1]} {name[1] if name else ''}"


def _may_be_new(token: str) -> bool:
    """A notch that the change adds, and the white space before it."""
    return token.isspace() or (token.startswith("<path") and "notch" in token)


def _between(a: str, b: str) -> list[Difference]:
    if a == b:
        return []
    name = TAG.match(a)[1].split(":")[-1]  # type: ignore[index]
    old, new = ATTRIBUTE.findall(a), ATTRIBUTE.findall(b)
    if ATTRIBUTE.sub("", a) != ATTRIBUTE.sub("", b) or [x[:2] for x in old] != [x[:2] for x in new]:
        return [Difference(f"written otherwise: {a[:60]!r}", False)]
    out = []
    for (key, _, was), (_, _, now) in zip(old, new, strict=True):
        if was == now:
            continue
        if key not in PLACES or name not in DRAWN or NUMBER.findall(was) == []:
            page = key in PAGE and name == "svg"
            out.append(Difference(f"{name} {key}", page and was[0] == now[0]))
            continue
        same = [float(n) for n in NUMBER.findall(was)] == [float(n) for n in NUMBER.findall(now)]
        out.append(Difference(f"{name} {key}", was[0] == now[0] and not same))
        out += [Difference(f"{name} {key} reformatted: {n}", False) for n in _reformatted(was, now)]
    return out


def _reformatted(was: str, now: str) -> list[str]:
    """Numbers that stand in the same place with the same value, written otherwise."""
    old, new = NUMBER.findall(was), NUMBER.findall(now)
    matcher = SequenceMatcher(a=[float(n) for n in old], b=[float(n) for n in new], autojunk=False)
    out = []
    for i, k, size in matcher.get_matching_blocks():
        # A lone number may be the same by chance; two in a row are a point.
        pairs = zip(old[i : i + size], new[k : k + size], strict=True)
        out += [f"{a} as {b}" for a, b in pairs if a != b and size > 1]
    return out
