"""Makes pwa_assets/fonts from the npm package of Overpass: the letters that we show, and a line box that fits them.

    npm pack @fontsource/overpass@5.3.0 && tar xzf fontsource-overpass-5.3.0.tgz
    python .tools/subset_fonts.py package

Needs fonttools and brotli (pip install 'fonttools[woff]'). The result is committed, so nobody needs this to build or to test.
"""

from __future__ import annotations

import shutil
import sys
from pathlib import Path

from fontTools.subset import Options, Subsetter
from fontTools.ttLib import TTFont

FONTS = Path(__file__).resolve().parent.parent / "pwa_assets" / "fonts"
WEIGHTS = (400, 700)
# Latin-1, and what our sentences use beside it: dashes, quotes, dots, the minus sign, the prime.
LATIN = [*range(0x20, 0x7F), *range(0xA0, 0x100), *map(ord, "ıŒœ–—‘’‚“”„•…′″‹›⁄€−")]
LATIN_EXTENDED_A = [*range(0x100, 0x180)]
SUBSETS = {"latin": ("latin", LATIN), "latin_ext": ("latin-ext", LATIN_EXTENDED_A)}
# Of the 2,000 units of an em. The font's own box leaves more room below the letters than above, so words sit high in a button.
ASCENT, DESCENT = 1900, -500


def subset(source: Path, letters: list[int], target: Path) -> None:
    """Write the letters of one font file, with kerning and figures of equal width."""
    font = TTFont(source)
    options = Options(flavor="woff2", layout_features=["kern", "mark", "mkmk", "ccmp", "locl", "tnum"], hinting=False)
    options.name_IDs = [0, 1, 2, 13, 14]
    subsetter = Subsetter(options)
    subsetter.populate(unicodes=letters)
    subsetter.subset(font)
    font["hhea"].ascent = font["OS/2"].sTypoAscender = font["OS/2"].usWinAscent = ASCENT
    font["hhea"].descent = font["OS/2"].sTypoDescender = DESCENT
    font["OS/2"].usWinDescent = -DESCENT
    font["hhea"].lineGap = font["OS/2"].sTypoLineGap = 0
    font.flavor = "woff2"
    font.save(target)


def main(package: Path) -> None:
    """Make every file of the folder anew, and copy the licence beside them."""
    FONTS.mkdir(exist_ok=True)
    for name, (part, letters) in SUBSETS.items():
        for weight in WEIGHTS:
            target = FONTS / f"overpass_{name}_{weight}.woff2"
            subset(package / "files" / f"overpass-{part}-{weight}-normal.woff2", letters, target)
            print(f"{target.name}: {target.stat().st_size} bytes")
    shutil.copyfile(package / "LICENSE", FONTS / "OFL.txt")


if __name__ == "__main__":
    main(Path(sys.argv[1]))
