"""Encodings of more than one byte a letter, which the parser of XML does not know: the file is read
in UTF-8 and goes back into its own.

Source: WHATWG, Encoding, 4.2 (which encodings are meant by which names).
"""

from __future__ import annotations

import re

_DECLARED = re.compile(rb"""\s*<\?xml[^>]{0,200}?\sencoding\s*=\s*["']([A-Za-z0-9._-]+)["']""")
# Files that name a smaller set are mostly written in the larger one that holds it.
_CODECS = {
    "shift_jis": "cp932",
    "shift-jis": "cp932",
    "sjis": "cp932",
    "x-sjis": "cp932",
    "windows-31j": "cp932",
    "euc-jp": "euc_jp",
    "gb2312": "gbk",
    "gbk": "gbk",
    "gb18030": "gb18030",
    "big5": "big5",
    "big5-hkscs": "big5hkscs",
    "euc-kr": "cp949",
    "ks_c_5601-1987": "cp949",
}


def wide_codec(data: bytes) -> str:
    """The Python codec of a file in such an encoding; "" for any other, and where the file would
    not come back byte for byte."""
    found = _DECLARED.match(data)
    codec = _CODECS.get(found[1].decode("ascii").lower(), "") if found else ""
    if not codec:
        return ""
    try:
        return codec if data.decode(codec).encode(codec) == data else ""
    except UnicodeError:
        return ""


def in_utf8(data: bytes, codec: str) -> bytes:
    """The file in UTF-8, whatever its declaration goes on saying."""
    return data.decode(codec, "replace").encode("utf-8") if codec else data


def in_own(data: bytes, codec: str) -> bytes:
    """Such a file in its own encoding again; what that cannot say, as character references."""
    return data.decode("utf-8").encode(codec, "xmlcharrefreplace") if codec else data
