"""Clip paths and frames: what they hide is read and said, and no longer piece goes behind one."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from core.alter.model import Change
from core.alter.together import alter_together
from core.files import Drawing, read_bytes, render
from tests.core.files.svg.people import LEG, svg

BY = 60.0
# The leg goes from y 50 to 600 and is 60 mm longer then; a clip gets 5 mm of room.
PATH = f'<path id="front" d="{LEG}"/>'
RECT = '<rect x="0" y="0" width="600" height="610"/>'


def clipped(clip: str, *, on: str = 'clip-path="url(#c)"', before: str = "") -> bytes:
    defs = f'{before}<defs><clipPath id="c">{clip}</clipPath></defs>'
    return svg(f"{defs}<g {on}>{PATH}</g>")


def longer(data: bytes, which: int = 0) -> tuple[Drawing, bytes]:
    old = read_bytes(Path("leg.svg"), data, mm_per_unit=None)
    done = alter_together([old.pieces[which]], Change(BY))
    return old, render(old.with_pieces(a.piece for a in done))


def unclipped(text: bytes) -> bytes:
    """Without the leg's own data, which is to change."""
    return re.sub(rb' d="M 100 50[^"]*"', b"", text)


@pytest.mark.parametrize(
    ("clip", "wanted"),
    [
        (RECT, '<rect x="0" y="0" width="600" height="665"/>'),
        ('<rect width="100%" height="610"/>', '<rect width="600" height="665" x="0" y="0"/>'),
        ('<path d="M0 0L600 0L600 610L0 610Z M0 0"/>', '<path d="M0 0H600V665H0Z"/>'),
        ('<polygon points="0,0 600,0 600,610 0,610"/>',
         '<polygon points="0,0 600,0 600,665 0,665 0,0"/>'),
        ('<rect transform="scale(2)" width="300" height="305"/>',
         '<rect transform="scale(2)" width="300" height="332.5" x="0" y="0"/>'),
        ('<rect transform="rotate(90)" y="-600" width="610" height="600"/>',
         '<rect transform="rotate(90)" y="-600" width="665" height="600" x="0"/>'),
    ],
)  # fmt: skip
def test_a_rectangle_grows_with_the_piece_and_nothing_else_changes(clip: str, wanted: str) -> None:
    data = clipped(clip)
    old, after = longer(data)
    assert not any("clip path" in p for p in old.problems)
    assert unclipped(after) == unclipped(data).replace(clip.encode(), wanted.encode())


@pytest.mark.parametrize(
    ("on", "before"),
    [
        ('style="fill:none;clip-path:url(#c)"', ""),
        ('class="k"', "<style>.k { clip-path: url('#c'); }</style>"),
        ('clip-path="url( &quot;#c&quot; )"', ""),
    ],
)
def test_a_clip_path_by_style_and_class(on: str, before: str) -> None:
    assert b'height="665"' in longer(clipped(RECT, on=on, before=before))[1]


@pytest.mark.parametrize(
    ("clip", "on"),
    [
        ('<rect width="600" height="700"/>', 'clip-path="url(#c)"'),
        (RECT, ""),
        (RECT, 'clip-path="none"'),
        (RECT, 'clip-path="url(#nowhere)"'),
        (RECT, 'clip-path="url(#front)"'),
        ('<rect width="-5" height="oops"/>', 'clip-path="url(#c)"'),
        ("", 'clip-path="url(#c)"'),
    ],
)
def test_a_clip_that_hides_nothing_stays(clip: str, on: str) -> None:
    data = clipped(clip, on=on)
    assert unclipped(longer(data)[1]) == unclipped(data)


def test_a_clip_in_shares_of_what_it_clips_grows_by_itself() -> None:
    share = '<clipPath id="c" clipPathUnits="objectBoundingBox"><rect width="1" height="1"/>'
    data = clipped(RECT).replace(f'<clipPath id="c">{RECT}'.encode(), share.encode())
    old, after = longer(data)
    assert unclipped(after) == unclipped(data)
    assert not any("clip path" in p for p in old.problems)


@pytest.mark.parametrize(
    ("clip", "words"),
    [
        (f'<path d="{LEG}"/>', "shows only within a clip path"),
        ('<rect width="600" height="610" rx="5"/>', "shows only within a clip path"),
        ('<rect width="600" height="400"/>', "a clip path cuts this outline"),
        ('<circle cx="200" cy="300" r="99"/>', "a clip path cuts this outline"),
    ],
)
def test_a_clip_that_cannot_grow_is_said_and_stays(clip: str, words: str) -> None:
    data = clipped(clip)
    old, after = longer(data)
    told = [p for p in old.problems if words in p]
    assert len(told) == 1, f"wanted {words!r} once in {old.problems}"
    assert told[0].startswith("leg.svg, line 2")
    assert unclipped(after) == unclipped(data)


def test_what_a_clip_holds_is_no_shape() -> None:
    assert len(read_bytes(Path("leg.svg"), clipped(RECT), mm_per_unit=None).shapes) == 1


FRAME = '<svg width="600" height="610">'


@pytest.mark.parametrize(
    ("frame", "wanted"),
    [
        (FRAME, '<svg width="600" height="610" overflow="visible">'),
        (FRAME.replace("<svg", '<svg overflow="hidden"'),
         '<svg overflow="visible" width="600" height="610">'),
        ('<svg width="600" height="610" style="fill:red;overflow: hidden">',
         '<svg width="600" height="610" style="fill:red;overflow:visible">'),
        ('<svg width="600" height="610" overflow="visible">',
         '<svg width="600" height="610" overflow="visible">'),
        ('<svg width="600" height="700">', '<svg width="600" height="700">'),
    ],
)  # fmt: skip
def test_a_nested_page_does_not_hide_the_longer_piece(frame: str, wanted: str) -> None:
    data = svg(f"{frame}{PATH}</svg>")
    after = longer(data)[1]
    assert unclipped(after) == unclipped(data).replace(frame.encode(), wanted.encode())


def test_a_frame_that_hides_a_part_is_said() -> None:
    data = svg(f'<svg width="600" height="400">{PATH}</svg>')
    old, after = longer(data)
    assert sum("hides a part" in p for p in old.problems) == 1
    assert unclipped(after) == unclipped(data)


SYMBOL = f'<symbol id="s" viewBox="0 0 400 610">{PATH}</symbol>'
USE = '<use href="#s" width="400" height="610"/>'


def test_a_symbol_drawn_once_does_not_hide_the_longer_piece() -> None:
    data = svg(SYMBOL + USE)
    wanted = b'viewBox="0 0 400 610" overflow="visible">'
    after = longer(data)[1]
    assert unclipped(after) == unclipped(data).replace(b'viewBox="0 0 400 610">', wanted)


def test_a_shared_symbol_stays_and_its_copy_hides_nothing() -> None:
    data = svg(SYMBOL + USE + USE.replace("<use", '<use x="180"'))
    after = longer(data, 1)[1]
    assert SYMBOL.encode() in after
    assert b"overflow" not in after


def test_a_nested_page_in_a_shared_group_opens_in_the_copy_alone() -> None:
    group = f'<g id="g">{FRAME}{PATH}</svg></g>'
    data = svg(f'<defs>{group}</defs><use href="#g"/><use href="#g" x="200"/>')
    after = longer(data, 1)[1]
    assert group.encode() in after
    assert after.count(b'overflow="visible"') == 1
