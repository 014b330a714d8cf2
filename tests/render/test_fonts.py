from io import BytesIO
from pathlib import Path

import pytest
from fontTools.ttLib import TTFont

from bookgen.render.fonts import subset_font
from bookgen.render.kept import keep_bytes
from bookgen.render.themes import load_theme

FACES = load_theme("chalkline").fonts
MARKS = "\u215b\u215c\u215d\u215e\u00bc\u00bd\u00be\u2032\u2033\u2044\u00d7\u2212"


@pytest.mark.parametrize("face", FACES, ids=lambda face: f"{face.family} {face.weight} {face.style}")
def test_a_cut_font_holds_what_tape_measures_need(face) -> None:
    """Eighths, primes and the fraction slash are there, and fractions can still be built."""
    font = TTFont(BytesIO(subset_font(face.file, "", None)))
    assert font.flavor == "woff2"
    assert set(map(ord, MARKS)) <= set(font.getBestCmap())
    features = {record.FeatureTag for record in font["GSUB"].table.FeatureList.FeatureRecord}
    assert {"frac", "numr", "dnom", "liga"} <= features
    assert "GPOS" in font  # kerning


def test_only_what_the_book_writes_is_kept() -> None:
    """A letter comes in when the book has it and stays out when it has not."""
    face = FACES[1]
    without = TTFont(BytesIO(subset_font(face.file, "", None))).getBestCmap()
    assert ord("\u0141") not in without
    assert ord("\u0141") in TTFont(BytesIO(subset_font(face.file, "\u0141\u00f3d\u017a", None))).getBestCmap()


def test_a_font_without_the_letter_is_cut_all_the_same() -> None:
    """A character that no face holds is left to the reader's own fonts, not an error."""
    assert subset_font(FACES[0].file, "\u6c34", None)


def test_the_same_characters_give_the_same_bytes_from_the_cache(tmp_path: Path) -> None:
    """Order and repetition don't matter; the cache keeps one file for a font and its characters, while whole."""
    first = subset_font(FACES[0].file, "plum", tmp_path)
    assert subset_font(FACES[0].file, ["ulm", "pp"], tmp_path) == first
    assert subset_font(FACES[0].file, "plum", None) == first
    (kept,) = tmp_path.iterdir()
    keep_bytes(kept, b"from the cache")
    assert subset_font(FACES[0].file, "plum", tmp_path) == b"from the cache"
    kept.write_bytes(b"spoilt")
    assert subset_font(FACES[0].file, "plum", tmp_path) == first


def test_licence_and_copyright_travel_with_the_font() -> None:
    """The cut keeps who made the font and on what terms (OFL 1.1, condition 2), and drops its reserved name."""
    names = TTFont(BytesIO(subset_font(FACES[0].file, "", None)))["name"]
    assert names.getDebugName(0)
    assert "SIL Open Font License" in names.getDebugName(13)
    assert names.getDebugName(4) is None
