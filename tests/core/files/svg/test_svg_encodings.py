"""Encodings of more than one byte a letter had a file refused."""

from __future__ import annotations

import pytest

from core.curve import Vector
from core.errors import FileError
from tests.core.files.svg.build import HEAD, PAGE, corners, only, read, spliced, with_corner_moved

WAYS = {
    "Shift_JIS": ("cp932", "前身頃 ﾎﾟｹｯﾄ"),
    "EUC-JP": ("euc_jp", "前身頃"),
    "gb2312": ("gbk", "前片 裁2片 镕"),
    "GB18030": ("gb18030", "前片 \U0001fa73"),
    "Big5": ("big5", "前片"),
    "euc-kr": ("cp949", "앞판 똠"),
}


def written(name: str) -> bytes:
    codec, words = WAYS[name]
    body = f'<path d="M10 10H60V90H10Z"/><text x="20" y="40">{words}</text><!-- {words} -->'
    return f'<?xml version="1.0" encoding="{name}"?>\r\n{HEAD}{PAGE}>{body}</svg>'.encode(codec)


@pytest.mark.parametrize("name", WAYS)
def test_a_file_in_an_encoding_of_wide_letters_was_refused(name: str) -> None:
    data = written(name)
    line, text = read(data).shapes
    assert text.text == WAYS[name][1]
    after = spliced(data, 0, with_corner_moved(line.geometry, 2, Vector(0.0, 5.0)))
    assert after == data.replace(b"V90H10Z", b"L60,95L10,90Z")


def test_bytes_that_would_not_come_back_are_refused() -> None:
    """Two spellings of one letter: the file written back would be another."""
    data = written("Shift_JIS").replace(b"<!-- ", b"<!-- \xed\x40\xfa\x5c")
    with pytest.raises(FileError, match="encoding that cannot be read"):
        only(data)


def test_corners_lie_where_they_are_drawn() -> None:
    data = written("gb2312").replace(b"<text", b"<title").replace(b"</text", b"</title")
    assert corners(only(data))[2] == (60.0, 90.0)
