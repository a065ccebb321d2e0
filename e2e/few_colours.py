"""Writes a screenshot again with few colours, so that a picture kept in the project stays small."""

import base64
import struct
import zlib

from playwright.sync_api import Page

COLOURS = 64
SIGNATURE = b"\x89PNG\r\n\x1a\n"
# The most frequent colours become the palette; every other pixel takes the nearest of them.
REDUCE = """async ([png, most]) => {
  const image = new Image();
  image.src = `data:image/png;base64,${png}`;
  await image.decode();
  const { naturalWidth: width, naturalHeight: height } = image;
  const paint = new OffscreenCanvas(width, height).getContext('2d');
  paint.drawImage(image, 0, 0);
  const pixels = new Uint32Array(paint.getImageData(0, 0, width, height).data.buffer);
  const counts = new Map();
  for (const pixel of pixels) counts.set(pixel, (counts.get(pixel) ?? 0) + 1);
  const parts = (pixel) => [pixel & 255, (pixel >> 8) & 255, (pixel >> 16) & 255];
  const far = (a, b) => a.reduce((sum, part, i) => sum + (part - b[i]) ** 2, 0);
  const palette = [...counts].sort((a, b) => b[1] - a[1]).slice(0, most).map(([pixel]) => parts(pixel));
  const nearest = new Map([...counts.keys()].map((pixel) => {
    const own = parts(pixel);
    return [pixel, palette.reduce((best, _, i) => (far(palette[i], own) < far(palette[best], own) ? i : best), 0)];
  }));
  return { width, height, palette, places: Array.from(pixels, (pixel) => nearest.get(pixel)) };
}"""


def with_few_colours(page: Page, png: bytes) -> bytes:
    """Give the same picture with at most 64 colours; `page` is any page whose policy lets data: images be shown."""
    reduced = page.evaluate(REDUCE, [base64.b64encode(png).decode(), COLOURS])
    width, height, places = reduced["width"], reduced["height"], bytes(reduced["places"])
    rows = b"".join(b"\0" + places[row * width : (row + 1) * width] for row in range(height))
    palette = b"".join(bytes(colour) for colour in reduced["palette"])
    header = struct.pack(">IIBBBBB", width, height, 8, 3, 0, 0, 0)
    parts = ((b"IHDR", header), (b"PLTE", palette), (b"IDAT", zlib.compress(rows, 9)), (b"IEND", b""))
    return SIGNATURE + b"".join(_chunk(kind, body) for kind, body in parts)


def _chunk(kind: bytes, body: bytes) -> bytes:
    return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))
