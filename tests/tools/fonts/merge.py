"""Makes the faces that pictures of documents are drawn in, picture-400 and picture-600, from the files of templates/style/fonts (needs
fonttools and brotli): one face with all alphabets, since the drawing library does not mix faces in a line of Arabic.

usage: python merge.py   after subset.py
"""

import pathlib
import tempfile

import brotli
from fontTools.merge import Merger
from fontTools.ttLib import TTFont

FOLDER = pathlib.Path(__file__).parents[3] / "templates/style/fonts"

for weight in ("400", "600"):
    with tempfile.TemporaryDirectory() as plain:
        paths = []
        for face in ("sans", "letters", "arabic"):
            font = TTFont(FOLDER / f"{face}-{weight}.woff2", recalcTimestamp=False)
            font.flavor = None
            paths.append(f"{plain}/{face}.ttf")
            font.save(paths[-1])
        merged = Merger().merge(paths)
        for record in merged["name"].names:
            if record.nameID in (1, 4, 16):
                record.string = "Tareline Picture"
            elif record.nameID in (3, 6):
                record.string = f"TarelinePicture{weight}"
        # The moment of merging would make other bytes at every run.
        merged["head"].created = merged["head"].modified = TTFont(paths[0])["head"].created
        merged.recalcTimestamp = False
        merged.save(f"{plain}/merged.ttf")
        packed = brotli.compress(pathlib.Path(f"{plain}/merged.ttf").read_bytes(), quality=11)
        (FOLDER / f"picture-{weight}.ttf.br").write_bytes(packed)
