"""DXF: a true-scale reader, a writer that exchanges only what was altered, and fresh files.

All geometry is read from our own index of the file's lines: the writer needs that index
anyway to leave every untouched byte alone, and one index keeps both sides of the same
mind about which vertex is which. ezdxf rewrites whole files, so it only helps out with
damaged ones, with fresh ones, with SPLINEs that have fit points only, and with
MTEXT formatting (through_ezdxf.py); other files are read and written without it.

    pairs, records       lines to group codes with byte offsets; sections, blocks, entities
    binary               a binary file as text, and back to the same bytes
    polylines, splines, shapes, paths        one entity as geometry in mm
    walk, layers, units  INSERTs followed; what layer names and header mean
    reader, source       the whole way in, and the index it leaves for the writer
    biarc, legs          an altered path as arcs and lines in the file's own coordinates
    bytes_out, write_polyline, write_single, write_curve    one entity on the way back
    new_polyline, new_mark, write_blocks, splice    new records, copied blocks, the whole file
    follow, base_lines, vertex_points, validation, smooth, notch_turn    what must follow a line
    fresh, new_drawing   a clean new file
    details, own_words   what goes across to other kinds of file beside the geometry

In sewn-products interchange an altered line takes its turn and curve points along, gets new
ones at new vertices, and its dense copies on layers 84 to 87 are made afresh along the smooth
curve through the curve points; a notch with an angle turns with its line. $EXTMIN and
$EXTMAX are left as they are: programs work them out anew when they open a file.
"""

from core.files.dxf.fresh import fresh_dxf
from core.files.dxf.reader import read_dxf
from core.files.dxf.splice import splice_dxf

__all__ = ["fresh_dxf", "read_dxf", "splice_dxf"]
