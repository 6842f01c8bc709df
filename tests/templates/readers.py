"""Reads the codes of pictures with decoders that are not ours, as drawn and as the world leaves them.

    readers.py FILE.png...

For each file one line: its name and, for each state of it and each decoder, what was read, as JSON. States: drawn; turned by
90, 180 and 7 degrees; half as large again and a quarter smaller; blurred by one dot; 5 dots in a hundred wrong.
"""

import json
import random
import subprocess
import sys
import tempfile

import zxingcpp
from PIL import Image, ImageFilter

WHITE = 255


def states(picture):
    yield "drawn", picture
    for degrees in (90, 180, 7):
        yield f"turned {degrees}", picture.rotate(degrees, Image.Resampling.BICUBIC, expand=True, fillcolor=WHITE)
    for factor in (1.5, 0.75):
        size = (round(picture.width * factor), round(picture.height * factor))
        yield f"scaled {factor}", picture.resize(size, Image.Resampling.BICUBIC)
    # Standard deviation of one dot.
    yield "blurred", picture.filter(ImageFilter.GaussianBlur(1))
    chance = random.Random(20260511)
    specked = picture.copy()
    dots = specked.load()
    for _ in range(picture.width * picture.height * 5 // 100):
        x, y = chance.randrange(picture.width), chance.randrange(picture.height)
        dots[x, y] = WHITE - dots[x, y]
    # A camera has a lens: single dots are never as sharp in a picture as in memory.
    yield "specked", specked.filter(ImageFilter.MedianFilter(3))


def by_zxing(picture):
    return sorted(code.text for code in zxingcpp.read_barcodes(picture, formats=zxingcpp.BarcodeFormat.QRCode))


def by_zbar(picture):
    with tempfile.NamedTemporaryFile(suffix=".png") as file:
        picture.save(file.name)
        command = ["zbarimg", "-q", "--raw", "-Sdisable", "-Sqrcode.enable", file.name]
        read = subprocess.run(command, capture_output=True, text=True, check=False)
    return sorted(read.stdout.split("\n")[:-1])


for name in sys.argv[1:]:
    picture = Image.open(name).convert("L")
    # A label lies on something: a decoder may look for white beyond its edge.
    around = Image.new("L", (picture.width + 40, picture.height + 40), WHITE)
    around.paste(picture, (20, 20))
    read = [[state, decoder.__name__, decoder(made)] for state, made in states(around) for decoder in (by_zxing, by_zbar)]
    print(json.dumps([name, read]))
