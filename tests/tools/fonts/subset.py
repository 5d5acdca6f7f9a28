"""Makes the font files of this folder from the full Source Sans 3, Source Serif 4, Noto Sans and Noto Sans Arabic (needs
fonttools and brotli).

usage: python subset.py FOLDER   where FOLDER holds SourceSans3_400Regular.ttf and so on (searched at any depth)

The licence of the first two reserves the name 'Source' for unmodified copies, so the subsets carry names of our own.
"""

import pathlib
import sys

from fontTools import subset
from fontTools.ttLib import TTFont

# Latin with the accents of European alphabets, Greek letters used in formulas, the signs of the report.
RANGES = [
    (0x20, 0x7E), (0xA0, 0x17F), (0x218, 0x21B), (0x2BB, 0x2BC), (0x2C6, 0x2C7), (0x2D8, 0x2DD), (0x391, 0x3A9),
    (0x3B1, 0x3C9), (0x1E9E, 0x1E9E), (0x2007, 0x200B), (0x2010, 0x2015), (0x2018, 0x201E), (0x2020, 0x2022),
    (0x2026, 0x2026), (0x202F, 0x2030), (0x2032, 0x2033), (0x2039, 0x203A), (0x2044, 0x2044), (0x2060, 0x2060),
    (0x2070, 0x2070), (0x2074, 0x2079), (0x2080, 0x2089), (0x20AC, 0x20AC), (0x2122, 0x2122), (0x2190, 0x2193),
    (0x2212, 0x2212), (0x221A, 0x221A), (0x2248, 0x2248), (0x2260, 0x2260), (0x2264, 0x2265),
]
# Arabic letters with those of Persian, Urdu and the Arabic scripts of West Africa, its figures and punctuation.
ARABIC_RANGES = [(0x20, 0x20), (0xA0, 0xA0), (0x600, 0x6FF), (0x750, 0x77F), (0x8A0, 0x8FF), (0x200C, 0x200F), (0x2066, 0x2069)]
FACES = [
    ("SourceSans3_400Regular", "Tareline Sans", "sans-400"),
    ("SourceSans3_600SemiBold", "Tareline Sans", "sans-600"),
    ("SourceSans3_400Regular_Italic", "Tareline Sans", "sans-400-italic"),
    ("SourceSerif4_400Regular", "Tareline Serif", "serif-400"),
    ("SourceSerif4_600SemiBold", "Tareline Serif", "serif-600"),
    ("SourceSerif4_400Regular_Italic", "Tareline Serif", "serif-400-italic"),
]
ARABIC_FACES = [
    ("NotoSansArabic_400Regular", "Tareline Arabic", "arabic-400"),
    ("NotoSansArabic_600SemiBold", "Tareline Arabic", "arabic-600"),
]
# Further Latin letters and accents, those of African alphabets among them: the first two lack many.
LETTER_RANGES = [(0x180, 0x2AF), (0x300, 0x36F), (0x1E00, 0x1EFF)]
LETTER_FACES = [
    ("NotoSans_400Regular", "Tareline Letters", "letters-400"),
    ("NotoSans_600SemiBold", "Tareline Letters", "letters-600"),
]
FEATURES = ["kern", "liga", "mark", "mkmk", "ccmp", "locl", "tnum", "lnum", "pnum", "init", "medi", "fina", "isol", "rlig", "calt"]


def make(source: pathlib.Path, family: str, name: str, ranges: list[tuple[int, int]]) -> None:
    options = subset.Options()
    options.flavor = "woff2"
    options.layout_features = FEATURES
    options.hinting = False
    options.desubroutinize = True
    options.name_IDs = ["*"]
    font = TTFont(source)
    subsetter = subset.Subsetter(options)
    subsetter.populate(unicodes=[point for low, high in ranges for point in range(low, high + 1)])
    subsetter.subset(font)
    for record in font["name"].names:
        if record.nameID in (1, 4, 16):
            record.string = family
        elif record.nameID == 3:
            record.string = name
        elif record.nameID == 6:
            record.string = "Tareline" + name.title().replace("-", "")
    font.flavor = "woff2"
    font.save(pathlib.Path(__file__).parents[3] / "templates/style/fonts" / f"{name}.woff2")


for faces, ranges in ((FACES, RANGES), (ARABIC_FACES, ARABIC_RANGES), (LETTER_FACES, LETTER_RANGES)):
    for file, family, name in faces:
        make(next(pathlib.Path(sys.argv[1]).rglob(f"{file}.ttf")), family, name, ranges)
