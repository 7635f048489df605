"""DXF: a true-scale reader, a writer that exchanges only what was altered, and fresh files.

All geometry is read from our own index of the file's lines: the writer needs that index
anyway to leave every untouched byte alone, and one index keeps both sides of the same
mind about which vertex is which. ezdxf rewrites whole files, so it only helps out with
damaged and binary ones (through_ezdxf.py); it is never imported for a sound plain file.

    pairs     lines to group codes with byte offsets      records   sections, blocks, entities
    polylines, splines, shapes   one entity as geometry   walk      INSERTs, layers, groups
    layers, units   what names and header mean            reader    the whole way in
    biarc     curves as arcs                              splice    the whole way back
    fresh     a clean new file

$EXTMIN and $EXTMAX are left as they are: programs work them out anew when they open a file.
"""

from core.files.dxf.fresh import fresh_dxf
from core.files.dxf.reader import read_dxf
from core.files.dxf.splice import splice_dxf

__all__ = ["fresh_dxf", "read_dxf", "splice_dxf"]
