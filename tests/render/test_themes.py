import re
import shutil
from pathlib import Path

import pytest

from bookgen.render.themes import ThemeError, load_theme, theme_names, themes_folder

TEXT = 4.5  # least contrast of text, WCAG 2.2 success criterion 1.4.3
LINE = 3.0  # and of marks that carry meaning, 1.4.11


def test_chalkline_is_whole() -> None:
    """The default theme loads, and everything it declares is there."""
    theme = load_theme("chalkline")
    assert theme.name == "chalkline"
    assert all(path.is_file() for path in (*theme.styles, *theme.scripts, *theme.files))
    assert all(face.file.is_file() for face in theme.fonts)


def test_an_unknown_theme_names_those_that_are_there() -> None:
    """The message quotes the name asked for and lists the names there are."""
    with pytest.raises(ThemeError, match=r"plumbline is not in themes/; there: .*chalkline"):
        load_theme("plumbline")


def test_a_theme_name_leads_to_no_other_folder() -> None:
    """A name with a path in it is unknown, wherever it would lead."""
    with pytest.raises(ThemeError):
        load_theme("../themes/chalkline")


@pytest.mark.parametrize(
    ("before", "after", "says"),
    [
        ('"css/page.css"', '"css/gone.css"', "css/gone.css is declared"),
        ('package = "font_source_sans_pro"', 'package = "os"', "os is no font package"),
        ('face = "SourceSansProIt"', 'face = "SourceSansWrong"', "has no face SourceSansWrong"),
        ("[light]", "[noon]", "has no light"),
        ("[site]", "[site", "can't be read"),
        ('package = "font_source_sans_pro"', 'package = "font_nowhere"', "font_nowhere is not installed"),
    ],
)
def test_a_wrong_declaration_says_what_to_repair(tmp_path: Path, before: str, after: str, says: str) -> None:
    """Each mistake in theme.toml is told with what is wrong."""
    home = tmp_path / "chalkline"
    shutil.copytree(themes_folder() / "chalkline", home)
    declared = (home / "theme.toml").read_text(encoding="utf-8")
    assert before in declared
    (home / "theme.toml").write_text(declared.replace(before, after), encoding="utf-8")
    with pytest.raises(ThemeError, match=re.escape(says)):
        load_theme("chalkline", tmp_path)


def test_themes_are_found_by_their_declaration(tmp_path: Path) -> None:
    """A folder without theme.toml is no theme."""
    (tmp_path / "empty").mkdir()
    (tmp_path / "whole").mkdir()
    (tmp_path / "whole" / "theme.toml").touch()
    assert theme_names(tmp_path) == ("whole",)


@pytest.mark.parametrize("time", ["light", "dark"])
def test_words_and_marks_stand_out_from_the_page(time: str) -> None:
    """Ink, quiet words and links keep the contrast that WCAG 2.2 AA asks, by day and by night."""
    colours = getattr(load_theme("chalkline"), time)
    for name, least in (("ink", 7.0), ("quiet", TEXT), ("chalk", TEXT), ("edge", LINE)):
        for ground in ("page", "hatch") if name != "edge" else ("page",):
            assert _contrast(colours[name], colours[ground]) >= least, (name, ground)
    assert _contrast(colours["panel-ink"], colours["panel"]) >= 7.0


@pytest.mark.parametrize("word", ["danger", "warning", "caution", "notice"])
def test_signal_words_can_be_read(word: str) -> None:
    """Each signal word stands out from its colour."""
    sheet = (themes_folder() / "chalkline" / "css" / "parts.css").read_text(encoding="utf-8")
    rule = re.search(rf"\.signal-{word} \.signal-word {{ background: (#\w+); color: (#\w+);", sheet)
    assert _contrast(_six(rule[1]), _six(rule[2])) >= TEXT


def _six(colour: str) -> str:
    return colour if len(colour) == 7 else "#" + "".join(sign * 2 for sign in colour[1:])


def _contrast(one: str, other: str) -> float:
    """Contrast ratio of two colours, as WCAG 2.2 defines it."""
    high, low = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def _luminance(colour: str) -> float:
    parts = (int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5))
    red, green, blue = (part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue
