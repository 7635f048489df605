"""An alteration disturbs nothing but what it alters; shown over every sample and a corpus of
other ways of writing the same, and for the differ itself that it can fail.
"""

from __future__ import annotations

import io
import re
from collections.abc import Callable
from functools import cache
from pathlib import Path

import ezdxf
import pytest

from core.alter.level.model import LevelChange
from core.alter.level.together import insert_together
from core.alter.model import Change
from core.alter.sizes import alter_sizes
from core.files import Drawing, read_bytes, render
from tests.differ import dxf, svg
from tests.differ.svg import Difference

SAMPLES = Path(__file__).parents[2] / "sample_pieces"
SVGS = sorted(SAMPLES.glob("*.svg"))
DXFS = sorted(SAMPLES.glob("*.dxf"))
SHORTS, TROUSERS = SAMPLES / "allotment_shorts.svg", SAMPLES / "digging_trousers.dxf"
BARROW = SAMPLES / "barrow_trousers.dxf"


def longer(drawing: Drawing) -> Drawing:
    return _changed(drawing, 35.0)


def shorter(drawing: Drawing) -> Drawing:
    return _changed(drawing, -20.0)


def _changed(drawing: Drawing, by: float) -> Drawing:
    hemmed = [p for p in drawing.pieces if p.hem]
    return drawing.with_pieces(a.piece for a in alter_sizes(hemmed, Change(by)))


def at_a_level(drawing: Drawing) -> Drawing:
    hemmed = [p for p in drawing.pieces if p.hem]
    high = min(p.outline.ring.bounds().height for p in hemmed)
    done = insert_together(hemmed, LevelChange(0.55 * high, 15.0))
    return drawing.with_pieces(a.piece for a in done)


WAYS = {"longer": longer, "shorter": shorter, "at a level": at_a_level}


@cache
def opened(name: str, data: bytes) -> Drawing:
    return read_bytes(Path(name), data, mm_per_unit=None)


def told(name: str, before: bytes, after: bytes) -> list[Difference]:
    return (svg if name.endswith(".svg") else dxf).differences(before, after)


def disturbed(name: str, before: bytes, after: bytes) -> list[str]:
    return [d.what for d in told(name, before, after) if not d.allowed]


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("path", [*SVGS, *DXFS], ids=lambda p: p.name)
def test_only_what_is_altered_differs_in_every_sample(path: Path, way: str) -> None:
    before = path.read_bytes()
    after = render(WAYS[way](opened(path.name, before)))
    assert told(path.name, before, after), "wanted the alteration itself seen"
    found = disturbed(path.name, before, after)
    assert not found, f"wanted nothing else touched, got {found[:6]}"


@pytest.mark.parametrize("path", [*SVGS, *DXFS], ids=lambda p: p.name)
def test_a_change_by_nothing_is_the_same_bytes(path: Path) -> None:
    before = path.read_bytes()
    assert render(_changed(opened(path.name, before), 0.0)) == before


def _utf16(text: str) -> bytes:
    return b"\xff\xfe" + text.replace("UTF-8", "UTF-16").replace("utf-8", "utf-16").encode(
        "utf-16-le"
    )


def _latin(text: str) -> bytes:
    head = '<?xml version="1.0" encoding="ISO-8859-1"?>\n<!-- größer -->\n'
    return (head + re.sub(r"<\?xml[^>]*\?>\s*", "", text)).encode("latin-1", "replace")


def _numbers(text: str) -> str:
    """Points written as exponents, with signs, without noughts."""

    def odd(found: re.Match[str]) -> str:
        return re.sub(r"-?\d+\.\d+", lambda n: f"{float(n[0]):+.6e}", found[0])

    return re.sub(r'(?:points|d)="[^"]*"', odd, text)


SVG_WAYS: dict[str, Callable[[str], bytes]] = {
    "crlf": lambda t: t.replace("\n", "\r\n").encode(),
    "old mac ends": lambda t: t.replace("\n", "\r").encode(),
    "byte order mark": lambda t: b"\xef\xbb\xbf" + t.encode(),
    "two bytes a letter": _utf16,
    "latin-1": _latin,
    "comments everywhere": lambda t: t.replace(">\n", "><!-- & < > x -->\n").encode(),
    "cdata": lambda t: re.sub(
        r"(<style[^>]*>)(.*?)(</style>)", r"\1<![CDATA[\2]]>\3", t, flags=re.DOTALL).encode(),
    "foreign attributes": lambda t: t.replace(
        "<svg ", '<svg xmlns:o="urn:other" o:kept="&lt;é&gt;" ', 1).replace(
        "<path ", "<path o:mine='1' ").encode(),
    "numbers as exponents": lambda t: _numbers(t).encode(),
    "blanks in tags": lambda t: re.sub(r'"(/?)>', r'"  \1>', t).encode(),
    "single quotes": lambda t: re.sub(r'(id|class)="([^"\']*)"', r"\1='\2'", t).encode(),
}  # fmt: skip


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("written", SVG_WAYS)
def test_other_ways_of_writing_svg_stay_theirs(written: str, way: str) -> None:
    before = SVG_WAYS[written](SHORTS.read_text(encoding="utf-8"))
    after = render(WAYS[way](opened("shorts.svg", before)))
    assert told("shorts.svg", before, after)
    found = disturbed("shorts.svg", before, after)
    assert not found, f"wanted nothing else touched, got {found[:6]}"


def _as(version: str) -> Callable[[bytes], bytes]:
    def saved(data: bytes) -> bytes:
        document = ezdxf.read(io.StringIO(data.decode("latin-1")))
        document.dxfversion = version
        out = io.StringIO()
        document.write(out)
        return out.getvalue().encode("latin-1")

    return saved


DXF_WAYS: dict[str, Callable[[bytes], bytes]] = {
    "crlf": lambda d: d.replace(b"\r\n", b"\n").replace(b"\n", b"\r\n"),
    "comments": lambda d: d.replace(b"  0\nLINE", b"999\n kept ; 0 LINE\n  0\nLINE"),
    "codes without blanks": lambda d: re.sub(rb"(?m)^ +(\d+)$", rb"\1", d),
    **{version: _as(version) for version in ("R2000", "R2007", "R2010", "R2018")},
}


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("written", DXF_WAYS)
def test_other_ways_of_writing_dxf_stay_theirs(written: str, way: str) -> None:
    before = DXF_WAYS[written](TROUSERS.read_bytes())
    after = render(WAYS[way](opened("trousers.dxf", before)))
    assert told("trousers.dxf", before, after)
    found = disturbed("trousers.dxf", before, after)
    assert not found, f"wanted nothing else touched, got {found[:6]}"


def _sub(pattern: bytes, by: bytes) -> Callable[[bytes], bytes]:
    def done(data: bytes) -> bytes:
        changed = re.sub(pattern, by, data, count=1)
        assert changed != data, f"{pattern!r} is not in the file"
        return changed

    return done


SPOILED_SVG = {
    "a comment": _sub(rb"<svg", b"<!-- x --><svg"),
    "a line end": _sub(rb"\n", b"\r\n"),
    "a style": _sub(rb"stroke", b"strike"),
    "an id": _sub(rb'id="back-drill', b'id="back_drill'),
    "quotes": _sub(rb'id="([^"]*)"', rb"id='\1'"),
    "a blank in a tag": _sub(rb"/>", b" />"),
    "order of attributes": _sub(rb'(id="[^"]*") (class="[^"]*")', rb"\2 \1"),
    "an element lost": _sub(rb"<circle[^>]*/>", b""),
    "an element twice": _sub(rb"(<circle[^>]*/>)", rb"\1\1"),
    "writing": _sub(rb"cut 2", b"cut 3"),
    "numbers written otherwise": _sub(rb'r="3"', b'r="3.0"'),
    "a rounded point": _sub(rb"(d=\"M ?\d+\.\d+)", rb"\g<1>0"),
}  # fmt: skip
SPOILED_DXF = {
    "a line end": _sub(rb"\n", b"\r\n"),
    "a layer": _sub(rb"\n  8\n1\n", b"\n  8\n2\n"),
    "a block's name": _sub(rb"FRONT", b"FRONTS"),
    "blanks before a code": _sub(rb"\n 10\n", b"\n10\n"),
    "a comment": _sub(rb"  0\nSECTION", b"999\nx\n  0\nSECTION"),
    "writing": _sub(rb"Units: METRIC", b"Units: metric"),
    "numbers written otherwise": _sub(rb"\n 10\n(-?\d+\.\d+)\n", rb"\n 10\n\g<1>0\n"),
    "an entity lost": _sub(rb"  0\nTEXT\n(?:  ? ?\d+\n[^\n]*\n)+?(?=  0\n)", b""),
}


@pytest.mark.parametrize("spoiled", SPOILED_SVG)
def test_the_differ_finds_what_is_spoiled_in_svg(spoiled: str) -> None:
    before = SHORTS.read_bytes()
    after = render(longer(opened("shorts.svg", before)))
    assert not disturbed("shorts.svg", before, after)
    assert disturbed("shorts.svg", before, SPOILED_SVG[spoiled](after)), f"missed {spoiled}"
    assert disturbed("shorts.svg", before, SPOILED_SVG[spoiled](before)), f"missed {spoiled}"


@pytest.mark.parametrize("spoiled", SPOILED_DXF)
def test_the_differ_finds_what_is_spoiled_in_dxf(spoiled: str) -> None:
    before = BARROW.read_bytes()
    after = render(longer(opened("trousers.dxf", before)))
    assert not disturbed("trousers.dxf", before, after)
    assert disturbed("trousers.dxf", before, SPOILED_DXF[spoiled](after)), f"missed {spoiled}"


@pytest.mark.parametrize(
    ("pattern", "by"),
    [
        (rb"(\$HANDSEED\r?\n +5\r?\n)[0-9A-F]+", rb"\g<1>1"),
        (rb"(LWPOLYLINE\r?\n(?:[^\n]*\n)*? 90\r?\n)\d+", rb"\g<1>7"),
    ],
    ids=["the seed of handles", "the count of vertices"],
)
def test_the_differ_finds_counts_that_do_not_fit(pattern: bytes, by: bytes) -> None:
    before = _as("R2010")(TROUSERS.read_bytes())
    after = render(longer(opened("trousers.dxf", before)))
    assert not disturbed("trousers.dxf", before, after)
    assert disturbed("trousers.dxf", before, _sub(pattern, by)(after))
