import re
import shutil
from dataclasses import replace
from pathlib import Path

import pytest

from bookgen.render.contrast import contrast
from bookgen.render.html import environment
from bookgen.render.themes import Theme, ThemeError, load_theme, theme_names, themes_folder
from tests.render.book_fixture import sample_book
from tests.render.site_fixture import bind_site

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


@pytest.mark.parametrize("name", theme_names(themes_folder()))
@pytest.mark.parametrize("time", ["light", "dark"])
def test_words_and_marks_stand_out_from_the_page(name: str, time: str) -> None:
    """Ink, quiet words and links keep the contrast that WCAG 2.2 AA asks, by day and by night."""
    colours = getattr(load_theme(name), time)
    for part, least in (("ink", 7.0), ("quiet", TEXT), ("chalk", TEXT), ("edge", LINE)):
        for ground in ("page", "hatch") if part != "edge" else ("page",):
            assert contrast(colours[part], colours[ground]) >= least, (part, ground)
    assert contrast(colours["panel-ink"], colours["panel"]) >= 7.0


def test_contrast_is_as_the_standard_defines_it() -> None:
    """Black on white is 21 to 1, a colour on itself 1; #767676 is the palest grey that passes on white (WCAG 2.2)."""
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#17599c", "#17599c") == pytest.approx(1)
    assert contrast("#767676", "#ffffff") >= TEXT > contrast("#777777", "#ffffff")


@pytest.mark.parametrize("word", ["danger", "warning", "caution", "notice"])
def test_signal_words_can_be_read(word: str) -> None:
    """Each signal word stands out from its colour."""
    sheet = (themes_folder() / "chalkline" / "css" / "parts.css").read_text(encoding="utf-8")
    rule = re.search(rf"\.signal-{word} \.signal-word {{ background: (#\w+); color: (#\w+);", sheet)
    assert contrast(_six(rule[1]), _six(rule[2])) >= TEXT


def _six(colour: str) -> str:
    return colour if len(colour) == 7 else "#" + "".join(sign * 2 for sign in colour[1:])


def heir(folder: Path, declared: str = "", **files: str) -> Theme:
    """Return a theme of *folder* that inherits from a copy of chalkline; *files* are templates by their stems."""
    shutil.copytree(themes_folder() / "chalkline", folder / "chalkline", dirs_exist_ok=True)
    home = folder / "heir"
    (home / "templates").mkdir(parents=True)
    (home / "theme.toml").write_text(f'name = "heir"\ninherits = "chalkline"\n{declared}', encoding="utf-8")
    for stem, text in files.items():
        (home / "templates" / f"{stem}.html").write_text(text, encoding="utf-8")
    return load_theme("heir", folder)


def test_an_heir_has_what_it_does_not_say_itself(tmp_path: Path) -> None:
    """Colours that it names are its own, all others and every file are those of the theme it inherits from."""
    theme, above = heir(tmp_path, '[light]\npage = "#ffffff"\n'), load_theme("chalkline", tmp_path)
    assert theme.light == {**above.light, "page": "#ffffff"}
    assert (theme.styles, theme.scripts, theme.fonts, theme.dark) == (
        above.styles, above.scripts, above.fonts, above.dark,
    )  # fmt: skip
    theme.lay_out_print(tmp_path / "print")
    assert {path.name for path in (tmp_path / "print").iterdir()} == {
        path.name for path in (tmp_path / "chalkline" / "print").iterdir()
    }


@pytest.mark.parametrize(
    ("declared", "files", "says"),
    [
        ("", {"chapter": '{% extends "chalkline/chapter.html" %}{% block openning %}{% endblock %}'}, "block openning"),
        ("", {"base": "<main>{{ page.title }}</main>"}, "fills the block"),
        ("", {"chapter": '{% extends "plumbline/chapter.html" %}'}, "plumbline/chapter.html, which is not there"),
        ("", {"chapter": "{% block text %}"}, "chapter.html, line 1"),
        ("[light", {}, "can't be read"),
    ],
)
def test_a_block_that_is_not_there_is_told(tmp_path: Path, declared: str, files: dict[str, str], says: str) -> None:
    """The engine would pass over it in silence; the message names theme, template and block."""
    with pytest.raises(ThemeError, match=re.escape(says)):
        environment(heir(tmp_path, declared, **files))


def test_a_page_without_a_template_is_told(tmp_path: Path) -> None:
    """A theme that stands alone has a template for every page."""
    shutil.copytree(themes_folder() / "chalkline", tmp_path / "chalkline")
    (tmp_path / "chalkline" / "templates" / "upkeep.html").unlink()
    with pytest.raises(ThemeError, match=r"templates/upkeep.html is missing"):
        environment(load_theme("chalkline", tmp_path))


def test_a_theme_is_nobodys_heir_but_anothers(tmp_path: Path) -> None:
    """A circle of themes is told, and so is one that inherits from nothing that is there."""
    for name, above in (("one", "two"), ("two", "one"), ("three", "four")):
        (tmp_path / name).mkdir()
        (tmp_path / name / "theme.toml").write_text(f'name = "{name}"\ninherits = "{above}"\n', encoding="utf-8")
    with pytest.raises(ThemeError, match="inherits from itself: one from two from one"):
        load_theme("one", tmp_path)
    with pytest.raises(ThemeError, match="four is not in"):
        load_theme("three", tmp_path)


def test_a_theme_is_only_appearance(tmp_path: Path) -> None:
    """Page by page the sample says the same words in showroom and in chalkline, in whatever order."""
    said = []
    for name in ("chalkline", "showroom"):
        site = bind_site(replace(sample_book(), theme=name), tmp_path / name)
        said.append({page: sorted(soup.body.get_text(" ").split()) for page, soup in site.pages.items()})
    assert said[0] == said[1]
    sheets = [(tmp_path / name / "assets" / "book.css").read_text("utf-8") for name in ("chalkline", "showroom")]
    assert sheets[0] != sheets[1]
