"""Damaged and hostile files: a sentence that names file and line, never a traceback or a hang."""

from __future__ import annotations

import contextlib

import pytest

from core.errors import FileError
from tests.core.files.svg.build import HEAD, PAGE, read, svg

BOMB = "<!ENTITY a 'ha'>" + "".join(
    f"<!ENTITY {n} '&{m};&{m};&{m};&{m};&{m};&{m};&{m};&{m};&{m};&{m};'>"
    for m, n in zip("abcdefghi", "bcdefghij", strict=True)
)
USE_BOMB = '<path id="u0" d="M0 0h1"/>' + "".join(
    f'<g id="u{k + 1}">' + f'<use href="#u{k}"/>' * 10 + "</g>" for k in range(14)
)


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"", "empty"),
        (b" \n ", "empty"),
        (b"hello", "line 1"),
        (b"\x00\x01\x02", "line 1"),
        (b"\x89PNG\r\n", "line 1"),
        (b"\x1f\x8b\x08\x00", "compressed"),
        (b"<html/>", "not an SVG"),
        (b"<svg xmlns='urn:other'/>", "not an SVG"),
        (svg("<path")[:-6], "line 1"),
        (svg("\n\n<g>")[:-6], "line 3"),
        (svg("<g><path></g>"), "line 1"),
        (svg("<g id='a' id='b'/>"), "line 1"),
        (b"<?xml version='1.0' encoding='johab'?>" + svg(""), "UTF-8"),
        (b"<?xml version='1.0' encoding='nonsense'?>" + svg(""), ""),
        (b"\xff\xfe\x00\x00<\x00\x00\x00", ""),
        (svg("\xff".encode("latin-1").decode("latin-1")).replace(b"\xc3\xbf", b"\xff"), "line 1"),
        (f"<!DOCTYPE svg [{BOMB}]>".encode() + svg("<text>&j;</text>"), "entities"),
        (b'<!DOCTYPE svg [<!ENTITY x SYSTEM "file:///etc/hostname">]>' + svg("<text>&x;</text>"),
         "outside"),
        (svg("<g>" * 5000 + "</g>" * 5000), "256"),
        (svg(USE_BOMB), "copies"),
        (svg('<path d="M0 0L1e300 0"/>'), "100 m"),
        (svg('<path d="M0 0L1e999 0"/>'), "100 m"),
        (svg('<path d="M1e300 0h0"/>'), "100 m"),
        (svg("<g/>\r\n\r<path d='x'/>"), "line 3"),
        (svg('<circle r="1e200"/>'), "circle"),
        (svg('<rect x="NaN" width="5" height="5"/>'), "no length"),
        (svg('<text x="1e300">a</text>'), "100 m"),
        (svg('<path d="nonsense"/>'), "breaks off"),
    ],
)  # fmt: skip
def test_refused_with_a_sentence(data: bytes, words: str) -> None:
    with pytest.raises(FileError) as caught:
        read(data)
    text = str(caught.value)
    assert "test.svg" in text
    assert words in text, f"wanted {words!r} in {text!r}"
    assert text.rstrip().endswith("."), text


def test_a_quadratic_blow_up_is_refused() -> None:
    data = f'<!DOCTYPE svg [<!ENTITY a "{"0 " * 50_000}">]>'.encode()
    with pytest.raises(FileError):
        read(data + svg(f'<path d="M{"&a;" * 5_000}"/>'))


@pytest.mark.parametrize(
    "body",
    [
        '<g id="a"><use href="#a"/></g>',
        '<use id="a" href="#a"/>',
        '<g id="a"><use href="#b"/></g><g id="b"><use href="#a"/></g>',
        '<use href="#nowhere"/>',
        '<use href="other.svg#x"/>',
        "<use/>",
    ],
)
def test_uses_that_lead_nowhere_are_said(body: str) -> None:
    reading = read(svg(body + '<path d="M0 0h1"/>'))
    assert len(reading.shapes) == 1
    assert reading.problems
    assert all("test.svg, line 1" in p for p in reading.problems)


def test_one_bad_shape_does_not_take_the_others_along() -> None:
    reading = read(svg('\n<path d="M0 0h9"/>\n<path d="M0 0h1e300"/><rect width="a" height="b"/>'))
    assert len(reading.shapes) == 1
    assert len(reading.problems) == 2
    assert all("line 3" in p for p in reading.problems)


def test_thousands_of_faults_are_counted_not_listed() -> None:
    reading = read(svg('<path d="M0 0h9x"/>' * 3000))
    assert len(reading.problems) < 50
    assert "2970 more" in reading.problems[-1]


def test_every_cut_of_a_file_is_refused_or_read() -> None:
    data = svg('<g transform="rotate(5)"><path d="M0 0C1 2 3 4 5 6z"/><text x="1">é</text></g>')
    for k in range(len(data) - 1):
        with pytest.raises(FileError):
            read(data[:k])


@pytest.mark.parametrize("k", range(0, 400, 7))
def test_a_flipped_byte_never_ends_in_a_traceback(k: int) -> None:
    path = '<path id="a" d="M0 0A1 2 3 0 1 5 6z"/>'
    data = bytearray(svg(f'<g transform="rotate(5)"><use href="#a"/>{path}</g>' * 2))
    data[k % len(data)] ^= 0x15
    with contextlib.suppress(FileError):
        read(bytes(data))


def test_pictures_are_mentioned() -> None:
    assert any("pictures" in p for p in read(svg('<image href="x.png"/>')).problems)


def test_an_empty_drawing_has_no_shapes() -> None:
    assert read(svg("")).shapes == ()


def test_many_harmless_clones_are_fine() -> None:
    body = '<circle id="c" r="1"/>' + "".join(f'<use href="#c" x="{k}"/>' for k in range(3000))
    assert len(read(f"{HEAD}{PAGE}>{body}</svg>".encode()).shapes) == 3001


def test_clones_of_a_line_too_long_to_read_end_in_a_sentence() -> None:
    """Left out each time, but each time it was work."""
    long = f'<path id="c" d="M0 0{"h1v1" * 35_000}"/>'
    with pytest.raises(FileError, match="lines and curves"):
        read(svg(long + '<use href="#c"/>' * 5000))


@pytest.mark.parametrize(("step", "most"), [("h1v1", 1_000_000), ("q1 2 3 4", 200_000)])
def test_a_path_of_more_steps_than_are_followed_is_left_out_alone(step: str, most: int) -> None:
    reading = read(svg(f'<path d="M0 0{step * (most + 9)}"/><circle r="9"/>'))
    assert len(reading.shapes) == 1
    assert f"more than {most} points" in reading.problems[0]
