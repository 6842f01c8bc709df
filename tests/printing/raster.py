"""A PWG raster file as a PBM picture, read by CUPS's own library (libcups.so.2) and by nothing of ours.

    raster.py FILE.pwg FILE.pbm

Prints width, height, dots per inch and the page size's name as the library reads them.
"""

import ctypes
import os
import sys

cups = ctypes.CDLL("libcups.so.2")
cups.cupsRasterOpen.restype = ctypes.c_void_p
cups.cupsRasterOpen.argtypes = [ctypes.c_int, ctypes.c_int]
cups.cupsRasterReadHeader2.argtypes = [ctypes.c_void_p, ctypes.c_void_p]
cups.cupsRasterReadPixels.argtypes = [ctypes.c_void_p, ctypes.c_void_p, ctypes.c_uint]
READ = 0


class Header(ctypes.Structure):
    """cups_page_header2_t of cups/raster.h."""

    _fields_ = [
        ("texts", ctypes.c_char * 256),
        ("before_resolution", ctypes.c_uint * 5),
        ("resolution", ctypes.c_uint * 2),
        ("after_resolution", ctypes.c_uint * 22),
        ("width", ctypes.c_uint),
        ("height", ctypes.c_uint),
        ("media_type", ctypes.c_uint),
        ("bits_per_colour", ctypes.c_uint),
        ("bits_per_pixel", ctypes.c_uint),
        ("bytes_per_line", ctypes.c_uint),
        ("colour_order", ctypes.c_uint),
        ("colour_space", ctypes.c_uint),
        ("rest", ctypes.c_ubyte * (1796 - 404)),
    ]


assert ctypes.sizeof(Header) == 1796
source, target = sys.argv[1:]
raster = cups.cupsRasterOpen(os.open(source, os.O_RDONLY), READ)
assert raster, "libcups does not know it as a raster"
header = Header()
assert cups.cupsRasterReadHeader2(raster, ctypes.byref(header)), "libcups reads no page"
assert (header.bits_per_pixel, header.colour_space) == (1, 3), "not one bit a dot, black"
line = ctypes.create_string_buffer(header.bytes_per_line)
with open(target, "wb") as out:
    # In a PBM a 1 is black, as in the raster.
    out.write(b"P4\n%d %d\n" % (header.width, header.height))
    for _ in range(header.height):
        read = cups.cupsRasterReadPixels(raster, line, header.bytes_per_line)
        assert read == header.bytes_per_line, "libcups reads a shorter line"
        out.write(line.raw)
assert not cups.cupsRasterReadHeader2(raster, ctypes.byref(Header())), "a second page"
name = bytes(header.rest)[-64:].split(b"\0")[0].decode()
print(header.width, header.height, header.resolution[0], name)
